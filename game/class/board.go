package class

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"brinebench/sim"
)

// Insight is what the engine tells of an attempt that is followed.
type Insight struct {
	Acts     int     // as of which this is so
	Belief   float64 // in the true cause by the readings so far, 0..1
	Weighed  int     // acts as of which Belief is so
	Readings int     // that were had
	Dull     int     // readings since the belief last rose
	Position string  // of the drum
	Doing    string  // the act under way, "" for none
	Minutes  float64 // of the call
	Unsafe   int     // acts that were stopped, and mishaps
	Mistakes []Slip  // each once
	Told     string  // the last line of the journal
	Warned   bool    // that line warns: the act was stopped as unsafe, or it is a mishap
	Named    string  // id of the last verdict, "" for none
	Right    bool    // it names all that is wrong and nothing else
}

// Slip is something that was done wrong.
type Slip struct {
	What string         // its kind, "unsafe", "needless", "named" or one of SlipKinds, and after a colon what
	Act  sim.ActionKind // what was unsafe; "" of other kinds
}

// State is what a trainee on the board is at.
type State string

// The states, the most urgent last.
const (
	Joined  State = "joined" // has begun nothing
	Done    State = "done"   // with all drills
	Ready   State = "ready"  // has handed one in, and others are left
	Working State = "working"
	Halted  State = "halted" // is under way, and the class is frozen or over
	Idle    State = "idle"   // has done nothing for IdleMS
	Stuck   State = "stuck"  // reads and reads, and is no nearer to the cause
	Away    State = "away"   // nothing comes from the page
	Foul    State = "refused"
	Lost    State = "unscored" // the server cannot score it
)

// When a trainee counts as idle, away or stuck: our choice.
const (
	IdleMS    = 180_000
	AwayMS    = 30_000
	stuckDull = 5
	stuckMost = 0.5 // belief
)

// Row is a trainee on the board, at the drill they last did something in.
type Row struct {
	Member   int64             `json:"member"`
	Nickname string            `json:"nickname"`
	Out      bool              `json:"out"`
	State    State             `json:"state"`
	Drill    int64             `json:"drill"` // 0 for none yet
	Acts     int               `json:"acts"`
	Last     string            `json:"last"`   // kind and object of the last act
	Told     string            `json:"told"`   // it as the journal tells it, "" while it is not known
	Warned   bool              `json:"warned"` // Told is a warning
	LastMS   int64             `json:"lastAt"`
	Minutes  float64           `json:"minutes"`
	Position string            `json:"position"`
	Doing    string            `json:"doing"`
	Belief   *float64          `json:"belief"`   // nil while it is not known
	Unsafe   int               `json:"unsafe"`   // in all drills
	Named    string            `json:"named"`    // id of the last verdict, "" for none
	Right    bool              `json:"right"`    // of that verdict
	Answered int               `json:"answered"` // of a drill that is no call: so many …
	Asked    int               `json:"asked"`    // … of so many
	Why      string            `json:"why"`      // refused, or not scored: a refusal as it is kept
	Begun    []int64           `json:"begun"`    // drills with something done in them
	Closed   []int64           `json:"closed"`   // of these, those that are handed in, or refused
	Marking  []int64           `json:"marking"`  // and those that are to be scored, or handed in first: work has stopped
	Scores   map[int64]float64 `json:"scores"`
	Rights   map[int64]bool    `json:"rights"` // of calls that are scored, whether the verdict is right
}

// Mistake is one that several may have made.
type Mistake struct {
	What   string  `json:"what"`
	Act    string  `json:"act,omitempty"` // what was unsafe: the kind of act, on the wall its Hazard
	Who    []int64 `json:"who"`           // the members who made it
	Drills []int64 `json:"drills"`        // in which it was made
}

// Watched is all that a board is made of.
type Watched struct {
	Class    Class
	Drills   []Drill // their bodies are not looked at
	Members  []Member
	Attempts []Attempt
	Results  []Result
	Insight  func(member, drill int64) (Insight, bool)
}

// minute is of ticks.
const ticksPerMinute = 240

// Board makes the rows of a class, in the order people joined.
func Board(w *Watched, nowMS int64) []Row {
	rows := make([]Row, len(w.Members))
	place := map[int64]*Row{}
	for i, m := range w.Members {
		rows[i] = Row{Member: m.ID, Nickname: m.Nickname, Out: m.Out, State: Joined, Scores: map[int64]float64{}, Rights: map[int64]bool{}}
		place[m.ID] = &rows[i]
	}
	results := map[pair]*Result{}
	for i := range w.Results {
		results[pair{w.Results[i].Member, w.Results[i].Drill}] = &w.Results[i]
	}
	present := map[int64]*Attempt{}
	for i := range w.Attempts {
		a := &w.Attempts[i]
		if row := place[a.Member]; row != nil {
			row.list(a, w.Class.Over(nowMS))
			row.Unsafe += w.unsafe(a, results[pair{a.Member, a.Drill}])
		}
		if before := present[a.Member]; before == nil || a.LastMS >= before.LastMS {
			present[a.Member] = a
		}
	}
	for i, m := range w.Members {
		row := &rows[i]
		a := present[m.ID]
		if a != nil {
			row.fill(a, w.Insight)
		}
		row.State = stateOf(a, m, w, nowMS)
	}
	for i := range w.Results {
		if row := place[w.Results[i].Member]; row != nil {
			row.score(&w.Results[i])
		}
	}
	return rows
}

// list notes how far an attempt has come.
func (r *Row) list(a *Attempt, over bool) {
	if a.Touched() {
		r.Begun = append(r.Begun, a.Drill)
		if a.Standing(over) == Marking {
			r.Marking = append(r.Marking, a.Drill)
		}
	}
	if a.Status != Going {
		r.Closed = append(r.Closed, a.Drill)
	}
}

// unsafe counts the acts of an attempt that were stopped, and mishaps: as its result has it,
// or else as far as it was followed.
func (w *Watched) unsafe(a *Attempt, result *Result) int {
	if result != nil && result.ofCall() {
		return result.Unsafe
	}
	x, _ := w.Insight(a.Member, a.Drill)
	return x.Unsafe
}

// ofCall reports whether a result is a call's.
func (x *Result) ofCall() bool { return x.Minutes > 0 }

// score takes a result: of the present drill it tells more than its score.
func (r *Row) score(x *Result) {
	r.Scores[x.Drill] = x.Score
	if !x.ofCall() {
		return
	}
	r.Rights[x.Drill] = x.Right
	if x.Drill == r.Drill {
		r.Minutes, r.Named, r.Right = x.Minutes, x.Named, x.Right
	}
}

func (r *Row) fill(a *Attempt, insight func(member, drill int64) (Insight, bool)) {
	r.Drill, r.Acts, r.Last, r.LastMS, r.Why = a.Drill, a.Acts, a.Last, a.LastMS, a.Why
	r.Minutes, r.Answered, r.Asked = float64(a.Ticks)/ticksPerMinute, a.Answered, a.Asked
	if x, ok := insight(a.Member, a.Drill); ok {
		r.Position, r.Doing, r.Told, r.Warned = x.Position, x.Doing, x.Told, x.Warned
		r.Minutes, r.Named, r.Right = x.Minutes, x.Named, x.Right
		if x.Weighed > 0 {
			r.Belief = &x.Belief
		}
	}
}

func stateOf(a *Attempt, m Member, w *Watched, nowMS int64) State {
	switch {
	case a != nil && a.Status == Refused:
		return Foul
	case a != nil && a.Status == Unscored:
		return Lost
	case a != nil && a.Status != Going && (w.Class.Over(nowMS) || w.finished(m.ID)):
		return Done
	case a != nil && a.Status != Going: // its page, which shows how it went, tells no more
		return Ready
	case w.Class.EndMS == 0 && nowMS-m.SeenMS > AwayMS:
		return Away
	case a == nil:
		return Joined
	case w.Class.Frozen || w.Class.Over(nowMS):
		return Halted
	}
	x, ok := w.Insight(a.Member, a.Drill)
	switch {
	case ok && x.Dull >= stuckDull && x.Belief < stuckMost:
		return Stuck
	case nowMS-a.LastMS > IdleMS:
		return Idle
	}
	return Working
}

// finished reports whether a member has handed in all their drills.
func (w *Watched) finished(member int64) bool {
	left := 0
	for i := range w.Drills {
		if w.Drills[i].For(member) {
			left++
		}
	}
	for i := range w.Attempts {
		if w.Attempts[i].Member == member && w.Attempts[i].Status != Going {
			left--
		}
	}
	return left <= 0
}

// Mistakes counts who made which mistake, the commonest first.
func Mistakes(w *Watched) []Mistake {
	list := []Mistake{}
	for slip, t := range tallies(w) {
		list = append(list, t.mistake(slip.What, string(slip.Act)))
	}
	return commonest(list)
}

// commonest sorts mistakes.
func commonest(list []Mistake) []Mistake {
	slices.SortFunc(list, func(a, b Mistake) int {
		return cmp.Or(len(b.Who)-len(a.Who), strings.Compare(a.What, b.What), strings.Compare(a.Act, b.Act))
	})
	return list
}

// UnsafeMistake begins a Mistake.What that was an act stopped as unsafe, or a mishap.
const UnsafeMistake = "unsafe: "

// tally is who has made a mistake, and in which drills: whoever makes it in two is one.
type tally struct{ members, drills map[int64]bool }

func newTally() tally { return tally{map[int64]bool{}, map[int64]bool{}} }

func (t *tally) mistake(what, act string) Mistake {
	return Mistake{what, act, slices.Sorted(maps.Keys(t.members)), slices.Sorted(maps.Keys(t.drills))}
}

// tallies are those of all mistakes that were made.
func tallies(w *Watched) map[Slip]tally {
	all := map[Slip]tally{}
	count := func(member, drill int64, list []Slip) {
		for _, slip := range list {
			if _, known := all[slip]; !known {
				all[slip] = newTally()
			}
			all[slip].members[member], all[slip].drills[drill] = true, true
		}
	}
	for i := range w.Attempts {
		a := &w.Attempts[i]
		x, _ := w.Insight(a.Member, a.Drill)
		count(a.Member, a.Drill, x.Mistakes)
	}
	kinds := map[int64]Kind{}
	for i := range w.Drills {
		kinds[w.Drills[i].ID] = w.Drills[i].Kind
	}
	for i := range w.Results {
		r := &w.Results[i]
		count(r.Member, r.Drill, slips(kinds[r.Drill], r.Report))
	}
	return all
}
