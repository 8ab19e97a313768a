// Package outbox decides what of a trainee's drill is to be told to the server, and when:
// in order, from what the server has, again where no answer came. It has no clock, no
// network and no storage of its own.
package outbox

import (
	"errors"
	"fmt"
	"math"

	"brinebench/game/class"
	"brinebench/sim"
)

// State is how the drill stands with the server.
type State string

// The states. In all but the first two nothing is sent any more.
const (
	Going     State = "going"     // what is done is sent
	Frozen    State = "frozen"    // the server takes nothing while the class is frozen; it is tried again
	Handed    State = "handed"    // the server has all of it
	Elsewhere State = "elsewhere" // the drill was taken up on another device
	Refused   State = "refused"   // the server says that the log cannot be true
	Unscored  State = "unscored"  // the server cannot score it, and nobody is to blame
	Late      State = "late"      // the class has ended, or time is up, until more is given
	Left      State = "left"      // the server does not know this device, or the instructor has closed the place
	Old       State = "old"       // the page's program is another than the server's
)

// Times in ms.
const (
	beatMS  = 15_000 // the longest silence
	firstMS = 1_000  // until the first try again; doubled each time …
	mostMS  = 30_000 // … up to this
	slowMS  = 4_000  // where the server asks to wait
)

// Box is the log of one drill and how far the server has it. Its fields are what a
// device keeps between two visits.
type Box struct {
	Epoch int64           // of the attempt, by the server
	Acts  []class.SentAct // the whole log
	Acked int             // acts that the server has for good
	Ticks int64           // of the call
	Hash  string          // of its state at its end, 16 hex digits; "" while it goes on
	State State
	Why   string // for State

	under  bool  // an upload has not been answered
	fails  int   // in a row
	nextMS int64 // not before this
}

// ErrOther tells that the server has another log than the device.
var ErrOther = errors.New("outbox: the server has another log of this drill")

// New is the box of a drill that was taken up, with what the device kept of it, which
// may be nil. With ErrOther it holds the server's log alone.
func New(taken *class.Taken, kept *Box) (*Box, error) {
	b := &Box{Epoch: taken.Attempt.Epoch, Acts: taken.Acts, Acked: len(taken.Acts), Ticks: taken.Attempt.Ticks, State: Going}
	switch taken.Attempt.Status {
	case class.Handed, class.Scored:
		b.State = Handed
	case class.Refused, class.Unscored:
		b.State, b.Why = State(taken.Attempt.Status), taken.Attempt.Why
	}
	if kept == nil || b.State != Going {
		return b, nil
	}
	for i := range min(len(kept.Acts), len(b.Acts)) {
		if kept.Acts[i] != b.Acts[i] {
			return b, ErrOther
		}
	}
	if len(kept.Acts) >= len(b.Acts) {
		b.Acts, b.Hash, b.Ticks = kept.Acts, kept.Hash, max(b.Ticks, kept.Ticks)
	}
	return b, nil
}

// Log is the log so far.
func (b *Box) Log() *sim.Log {
	log := &sim.Log{Ticks: b.Ticks}
	for i := range b.Acts {
		log.Acts = append(log.Acts, b.Acts[i].Act())
	}
	return log
}

// Note takes what the call has come to, and returns how many acts were there before: those
// from there on are new. finished hands the drill in.
func (b *Box) Note(log *sim.Log, finished bool) (before int) {
	before = len(b.Acts)
	for i := before; i < len(log.Acts); i++ {
		b.Acts = append(b.Acts, class.Sent(&log.Acts[i]))
	}
	b.Ticks = max(b.Ticks, log.Ticks)
	if finished && b.Hash == "" {
		b.Ticks, b.Hash = log.Ticks, fmt.Sprintf("%016x", log.Hash)
	}
	return before
}

// Waiting is how many acts the server does not have.
func (b *Box) Waiting() int { return len(b.Acts) - b.Acked }

// Offline reports whether the last try was not answered.
func (b *Box) Offline() bool { return b.fails > 0 }

// Next is what is to be sent now; nil for nothing. Answered has to follow.
func (b *Box) Next(nowMS int64) *class.SentUpload {
	if b.State != Going && b.State != Frozen || b.under {
		return nil
	}
	more := b.Waiting() > 0 || b.Hash != ""
	if due := b.nextMS; nowMS < due && (!more || b.fails > 0 || b.State == Frozen) {
		return nil
	}
	b.under = true
	end := min(len(b.Acts), b.Acked+class.MaxBatch)
	u := &class.SentUpload{Epoch: b.Epoch, Engine: sim.Engine, From: b.Acked, Acts: append([]class.SentAct{}, b.Acts[b.Acked:end]...), Ticks: b.Ticks}
	if end == len(b.Acts) {
		u.Hash = b.Hash
	} else {
		u.Ticks = b.Acts[end-1].Tick
	}
	return u
}

// Answered takes the server's answer to what Next gave: its status, 0 for none, the word
// and sentence of a refusal, and the attempt as the server has it, nil for a refusal.
func (b *Box) Answered(nowMS int64, status int, word, why string, a *class.Attempt) {
	b.under = false
	if status == 200 && a != nil {
		b.fails, b.nextMS, b.Acked = 0, nowMS+beatMS, max(b.Acked, min(a.Acts, len(b.Acts)))
		b.State = Going
		if a.Status != class.Going {
			b.State = Handed
		}
		return
	}
	b.Why = why
	switch {
	case status == 401, word == "out":
		b.State = Left
	case status == 429:
		b.nextMS = nowMS + slowMS
		b.fails = max(b.fails, 1)
	case status == 0, status >= 500:
		b.nextMS = nowMS + min(mostMS, int64(firstMS*math.Pow(2, float64(b.fails))))
		b.fails++
	default:
		b.refused(nowMS, word)
	}
}

func (b *Box) refused(nowMS int64, word string) {
	b.fails = 0
	switch word {
	case class.Gap: // it has lost some: all of it again, what it has may come twice
		b.Acked = 0
		b.nextMS = nowMS + firstMS
	case class.Frozen:
		b.State, b.nextMS = Frozen, nowMS+slowMS
	case class.TakenOver:
		b.State = Elsewhere
	case class.Closed, class.Late:
		b.State = Late
	case class.WrongEngine, class.Malformed:
		b.State = Old
	case class.Doubled, class.Order, class.Future, class.Diverged:
		b.State = Refused
	default: // another than the classroom has answered
		b.fails, b.nextMS = 1, nowMS+mostMS
	}
}

// Extended tells that more time was given.
func (b *Box) Extended() {
	if b.State == Late {
		b.State, b.nextMS = Going, 0
	}
}

// Hurry has what there is told at once: the network is said to be back, or something has
// come to its end that the instructor is to see.
func (b *Box) Hurry() { b.nextMS = 0 }
