package sim

import (
	"fmt"

	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/sequence"
	"brinebench/sim/valve"
)

// The practice of a valve's cycle, lifted into the façade.
type (
	Exercise     = sequence.Exercise
	ExerciseKind = sequence.Kind
	Seats        = sequence.Setting
	SeatTrial    = sequence.Trial
	SeatFinding  = sequence.Finding
	ProgramStep  = sequence.Step
	CycleOutcome = sequence.Outcome
)

// The kinds of exercise.
const (
	NamePosition = sequence.Name
	SetSeats     = sequence.Seats
	TracePath    = sequence.Path
	ReadLobes    = sequence.Lobes
	ReadDrum     = sequence.Drum
	BuildProgram = sequence.Whole
)

// ExerciseKinds are all of them, from plain to hard.
func ExerciseKinds() []ExerciseKind { return sequence.Kinds() }

// CyclePrograms are the programs that can be practised, by id.
func CyclePrograms() []string { return valve.ProgramIDs() }

// Cycle is a unit on which a valve's cycle is practised. It answers by what the unit
// does; nobody is called to it.
type Cycle struct {
	file  []byte // the scenario that it was read from
	cfg   plant.Config
	model *plant.Model
	setup Setup
	at    map[string]*plant.State // by position: as a regeneration on a spent bed comes to it
	unit  *plant.State            // that is shown
}

// OpenCycle reads a scenario for the unit that is practised on. Errors name file and
// field, all of them.
func OpenCycle(name string, scenarioJSON []byte) (*Cycle, error) {
	f, err := scenario.Decode(name, scenarioJSON)
	if err != nil {
		return nil, err
	}
	c := &Cycle{file: scenarioJSON, cfg: f.Config(), at: map[string]*plant.State{}}
	full, err := plant.New(c.cfg)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	c.model = full
	c.setup = newSetup(f, full)
	c.Show("service")
	return c, nil
}

// Setup returns what does not change. Read only.
func (c *Cycle) Setup() *Setup { return &c.setup }

// Program returns the unit's own program. Read only.
func (c *Cycle) Program() *valve.Program { return &c.cfg.Program }

// Exercises are all of a kind on the unit's program.
func (c *Cycle) Exercises(kind ExerciseKind) []Exercise { return sequence.All(kind, &c.cfg.Program) }

// Show brings the unit that is shown to a position of its program.
func (c *Cycle) Show(stop string) { c.unit = c.found(stop).Clone() }

// found is the unit at a position, with a bath tap open in the house.
func (c *Cycle) found(stop string) *plant.State {
	if c.at[stop] == nil {
		s := c.model.Start(plant.Healthy())
		sequence.At(c.model, s, stop)
		s.HouseTap = sequence.Bath
		c.at[stop] = s
	}
	return c.at[stop]
}

// Hold holds the seats of the unit that is shown.
func (c *Cycle) Hold(set Seats) { sequence.Hold(c.model, c.unit, set) }

// Run lets the unit that is shown run on.
func (c *Cycle) Run(seconds float64) {
	for end := c.unit.TimeS + seconds; c.unit.TimeS < end; {
		c.model.Step(c.unit, min(TickS, end-c.unit.TimeS))
	}
}

// Draw tells how long the unit draws brine in its draw position, until the air check
// seats, and how much, m³.
func (c *Cycle) Draw() (seconds, drawnM3 float64) {
	const mostS = 4 * 3600
	s := c.found("brine").Clone()
	before, from := s.Ledger.DrawnM3, s.TimeS
	for !s.Tank.AirCheckSeated && s.TimeS < from+mostS {
		c.model.Step(s, 1)
	}
	return s.TimeS - from, s.Ledger.DrawnM3 - before
}

// View copies the unit that is shown into v.
func (c *Cycle) View(v *View) {
	viewUnit(c.model, c.unit, v)
	v.TimeS = c.unit.TimeS
	v.Opened, v.Condition, v.Bared = v.Opened[:0], plant.Healthy(), true
}

// Right returns the setting of a position.
func (c *Cycle) Right(stop string) Seats {
	for _, st := range c.cfg.Program.Stops {
		if st.ID == stop {
			return st.Open
		}
	}
	panic("sim: the program has no position " + stop)
}

// TrySeats tries a setting and the right one in a position for ten minutes, and tells
// what the one did that the other did not.
func (c *Cycle) TrySeats(stop string, set Seats) (right, got SeatTrial, found []SeatFinding) {
	coarse := c.model.Coarse()
	right, got = sequence.Try(coarse, c.found(stop), c.Right(stop)), sequence.Try(coarse, c.found(stop), set)
	return right, got, sequence.Findings(&right, &got)
}

// Reasons are what the passages alone say against a setting in a position.
func (c *Cycle) Reasons(stop string, set Seats) []string {
	return sequence.Reasons(c.Right(stop), set, c.cfg.Program.InjectorDischargesBelow)
}

// Trace returns the passages of a way (sequence.Ways) in a position.
func (c *Cycle) Trace(stop, way string) []Path {
	w, ok := sequence.WayNamed(way)
	if !ok {
		panic("sim: no way " + way)
	}
	const settleS = 30
	s := c.found(stop).Clone()
	for range settleS {
		c.model.Step(s, 1)
	}
	return sequence.Trace(c.model, s, w)
}

// Agrees tells how many passages of a way, from its start on, are those of the
// water's own.
func Agrees(answer, right []Path) int { return sequence.Agrees(answer, right) }
