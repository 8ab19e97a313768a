// Package class is the classroom: a class and its drills, its members, what they do
// and what comes of it. It has no input or output; times are milliseconds since 1970 UTC.
package class

import (
	"fmt"
	"slices"
	"strconv"

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
	LengthMS int64  `json:"length"`   // that it has from when the instructor starts the time; 0 for no limit
	DueMS    int64  `json:"due"`      // when time is up by Clock; 0 for never, or not known yet
	EndMS    int64  `json:"ended"`    // when the instructor ended it; 0 while it goes on
}

// GraceMS is how long after a class's end, a freeze or the time that is up acts and answers
// are still taken that were done before: pages stop at once, and have to send what is under
// way. Then all is handed in as it stands.
const GraceMS = 60_000

// Clock is the class's time: a freeze stops it.
func (c *Class) Clock(nowMS int64) int64 {
	if c.Frozen {
		return min(c.FrozenMS, nowMS)
	}
	return nowMS
}

// LeftMS is the time that is left until it is up, where there is a limit.
func (c *Class) LeftMS(nowMS int64) int64 { return c.DueMS - c.Clock(nowMS) }

// Waits reports whether the class's time is still to be started.
func (c *Class) Waits() bool { return c.LengthMS != 0 && c.DueMS == 0 && c.EndMS == 0 }

// TimeUp reports whether the time is up.
func (c *Class) TimeUp(nowMS int64) bool { return c.DueMS != 0 && c.LeftMS(nowMS) <= 0 }

// Over reports whether work is to stop: the class has ended, or its time is up.
func (c *Class) Over(nowMS int64) bool { return c.EndMS != 0 || c.TimeUp(nowMS) }

// HandedMS is when all that was begun is handed in as it stands, of a class that is Over.
func (c *Class) HandedMS() int64 {
	if c.EndMS != 0 && (c.DueMS == 0 || c.EndMS < c.DueMS) {
		return c.EndMS + GraceMS
	}
	return c.DueMS + GraceMS
}

// ErrEnded refuses what comes after the end of a class.
var ErrEnded = &Refusal{Closed, "the class has ended"}

// Shut tells why no drill can be begun, nil where one can.
func (c *Class) Shut(nowMS int64) error {
	switch {
	case c.EndMS != 0:
		return ErrEnded
	case c.TimeUp(nowMS):
		return &Refusal{Late, "the time is up"}
	case c.Waits(): // who has the code the evening before would have all night
		return &Refusal{Early, "the time has not begun yet"}
	case c.Frozen:
		return &Refusal{Frozen, "the class is frozen"}
	}
	return nil
}

// Countdown is time that is left, in minutes: whole ones while there are many, one that has
// begun among them, and seconds with them towards the end. Two clocks may differ by a second.
func Countdown(leftMS int64) string {
	const fineMS = 10 * 60_000
	if leftMS >= fineMS {
		return strconv.FormatInt((leftMS+59_000)/60_000, 10)
	}
	s := max(0, leftMS+999) / 1000
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// Halted tells why nothing new is taken, nil where it is: the class has ended, is frozen, or
// its time is up. Acts carry no time of their own.
func (c *Class) Halted(nowMS int64) error {
	switch {
	case c.EndMS != 0 && nowMS > c.EndMS+GraceMS:
		return ErrEnded
	case c.Frozen && nowMS > c.FrozenMS+GraceMS:
		return &Refusal{Frozen, "the class is frozen"}
	case c.DueMS != 0 && c.Clock(nowMS) > c.DueMS+GraceMS:
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

// MostJob is the greatest number of a sizing job: as the page of sizing takes it.
const MostJob = 999_999

// Job is the number by which the page of sizing has the same job, 0 where there is none: it is
// no sizing drill, or one of a class that was made when they were drawn from more.
func (d *Drill) Job() uint64 {
	if d.Kind != Sizing || d.Seed > MostJob {
		return 0
	}
	return d.Seed
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

// How an attempt stands in the results besides. Neither is kept.
const (
	Marking   Status = "marking"   // work has stopped, and its score is still to come
	Untouched Status = "untouched" // the class is over, and it was opened and nothing done in it
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
	Hash     uint64 `json:"-"`        // of the state at the end, as the page told
	Why      string `json:"why"`      // it was refused, or not scored: the refusal as it is kept
	Engine   string `json:"engine"`   // that it was begun with
	Answered int    `json:"answered"` // of a drill that asks for no call: so many …
	Asked    int    `json:"asked"`    // … of so many; 0 while nothing is answered
}

// Touched reports whether something was done in an attempt.
func (a *Attempt) Touched() bool { return a.Acts > 0 || a.Asked > 0 }

// Standing is how an attempt stands in the results. What was opened and left untouched is
// never handed in and has no score: in a mean it counts as little as what was not begun.
func (a *Attempt) Standing(over bool) Status {
	switch {
	case a.Status == Handed, a.Status == Going && over && a.Touched():
		return Marking
	case a.Status == Going && over:
		return Untouched
	}
	return a.Status
}

// AnswerAct is what the last act of a drill that asks for an answer is called.
const AnswerAct = "answer"

// Answer is an answer to a drill that is no call, and how much of it there is.
type Answer struct {
	Text            []byte // JSON, as its kind has it
	Answered, Asked int
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
	Thaw    EventKind = "thaw" // Text: the new DueMS
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

// Hear takes what an event does to the class.
func (c *Class) Hear(e *Event) {
	switch due, err := strconv.ParseInt(e.Text, 10, 64); e.Kind {
	case Freeze:
		if !c.Frozen {
			c.Frozen, c.FrozenMS = true, e.MS
		}
	case Thaw, Extend:
		c.Frozen = c.Frozen && e.Kind != Thaw
		if err == nil {
			c.DueMS = due
		}
	case Ended:
		c.Frozen, c.EndMS = false, e.MS
	}
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
