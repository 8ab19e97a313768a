package sim

import (
	"errors"
	"fmt"
	"slices"

	"brinebench/sim/record"
)

// ErrDiverged is returned by Replay and Relive when the recorded hash is not reached.
var ErrDiverged = errors.New("the replay does not end in the recorded state")

// Resume opens the call of a recording. Its history still has to be run, as
// after Open, and then what was recorded: see Prepare and Relive. An error names
// the field of the recording that is wrong.
func Resume(recording []byte) (*Session, error) {
	r, err := record.Decode(recording)
	if err != nil {
		return nil, err
	}
	if r.Engine != Engine {
		return nil, fmt.Errorf("recording: engine: %q, and this is %q", r.Engine, Engine)
	}
	s, err := Open(r.Name, r.Scenario, r.Seed)
	if err != nil {
		return nil, fmt.Errorf("recording: scenario: %w", err)
	}
	s.again = &r
	return s, nil
}

// Relive does the next thing that was recorded: the next act of the present
// tick, or else the tick itself. It reports false when nothing is left; from there
// the call goes on like any other. An error names the act that could not be done
// again, or is ErrDiverged; then too nothing is left.
func (s *Session) Relive() (more bool, err error) {
	r, next := s.again, len(s.acts)
	switch {
	case r == nil:
		return false, nil
	case next < len(r.Acts) && r.Acts[next].Tick <= s.call.Ticks:
		if err := s.Do(actOf(&r.Acts[next])); err != nil {
			s.again = nil
			return false, fmt.Errorf("recording: acts[%d]: %w", next, err)
		}
		return true, nil
	case s.call.Ticks < r.Ticks:
		s.Tick()
		return true, nil
	}
	s.again = nil
	if s.Hash() != r.Hash {
		return false, fmt.Errorf("%w: %016x, recorded %016x", ErrDiverged, s.Hash(), r.Hash)
	}
	return false, nil
}

func actOf(a *record.Act) Action {
	return Action{Kind: ActionKind(a.Kind), Part: Part(a.Part), ID: a.ID, Value: a.Value}
}

// Relived tells how much of what was recorded has been lived again, 0..1.
func (s *Session) Relived() float64 {
	if s.again == nil || s.again.Ticks == 0 {
		return 1
	}
	return float64(s.call.Ticks) / float64(s.again.Ticks)
}

// Replay plays a recording again to its last tick. Errors are those of Resume
// and Relive; ErrDiverged comes with the session all the same.
func Replay(recording []byte) (*Session, error) {
	s, err := Resume(recording)
	if err != nil {
		return nil, err
	}
	for s.Prepare(1000) < 1 {
	}
	for more := true; more; {
		if more, err = s.Relive(); err != nil && !errors.Is(err, ErrDiverged) {
			return nil, err
		}
	}
	return s, err
}

// Clone returns an independent copy of a session whose call is open.
func (s *Session) Clone() *Session {
	c, k := *s, *s.call
	k.Plant = k.Plant.Clone()
	k.Journal, k.Opened = slices.Clone(k.Journal), slices.Clone(k.Opened)
	c.call, c.acts, c.shown = &k, slices.Clone(c.acts), Call{}
	return &c
}

// Follow makes s, a copy of an earlier moment of the same call, live on as the
// other did until now: Relive then does what the other has done since.
func (s *Session) Follow(other *Session) {
	s.again = &record.Recording{Ticks: other.call.Ticks, Hash: other.Hash(), Acts: other.acts}
}
