package class

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"brinebench/sim"
)

// Bounds of what is sent.
const (
	MaxName    = 40     // characters in a nickname or a class's name
	MaxMessage = 500    // characters in a message or hint
	MaxDrills  = 20     // of a class, for all its members
	MaxOwn     = 60     // of a class, each for one member
	MaxMembers = 300    // of a class
	MaxBatch   = 200    // acts in one upload
	MaxAnswer  = 20_000 // bytes in an answer to a sizing or sequence drill
)

// The fastest that a call can run on the page is game's "to the next event"; the slack, of
// the call's time, is for clocks read in turn.
const (
	fastestPace = 7200
	slackS      = 30
)

// CleanName takes surrounding white space from a name and says what is wrong with it.
func CleanName(s string) (string, error) { return clean("name", s, MaxName) }

// CheckOnce says what is wrong with the key by which a page that had no answer asks for
// the same again; "" is none. It is drawn by the page, and known to nobody else.
func CheckOnce(s string) error {
	const least, most = 16, 40
	if n := len(s); n != 0 && (n < least || n > most) {
		return fmt.Errorf("once: not %d to %d characters", least, most)
	}
	return nil
}

// CleanText does the same for a message.
func CleanText(s string) (string, error) { return clean("text", s, MaxMessage) }

func clean(field, s string, most int) (string, error) {
	s = strings.TrimSpace(s)
	switch {
	case !utf8.ValidString(s):
		return "", fmt.Errorf("%s: not UTF-8", field)
	case s == "":
		return "", fmt.Errorf("%s: empty", field)
	case utf8.RuneCountInString(s) > most:
		return "", fmt.Errorf("%s: more than %d characters", field, most)
	case strings.ContainsFunc(s, unprintable):
		return "", fmt.Errorf("%s: control characters", field)
	}
	return s, nil
}

// unprintable characters are refused: those that control, that turn the direction of
// writing, and that stand for themselves alone.
func unprintable(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs) || r == unicode.ReplacementChar
}

// Refusal is why an upload was refused: a log that it cannot be, with the word by which
// the page and the tests know it.
type Refusal struct{ Word, Why string }

func (r *Refusal) Error() string { return r.Why }

// Forged reports whether only somebody who made the log up can have brought it about:
// then the attempt is closed. All else leaves it as it is, for the page to put right.
func (r *Refusal) Forged() bool {
	return r.Word == Doubled || r.Word == Order || r.Word == Future || r.Word == Diverged
}

// Kept is the refusal as it is kept with an attempt that it closed.
func (r *Refusal) Kept() string { return r.Word + ": " + r.Why }

// WordOf is the word of a refusal that was kept.
func WordOf(kept string) string {
	word, _, _ := strings.Cut(kept, ": ")
	return word
}

// Status is that of an attempt that was closed for the reason.
func (r *Refusal) Status() Status {
	if r.Forged() {
		return Refused
	}
	return Unscored
}

// The words of refusals.
const (
	WrongEngine = "engine"  // another version of the engine
	TakenOver   = "device"  // the attempt was taken up on another device
	Gap         = "gap"     // acts before these are missing
	Doubled     = "doubled" // another act was kept under the number
	Order       = "order"   // its tick is before that of the act before it
	Future      = "future"  // after the end of the log, or sooner than a call can run
	Malformed   = "act"     // no act of a call
	Frozen      = "frozen"  // the class is frozen: later perhaps
	Late        = "late"    // the time is up: more may be given
	Early       = "early"   // the time is still to be started: no drill can be begun
	Closed      = "closed"  // the attempt was handed in before, or the class has ended
	Failed      = "failed"  // the server could not live it, and it may be the server's fault
	Diverged    = "replay"  // lived again, the log does not end where it says
)

// Upload is a stretch of an attempt's log.
type Upload struct {
	Epoch  int64
	Engine string
	From   int // Seq of the first act
	Acts   []sim.LogAct
	Ticks  int64   // of the call when it was sent
	Hash   *uint64 // of the state, where it is handed in; nil while it goes on
}

// Check tells why an upload cannot belong to an attempt, as far as it can be told
// without living it. It looks neither at whether acts were kept before (see Fresh) nor
// at what they would do.
func (u *Upload) Check(a *Attempt, nowMS int64) error {
	if u.Engine != sim.Engine {
		return &Refusal{WrongEngine, fmt.Sprintf("engine %.40q, and this is %q", u.Engine, sim.Engine)}
	}
	if u.Epoch != a.Epoch {
		return &Refusal{TakenOver, "the drill was taken up on another device"}
	}
	if u.From < 0 || len(u.Acts) > MaxBatch || u.From+len(u.Acts) > sim.MaxLogActs {
		return &Refusal{Malformed, fmt.Sprintf("acts %d to %d: too many", u.From, u.From+len(u.Acts))}
	}
	last := int64(0)
	for i := range u.Acts {
		act := &u.Acts[i]
		if why := malformed(act); why != "" {
			return &Refusal{Malformed, fmt.Sprintf("act %d: %s", u.From+i, why)}
		}
		if act.Tick < last {
			return &Refusal{Order, fmt.Sprintf("act %d: at tick %d, after one at %d", u.From+i, act.Tick, last)}
		}
		last = act.Tick
	}
	if u.Ticks < last || u.Ticks > sim.MaxLogTicks {
		return &Refusal{Future, fmt.Sprintf("acts up to tick %d, and the log ends at %d", last, u.Ticks)}
	}
	if most := LatestTick(nowMS - a.OpenedMS); u.Ticks > most {
		return &Refusal{Future, fmt.Sprintf("tick %d: the call cannot have come further than %d", u.Ticks, most)}
	}
	return nil
}

// LatestTick is the furthest that a call can have come so long after it was opened.
func LatestTick(elapsedMS int64) int64 {
	return int64((float64(elapsedMS)/1000*fastestPace + slackS) / sim.TickS)
}

func malformed(a *sim.LogAct) string {
	const maxName = 128
	switch {
	case a.Kind == "":
		return "kind: empty"
	case len(a.Kind) > maxName || len(a.Part) > maxName || len(a.ID) > maxName:
		return "a name of more than 128 bytes"
	case !isWord(string(a.Kind)) || !isWord(string(a.Part)) || !isWord(a.ID):
		return "a name that is not UTF-8 or has control characters"
	case math.IsNaN(a.Value) || math.IsInf(a.Value, 0):
		return "value: not a finite number"
	case a.Tick < 0:
		return "tick: below 0"
	}
	return sim.BadText(a.Text)
}

func isWord(s string) bool { return utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl) }

// Fresh compares an upload with the acts kept so far from its From on, and returns
// those that are new.
func (u *Upload) Fresh(have int, kept []Act) ([]sim.LogAct, error) {
	if u.From > have {
		return nil, &Refusal{Gap, fmt.Sprintf("acts from %d on, and %d are here", u.From, have)}
	}
	for i := range min(len(kept), len(u.Acts)) {
		if kept[i].LogAct != u.Acts[i] {
			return nil, &Refusal{Doubled, fmt.Sprintf("act %d: another than was kept", u.From+i)}
		}
	}
	fresh := u.Acts[min(have-u.From, len(u.Acts)):]
	if n := len(kept); n > 0 && n == have-u.From && len(fresh) > 0 && fresh[0].Tick < kept[n-1].Tick {
		return nil, &Refusal{Order, fmt.Sprintf("act %d: before the one before it", have)}
	}
	return fresh, nil
}

// AsRefusal finds the refusal in an error.
func AsRefusal(err error) (r *Refusal, ok bool) {
	ok = errors.As(err, &r)
	return r, ok
}
