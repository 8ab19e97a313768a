package sim

import "errors"

// Session is one service call on one simulated unit: the plant, the trainee's
// acts so far and what they brought to light.
type Session struct {
	setup Setup
	call  Call
}

// Open reads a scenario and makes a session of it. The history before the call
// still has to be run: see Prepare. Errors name file and field, all of them.
func Open(name string, scenarioJSON []byte, seed uint64) (*Session, error) {
	return nil, errors.New("not built yet")
}

// Prepare runs a slice of the unit's history before the call, at most the given
// number of engine steps, and tells how far it has come, 0..1; 1 is ready.
func (s *Session) Prepare(steps int) float64 { return 1 }

// Setup returns what does not change during the call. Read only.
func (s *Session) Setup() *Setup { return &s.setup }

// Call returns the state of the service call. Read only; valid until the next Do or Tick.
func (s *Session) Call() *Call { return &s.call }

// View copies the present state of the unit into v.
func (s *Session) View(v *View) {}

// Do carries out one act of the trainee at the present tick. It returns an
// error when the act cannot be begun (another is under way, unknown part, …);
// an act that is unsafe is begun, stopped, and entered in the journal.
func (s *Session) Do(a Action) error { return nil }

// Tick advances the unit by TickS seconds.
func (s *Session) Tick() {}

// Events counts the happenings a person may wait for: a station reached or left,
// the air check seating, the float shutting, an act finished.
func (s *Session) Events() int { return 0 }

// Hash returns the hash of the whole state.
func (s *Session) Hash() uint64 { return 0 }

// Recording returns scenario, seed and action log as msgp bytes.
func (s *Session) Recording() ([]byte, error) { return nil, nil }

// Judge replays a recording and its counterfactuals and returns the debrief.
func Judge(recording []byte, progress func(done float64)) (Report, error) {
	return Report{}, errors.New("not built yet")
}
