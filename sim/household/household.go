// Package household makes the daily schedule of water use in a house.
package household

// Fixture is one kind of water use. Its nominal flow is at ReferencePa.
type Fixture struct {
	ID, Name string
	FlowM3S  float64     // nominal flow while running at ReferencePa, m³/s
	Seconds  float64     // mean length of one run, s
	Spread   float64     // relative standard deviation of that length
	Runs     int         // runs per use (fills of a washing machine)
	GapS     float64     // from the end of one run to the start of the next in a use, s
	PerDay   float64     // uses per person and day
	Hours    [24]float64 // relative frequency of a use by hour of the day
}

// ReferencePa is the pressure at the fixture at which nominal flows hold, Pa gauge.
const ReferencePa = 300e3

// Spec is a household: who lives there and what they have.
type Spec struct {
	People   int
	Seed     uint64
	Fixtures []Fixture
}

// State is the present state of the household: plain data, written by Start and Advance only.
type State struct {
	Day   int     // day number, from 0
	TimeS float64 // time of day, s since midnight
	Draws []Draw  // the whole day's draws by start; replaced, never changed, at midnight
}

// Draw is one run of one fixture.
type Draw struct {
	Fixture      int     // index into Spec.Fixtures
	StartS, EndS float64 // time of day, s since midnight
	FlowM3S      float64 // nominal flow, m³/s
}

// Standard returns the household of so many people with common fixtures.
func Standard(people int, seed uint64) Spec { return Spec{} }

// Validate returns every fault of the spec, each naming its field.
func (sp *Spec) Validate() []error { return nil }

// DayDraws returns the draws of a day by start.
func DayDraws(sp *Spec, day int) []Draw { return nil }

// Start returns the state at a moment of a day.
func Start(sp *Spec, day int, timeS float64) State { return State{} }

// Advance moves the household on by dt seconds (any length).
func Advance(sp *Spec, s *State, dt float64) {}

// FlowAt returns the nominal flow now, m³/s.
func FlowAt(s *State) float64 { return 0 }

// NextChange returns the seconds until that flow changes (or the day ends).
func NextChange(s *State) float64 { return 0 }
