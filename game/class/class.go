// Package class is the classroom: a class and its drills, its members, what they do
// and what comes of it. It has no input or output; times are milliseconds since 1970 UTC.
package class

import (
	"fmt"
	"slices"

	"brinebench/sim"
)

// Class is one class of an instructor.
type Class struct {
	ID       int64  `json:"id"`
	Name     string `json:"name"`
	Code     string `json:"code"` // to join by
	MadeMS   int64  `json:"made"`
	Locked   bool   `json:"locked"`   // nobody new may join
	Frozen   bool   `json:"frozen"`   // all are to stop and look up
	FrozenMS int64  `json:"frozenAt"` // when that was said last
	DueMS    int64  `json:"due"`      // when time is up; 0 for never
	EndMS    int64  `json:"ended"`    // when the instructor ended it; 0 while it goes on
}

// GraceMS is how long after a class's end, a freeze or the time that is up acts are still
// taken that were done before.
const GraceMS = 120_000

// Open reports whether acts are taken.
func (c *Class) Open(nowMS int64) bool { return c.EndMS == 0 || nowMS <= c.EndMS+GraceMS }

// Halted tells why nothing new is taken for the time being, nil where it is: the class is
// frozen, or its time is up. Acts carry no time of their own.
func (c *Class) Halted(nowMS int64) error {
	switch {
	case c.Frozen && nowMS > c.FrozenMS+GraceMS:
		return &Refusal{Frozen, "the class is frozen"}
	case c.DueMS != 0 && nowMS > c.DueMS+GraceMS:
		return &Refusal{Late, "the time is up"}
	}
	return nil
}

// ToldMS is when it is told of the class's exams what they were and how they went: when
// nothing more is taken that could follow from it. 0 while the class goes on.
func (c *Class) ToldMS() int64 {
	if c.EndMS == 0 {
		return 0
	}
	return c.EndMS + GraceMS + 1
}

// Told reports whether that is so.
func (c *Class) Told(nowMS int64) bool { return c.EndMS != 0 && nowMS >= c.ToldMS() }

// Kind is what a drill asks for.
type Kind string

// The kinds of drill.
const (
	Call     Kind = "call"     // Ref: a scenario's id
	Sequence Kind = "sequence" // Ref: a bench's id
	Sizing   Kind = "sizing"   // Ref: a job's name, or empty for one drawn by the seed
)

// Drill is one task of a class.
type Drill struct {
	ID     int64  `json:"id"`
	Class  int64  `json:"class"`
	Place  int    `json:"place"` // in the class, from 1
	Kind   Kind   `json:"kind"`
	Ref    string `json:"ref"`
	Title  string `json:"title"`
	Seed   uint64 `json:"seed,string"`
	Exam   bool   `json:"exam"`   // what it is and how it went is told at the end only
	Member int64  `json:"member"` // who alone is to do it; 0 for all
	Body   []byte `json:"-"`      // the scenario or job, JSON, without its name where it is an exam

	Titles map[string]string `json:"titles,omitempty"` // a call's title in other languages, by their tags; not kept with it
}

// For reports whether a drill is for a member.
func (d *Drill) For(member int64) bool { return d.Member == 0 || d.Member == member }

// Member is a trainee in a class.
type Member struct {
	ID       int64  `json:"id"`
	Class    int64  `json:"class"`
	Nickname string `json:"nickname"`
	JoinedMS int64  `json:"joined"`
	SeenMS   int64  `json:"seen"` // when something last came from them
	Out      bool   `json:"out"`  // sent out by the instructor
}

// Status is how far an attempt has come.
type Status string

// The states of an attempt.
const (
	Going    Status = "going"
	Handed   Status = "handed"   // closed by the trainee, not yet scored
	Scored   Status = "scored"   // by this server
	Refused  Status = "refused"  // the log cannot have come about as it says
	Unscored Status = "unscored" // nobody is to blame: Why tells what kept the server from scoring it
)

// Attempt is one member at one drill.
type Attempt struct {
	Member   int64  `json:"member"`
	Drill    int64  `json:"drill"`
	Epoch    int64  `json:"epoch"` // counts the devices that took it up; only the last may write
	OpenedMS int64  `json:"opened"`
	Acts     int    `json:"acts"`  // that are kept
	Ticks    int64  `json:"ticks"` // of the call, as the page last told
	LastMS   int64  `json:"last"`  // when the last act was kept
	Last     string `json:"act"`   // kind and object of the last act
	Status   Status `json:"status"`
	Hash     uint64 `json:"-"`      // of the state at the end, as the page told
	Why      string `json:"why"`    // it was refused, or not scored: the refusal as it is kept
	Engine   string `json:"engine"` // that it was begun with
}

// Act is one act as it is kept; Seq counts from 0 without a gap.
type Act struct {
	Seq int
	MS  int64 // when it was kept
	sim.LogAct
}

// Result is what an attempt came to, by this server's own reckoning.
type Result struct {
	Member  int64   `json:"member"`
	Drill   int64   `json:"drill"`
	Score   float64 `json:"score"`
	Minutes float64 `json:"minutes"` // of the call
	Unsafe  int     `json:"unsafe"`
	Named   string  `json:"named"`  // id of the verdict
	Right   bool    `json:"right"`  // it names all that was wrong and nothing else
	Report  []byte  `json:"report"` // sim.Report or sim.SizingMarks as JSON
	MS      int64   `json:"at"`
}

// EventKind is what the server tells a class or one of its members.
type EventKind string

// The kinds of event.
const (
	Freeze  EventKind = "freeze"
	Thaw    EventKind = "thaw"
	Message EventKind = "message"
	Hint    EventKind = "hint"
	Extend  EventKind = "extend" // Text: the new DueMS
	Added   EventKind = "drill"  // Text: its id
	Ended   EventKind = "end"
	Alarm   EventKind = "alarm" // to the instructor alone: something was refused
)

// Event is told to a member, or to all where Member is 0, in the order of Seq, which
// counts in each class from 1 without a gap.
type Event struct {
	Class  int64     `json:"-"`
	Seq    int64     `json:"seq"`
	Member int64     `json:"member"`
	Kind   EventKind `json:"kind"`
	Text   string    `json:"text"`
	MS     int64     `json:"at"`
}

// For reports whether a member is to hear of an event.
func (e *Event) For(member int64) bool {
	return e.Kind != Alarm && (e.Member == 0 || e.Member == member)
}

// Right reports whether a verdict names the true causes and no other.
func Right(named string, truth []string) bool {
	got := sim.VerdictIDs(named)
	if len(truth) == 0 {
		truth = []string{sim.NoFault}
	}
	slices.Sort(got)
	return slices.Equal(got, slices.Sorted(slices.Values(truth)))
}

// Describe says in short what an act was.
func Describe(a *sim.Action) string {
	for _, s := range []string{string(a.Part), a.ID} {
		if s != "" {
			return fmt.Sprintf("%s %s", a.Kind, s)
		}
	}
	return string(a.Kind)
}
