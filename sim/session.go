package sim

import (
	"encoding/json"
	"errors"
	"fmt"

	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/record"
	"brinebench/sim/scenario"
)

// Engine names the version of the engine in recordings. It changes whenever the
// same recording would give other bits.
const Engine = "brinebench-engine-17"

// Session is one service call on one simulated unit: the plant, the trainee's
// acts so far and what they brought to light.
type Session struct {
	name     string
	raw      []byte // the scenario's file
	seed     uint64
	file     *scenario.File
	model    *plant.Model
	past     *scenario.Past // the unit while its history is run, by the coarse model; nil once the call is open
	pastEndS float64        // length of the history, s
	found    *plant.State   // the unit as the call was opened
	call     *call.Call     // before the history has been run: on the unit as it was when new, to look at only
	acts     []record.Act
	again    *record.Recording // what Relive does; nil in a call that is lived for the first time
	setup    Setup
	shown    Call
	ordered  [2]int // entries and events when shown.Order was made
}

// Open reads a scenario and makes a session of it. The seed moves the household's days
// (see scenario.File.Vary) and the instruments' noise. The history before the call
// still has to be run: see Prepare. Errors name file and field, all of them.
func Open(name string, scenarioJSON []byte, seed uint64) (*Session, error) {
	f, err := scenario.Decode(name, scenarioJSON)
	if err != nil {
		return nil, err
	}
	f.Vary(seed)
	m, err := plant.New(f.Config())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	s := &Session{name: name, raw: scenarioJSON, seed: seed, file: f, model: m}
	s.past = f.Begin(m.Coarse())
	s.pastEndS = float64(f.HistoryDays) * 86400
	s.call = call.New(m, s.past.State.Clone(), seed)
	s.setup = newSetup(f, m)
	return s, nil
}

// CallCard is what a list of calls tells of one.
type CallCard struct {
	ID, Title string
	Rung      int    // place on the ladder, 1 plain .. 12 hardest; 0 for a call that has none
	Group     string // id of the calls that sound alike when the customer tells of them; "" without a rung
}

// Card reads a scenario for its card alone, and none of its other faults: those
// are for Open to tell.
func Card(name string, scenarioJSON []byte) (CallCard, error) {
	var f struct {
		ID, Title string
		Ladder    struct {
			Rung  int
			Group string
		}
	}
	if err := json.Unmarshal(scenarioJSON, &f); err != nil {
		return CallCard{}, fmt.Errorf("%s: %w", name, err)
	}
	if f.ID == "" {
		return CallCard{}, fmt.Errorf("%s: id: missing", name)
	}
	return CallCard{ID: f.ID, Title: f.Title, Rung: f.Ladder.Rung, Group: f.Ladder.Group}, nil
}

// Prepare runs a slice of the unit's history before the call, at most the given
// number of engine steps, and tells how far it has come, 0..1; 1 is ready.
func (s *Session) Prepare(steps int) float64 {
	if s.past == nil {
		return 1
	}
	for range steps {
		if s.past.State.TimeS >= s.pastEndS {
			s.begin()
			return 1
		}
		s.past.Step(s.pastEndS)
	}
	return min(s.past.State.TimeS/s.pastEndS, 0.999)
}

// begin opens the call on the unit as its history left it.
func (s *Session) begin() {
	state := s.past.End()
	s.found = state.Clone()
	s.call = call.New(s.model, state, s.seed)
	s.call.Help = s.help
	s.past = nil
}

// Seed returns the seed of the session's random streams.
func (s *Session) Seed() uint64 { return s.seed }

// help says what a step of help tells of the unit as it stands.
func (s *Session) help(rung string) string {
	return debrief.Help(s.file, s.model, s.call.Plant.Cond, rung)
}

// Setup returns what does not change during the call. Read only.
func (s *Session) Setup() *Setup { return &s.setup }

// Do carries out one act of the trainee at the present tick. It returns an
// error when the act cannot be begun (another is under way, unknown part, …);
// an act that is unsafe is begun, stopped, and entered in the journal.
func (s *Session) Do(a Action) error {
	if err := s.call.Do(a); err != nil {
		return err
	}
	s.acts = append(s.acts, record.Act{
		Tick: s.call.Ticks, Kind: string(a.Kind), Part: string(a.Part), ID: a.ID, Text: a.Text, Value: a.Value,
	})
	return nil
}

// Why says in a sentence for the trainee why Do refused an act.
func Why(refused error) string {
	var r *call.Refusal
	if errors.As(refused, &r) {
		return r.Why
	}
	return refused.Error()
}

// Tick advances the unit by TickS seconds.
func (s *Session) Tick() { s.call.Tick() }

// Ticks returns how many ticks the call has lasted.
func (s *Session) Ticks() int64 { return s.call.Ticks }

// Events counts the happenings a person may wait for: a station reached or left,
// the air check seating, the float shutting, a draw under way, an act finished.
func (s *Session) Events() int { return s.call.Events }

// Call returns the state of the service call. Read only; valid until the next Do or Tick.
func (s *Session) Call() *Call {
	c := s.call
	v := &s.shown
	v.BusyUntilTick, v.BusyText = 0, ""
	if c.Busy {
		v.BusyUntilTick, v.BusyText = c.BusyUntil, doing(c.Current)
	}
	v.Minutes, v.Cost, v.Journal, v.Opened, v.Finished = c.Minutes(), c.Cost(), c.Journal, c.Opened, c.Finished
	if n := [2]int{len(c.Journal), c.Events}; n != s.ordered {
		s.ordered = n
		v.Order, v.Helped = c.Order(), c.Helped()
	}
	if v.Diagnosed = c.Verdict != nil; v.Diagnosed {
		v.DiagnosedID, v.Confidence = c.Verdict.ID, c.Verdict.Value
	}
	return v
}

// doing says what an act under way is.
func doing(a Action) string {
	part := func() string { p, _ := call.Part(a.Part); return p.Name }
	switch a.Kind {
	case ActTest:
		in, _ := instrument.Find(a.ID)
		return in.Name
	case ActOpen:
		return "Opening: " + part()
	case ActRefit:
		return "Putting back: " + part()
	case ActClean:
		if a.Part == PartSalt {
			return "Breaking up the salt"
		}
		return "Cleaning: " + part()
	case ActAdjust:
		return "Setting right: " + part()
	case ActReplace:
		if a.Part == PartSalt {
			return "Filling up with salt"
		}
		return "Replacing: " + part()
	case call.Unsafe:
		return "Work stopped"
	case ActLubricate:
		return "Lubricating: " + part()
	case ActBail:
		return "Taking water out of the brine tank"
	case ActDisinfect:
		return "Disinfecting"
	case ActTell:
		return "Talking to the customer"
	case ActDiagnose:
		return "Writing down the cause"
	case ActFinish:
		return "Handing the unit back"
	}
	return "At the unit"
}

// Hash returns the hash of the whole state.
func (s *Session) Hash() uint64 { return s.call.Hash() }

// Recording returns scenario, seed and action log as msgp bytes.
func (s *Session) Recording() ([]byte, error) {
	return record.Encode(record.Recording{
		Version: record.Version, Engine: Engine, Name: s.name, Scenario: s.raw, Seed: s.seed,
		Ticks: s.call.Ticks, Hash: s.Hash(), Acts: s.acts,
	})
}
