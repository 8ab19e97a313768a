// Package instrument is what a technician can measure, look at and listen to on
// a unit: each test with its resolution, its noise, its cost in minutes and what
// it needs. A reading is taken from the plant's present state and nothing else.
package instrument

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/unit"
)

// Quantity is the kind of a reading's value.
type Quantity string

// The kinds of quantity. A sighting has no value but one of a few things seen.
const (
	Sighting Quantity = ""
	Hardness Quantity = "hardness" // mol/m³
	Pressure Quantity = "pressure" // Pa gauge
	Flow     Quantity = "flow"     // m³/s
	Length   Quantity = "length"   // m
	Fraction Quantity = "fraction" // 0..1
	Specific Quantity = "specific" // conductivity, S/m
	Warmth   Quantity = "warmth"   // temperature, °C
	Content  Quantity = "content"  // mass of something dissolved, kg/m³
	Count    Quantity = "count"    // a number
	Span     Quantity = "span"     // time, s
	Weight   Quantity = "weight"   // mass, kg
	Angle    Quantity = "angle"    // degrees
)

// Instrument is one test.
type Instrument struct {
	ID, Name string
	What     string     // what it tells, in a sentence
	Where    plant.Part // where it is made
	Needs    string     // what has to be so for it to tell something: a position, isolation, an opened part; "" nothing
	Minutes  float64    // what it costs
	Quantity Quantity

	Resolution float64 // smallest step it shows, in SI; 0 for a sighting
	Noise      float64 // standard deviation of a reading, in SI
	Relative   float64 // the same as a fraction of the reading, added

	Most   float64 // the end of its scale, in SI; 0 for one that is never reached
	Signed bool    // it can read below zero
	Dial   bool    // it hangs on the unit for all to see: who reads it reads what its hand shows, and Noise is how far that may be from what was expected
	Fixed  bool    // it shows the same in every position: a setting, a memory, a part looked at
	Plain  bool    // what it shows is not mistaken for anything else
	Told   bool    // it is remembered by somebody, loosely: the next best words are said as easily

	RunHouseTap float64 // opening of the house test tap while it is made, 0..1
	RunRawTap   float64 // the same of the raw-water sample tap

	value  func(m *plant.Model, s *plant.State) float64 // of a measurement
	booked func(l *plant.Ledger) float64                // m³: a flow measured over the whole time of the test
	runs   func(m *plant.Model, s *plant.State) float64 // m³/s: the water that is sampled; nil where none has to run
	seen   func(m *plant.Model, s *plant.State) string  // of a sighting
	lacks  func(m *plant.Model) string                  // what is seen where the unit has nothing to measure, "" where it has; nil where all have
}

// Reading is what one use of an instrument gives: a value or a sighting.
type Reading struct {
	Value float64
	Seen  string
}

// NothingRuns is what is seen where there is no water to sample.
const NothingRuns = "no water comes"

// Exact returns what the instrument would show at this moment, without noise or
// rounding.
func (in *Instrument) Exact(m *plant.Model, s *plant.State) Reading {
	const dripM3S = 0.01 * unit.GPM
	switch {
	case in.Quantity == Sighting:
		return Reading{Seen: in.seen(m, s)}
	case !in.Fits(m):
		return Reading{Seen: in.lacks(m)}
	case in.runs != nil && in.runs(m, s) < dripM3S:
		return Reading{Seen: NothingRuns}
	}
	return Reading{Value: in.value(m, s)}
}

// Fits reports whether the unit has what it measures.
func (in *Instrument) Fits(m *plant.Model) bool { return in.lacks == nil || in.lacks(m) == "" }

// Over returns the exact reading of a test that has just ended and was begun the
// given seconds ago, when the books stood as in from.
func (in *Instrument) Over(m *plant.Model, s *plant.State, from *plant.Ledger, seconds float64) Reading {
	if in.booked == nil || seconds <= 0 {
		return in.Exact(m, s)
	}
	return Reading{Value: (in.booked(&s.Ledger) - in.booked(from)) / seconds}
}

// Noisy returns a reading as the technician gets it: with the instrument's noise,
// drawn from r, and rounded to its resolution.
func (in *Instrument) Noisy(x Reading, r *repro.Stream) Reading {
	if x.Seen != "" {
		return x
	}
	if in.Dial || in.Noise == 0 && in.Relative == 0 { // something counted or read off
		return in.Rounded(x)
	}
	return in.Rounded(Reading{Value: x.Value + float64(r.Normal()*in.Sigma(x.Value))})
}

// Rounded returns a reading rounded to what the instrument can show.
func (in *Instrument) Rounded(x Reading) Reading {
	if x.Seen != "" {
		return x
	}
	v := float64(math.Floor(x.Value/in.Resolution+0.5) * in.Resolution)
	if !in.Signed {
		v = math.Max(v, 0) // no gauge, bucket or tape reads below nothing
	}
	if in.Most > 0 {
		v = math.Min(v, in.Most)
	}
	return Reading{Value: v + 0} // + 0 turns −0 into 0
}

// Sigma is the standard deviation of a reading near v, rounding included.
func (in *Instrument) Sigma(v float64) float64 {
	return in.Noise + float64(in.Relative*math.Abs(v)) + float64(0.3*in.Resolution)
}

// Minutes, resolution and noise of the kit: common practice, no source.

// All returns every instrument, in its fixed order. Read only.
func All() []Instrument { return all }

var all = join(waterTests, pressureTests, flowTests, brineTests, driveTests, fixed(controllerTests), fixed(questions), fixed(looks))

func fixed(list []Instrument) []Instrument {
	for i := range list {
		list[i].Fixed = true
	}
	return list
}

func join(lists ...[]Instrument) (all []Instrument) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// Find returns the instrument of that ID.
func Find(id string) (*Instrument, bool) {
	for i := range all {
		if all[i].ID == id {
			return &all[i], true
		}
	}
	return nil, false
}

const (
	gpg = unit.GPG
	psi = unit.PSI
	gpm = unit.GPM
)
