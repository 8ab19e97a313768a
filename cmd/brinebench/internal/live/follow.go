package live

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"brinebench/game/class"
	"brinebench/sim"
)

// follow is an attempt that is followed.
type follow struct {
	*sim.Follower
	class   int64
	acts    int
	weighed int // what had been had as of the belief, by had
	insight class.Insight
	best    float64 // belief so far
	bestAt  int     // readings that had been had then
	usedMS  int64   // when its adviser last worked
	rested  bool
	foul    bool
}

// keepUp lives on with every attempt of the classes that are watched, as far as its acts
// are here. It reports whether there was anything new.
func (t *Tracker) keepUp(ctx context.Context) (worked bool) {
	seen := map[key]bool{}
	for _, id := range t.classesWatched() {
		attempts, err := t.store.Attempts(ctx, id)
		if err != nil {
			t.fail(ctx, "attempts", err)
			return false
		}
		for i := range attempts {
			a := &attempts[i]
			k := key{a.Member, a.Drill}
			seen[k] = true
			if a.Status == class.Refused || a.Status == class.Unscored || !t.behind(a) {
				continue
			}
			if !t.guarded("follow", k, func() { worked = t.catchUp(ctx, id, a) || worked }) {
				t.giveUp(k)
			}
		}
	}
	for k := range t.follows {
		if !seen[k] {
			delete(t.follows, k)
		}
	}
	t.forget(seen)
	return worked
}

// giveUp follows an attempt no more that the engine fails at.
func (t *Tracker) giveUp(k key) {
	t.drop(k.drill)
	t.follows[k] = &follow{foul: true, rested: true}
}

// forget lets go of what was known of attempts that nobody looks at.
func (t *Tracker) forget(seen map[key]bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for k := range t.insights {
		if !seen[k] {
			delete(t.insights, k)
		}
	}
}

// behind reports whether an attempt has come further than it was followed.
func (t *Tracker) behind(a *class.Attempt) bool {
	f := t.follows[key{a.Member, a.Drill}]
	if f == nil {
		return a.Acts > 0
	}
	return !f.foul && (a.Acts > f.acts || a.Ticks > f.Session().Ticks())
}

// catchUp lives through the acts of an attempt that are new, and as far as its page says
// that it has come: an act under way comes to its end.
func (t *Tracker) catchUp(ctx context.Context, classID int64, a *class.Attempt) bool {
	k := key{a.Member, a.Drill}
	f, err := t.followed(ctx, classID, k)
	if err != nil || f == nil || f.foul {
		t.fail(ctx, "follow", err)
		return false
	}
	acts, err := t.store.Acts(ctx, k.member, k.drill, f.acts)
	if err != nil {
		t.fail(ctx, "acts", err)
		return false
	}
	budget, due := int64(turnTicks), true
	for i := range acts {
		if due = f.runTo(ctx, acts[i].Tick, &budget); !due {
			break
		}
		if err := f.Do(acts[i].LogAct); err != nil {
			f.foul = true
			if a.Engine == sim.Engine { // of another one it is told when it is handed in
				t.refuse(ctx, f.class, a, fmt.Sprintf("act %d: %v", acts[i].Seq, err))
			}
			return true
		}
		f.acts++
	}
	if due {
		f.runTo(ctx, a.Ticks, &budget)
	}
	f.look()
	t.tell(k, f.insight)
	return true
}

// runTo lives on to a tick in slices, and reports whether it has come there: it stops when
// its turn is over, or the program ends.
func (f *follow) runTo(ctx context.Context, tick int64, budget *int64) bool {
	for now := f.Session().Ticks(); now < tick; now = f.Session().Ticks() {
		if *budget <= 0 || ctx.Err() != nil {
			return false
		}
		if f.RunTo(min(tick, now+sliceTicks)) != nil {
			return true // the act tells it again
		}
		*budget -= sliceTicks
	}
	return true
}

// followed finds the follower of an attempt, or begins one; nil for a drill that is no
// call, and where there are too many.
func (t *Tracker) followed(ctx context.Context, classID int64, k key) (*follow, error) {
	if f := t.follows[k]; f != nil {
		return f, nil
	}
	d, err := t.store.Drill(ctx, k.drill)
	if err != nil || d.Kind != class.Call || len(t.follows) >= maxFollowers {
		return nil, err
	}
	a, err := t.assessor(ctx, &d)
	if err != nil {
		return nil, err
	}
	f := &follow{Follower: a.Follow(), class: classID, rested: true}
	t.follows[k] = f
	return f, nil
}

// look takes from the call what the board shows.
func (f *follow) look() {
	s := f.Session()
	var v sim.View
	s.View(&v)
	c := s.Call()
	x := &f.insight
	x.Acts, x.Minutes, x.Doing, x.Position = f.acts, c.Minutes, c.BusyText, ""
	if st := s.Setup().Stations; v.Controller.Station < len(st) {
		x.Position = st[v.Controller.Station].Name
	}
	x.Readings, x.Unsafe, x.Mistakes, x.Told, x.Warned, x.Named = 0, 0, nil, "", false, ""
	for i := range c.Journal {
		f.note(&c.Journal[i])
	}
}

// note takes a line of the journal into account.
func (f *follow) note(e *sim.Entry) {
	x := &f.insight
	add := func(what string, act sim.ActionKind) {
		if slip := (class.Slip{What: what, Act: act}); !slices.Contains(x.Mistakes, slip) {
			x.Mistakes = append(x.Mistakes, slip)
		}
	}
	if e.Reading != nil {
		x.Readings++
	}
	if e.Text != "" { // what is under way has none yet
		x.Told, x.Warned = e.Text, e.Unsafe
	}
	if e.Action.Kind == sim.ActDiagnose && e.Text != "" {
		x.Named, x.Right = e.Action.ID, class.Right(e.Action.ID, f.Truth())
	}
	switch {
	case e.Unsafe:
		x.Unsafe++
		add(class.UnsafeMistake+e.Text, e.Action.Kind)
	case e.Needless:
		add("needless: "+e.Text, "")
	case e.Action.Kind == sim.ActDiagnose && !class.Right(e.Action.ID, f.Truth()):
		add("named: "+namesOf(e.Action.ID), "")
	}
}

// namesOf are the names of the causes that a verdict holds.
func namesOf(verdict string) string {
	var names []string
	for _, id := range sim.VerdictIDs(verdict) {
		names = append(names, sim.FaultName(id))
	}
	return strings.Join(names, "; ")
}

// weighOne works out the belief of that attempt which has waited longest for it, and
// reports whether there was one. Of those with an adviser the longest unused rests when
// there are too many: it has to live through its call again.
func (t *Tracker) weighOne() bool {
	var next *follow
	var nextKey key
	behind := int64(0)
	for k, f := range t.follows {
		if f.foul || f.weighed >= f.had() {
			continue
		}
		behind++
		if next == nil || f.usedMS < next.usedMS || f.usedMS == next.usedMS && k.member < nextKey.member {
			next, nextKey = f, k
		}
	}
	t.Behind.Store(behind)
	if next == nil {
		return false
	}
	t.makeRoom(next)
	next.usedMS, next.rested = t.nowMS(), false
	if !t.guarded("weigh", nextKey, next.weigh) {
		t.giveUp(nextKey)
		return true
	}
	t.tell(nextKey, next.insight)
	return true
}

// had counts what can move the belief: lines of the journal, and readings, which come when
// the test is over.
func (f *follow) had() int { return len(f.Session().Call().Journal) + f.insight.Readings }

// weigh asks the adviser.
func (f *follow) weigh() {
	const rise = 0.02
	x := &f.insight
	x.Belief, x.Weighed, f.weighed = f.Belief(), f.acts, f.had()
	if x.Belief > f.best+rise {
		f.best, f.bestAt = x.Belief, x.Readings
	}
	x.Dull = x.Readings - f.bestAt
}

func (t *Tracker) makeRoom(keep *follow) {
	awake := 0
	var oldest *follow
	for _, f := range t.follows {
		if f.rested || f == keep {
			continue
		}
		awake++
		if oldest == nil || f.usedMS < oldest.usedMS {
			oldest = f
		}
	}
	if awake >= maxAdvisers {
		oldest.Rest()
		oldest.rested = true
	}
}
