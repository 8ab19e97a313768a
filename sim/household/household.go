// Package household makes the daily schedule of water use in a house: seeded,
// so that any day can be made again from the seed and its number.
package household

import (
	"fmt"
	"math"
)

const dayS = 86400

// What bounds a household: people in it at a time, and its leak, m³/s.
const (
	maxPeople  = 20
	maxLeakM3S = 1e-3
)

// ReferencePa is the pressure at the fixture at which nominal flows hold, Pa
// gauge (about 44 psi). A fixture's opening is its nominal flow at this pressure.
const ReferencePa = 300e3

// Fixture is one fixture or appliance. It serves one use at a time.
type Fixture struct {
	ID, Name string
	FlowM3S  float64     // nominal flow while running, m³/s at ReferencePa
	Seconds  float64     // mean length of one run, s
	Spread   float64     // relative standard deviation of that length, 0..0.4
	Runs     int         // runs in one use: 1, or the fills of an appliance
	GapS     float64     // from the end of one run to the start of the next in a use, s
	PerDay   float64     // uses per person and day
	Hours    [24]float64 // relative frequency of a use by hour of the day
	Units    float64     // water supply fixture units, cold and hot together, 0..20; see DesignM3S
}

// Spec is a household: who lives there, what they have, who comes and goes.
type Spec struct {
	People   int
	Seed     uint64
	Fixtures []Fixture
	Visits   []Visit
	LeakM3S  float64 // what a running toilet or a dripping tap draws day and night, m³/s at ReferencePa, 0..0.001
	BlockS   float64 // stretch of the day whose draws are taken together in one, s, 0..86,400; 0: every draw by itself
}

// Visit is a change of the number of people in the house, on the days
// FromDay ≤ day < ToDay. New occupants are a visit without an end.
type Visit struct {
	FromDay int // first day, from 0
	ToDay   int // first day without it; 0: it stays for good
	People  int // guests who come; of the people of the house who go away, if negative
}

// State is the present state of the household: plain data, written by Start and
// Advance only. Day and TimeS tell all; the rest follows from them and the Spec.
type State struct {
	Day   int     // day number, from 0
	TimeS float64 // time of day, s since midnight, 0 ≤ t < 86,400
	Draws []Draw  // the day's draws by start; replaced at midnight, never written into, so copies of State may share it
	Next  int     // index of the first draw that has not started
}

// Validate returns every fault of the spec, each naming its field.
func (sp *Spec) Validate() []error {
	var errs []error
	if sp.People < 0 || sp.People > maxPeople {
		errs = append(errs, fmt.Errorf("people: %d is outside 0 to %d", sp.People, maxPeople))
	}
	if !(sp.LeakM3S >= 0 && sp.LeakM3S <= maxLeakM3S) {
		errs = append(errs, fmt.Errorf("leak_m3_s: %v is outside 0 to %v", sp.LeakM3S, maxLeakM3S))
	}
	if !(sp.BlockS >= 0 && sp.BlockS <= dayS) {
		errs = append(errs, fmt.Errorf("block_s: %v is outside 0 to %d", sp.BlockS, dayS))
	}
	for i := range sp.Fixtures {
		for _, err := range sp.Fixtures[i].validate() {
			errs = append(errs, fmt.Errorf("fixtures[%d].%w", i, err))
		}
	}
	for i := range sp.Visits {
		for _, err := range sp.validateVisit(&sp.Visits[i]) {
			errs = append(errs, fmt.Errorf("visits[%d].%w", i, err))
		}
	}
	return errs
}

func (sp *Spec) validateVisit(v *Visit) []error {
	var errs []error
	if v.FromDay < 0 {
		errs = append(errs, fmt.Errorf("from_day: %d is negative", v.FromDay))
	}
	if v.ToDay != 0 && v.ToDay <= v.FromDay {
		errs = append(errs, fmt.Errorf("to_day: %d is not after from_day %d", v.ToDay, v.FromDay))
	}
	switch {
	case v.People == 0 || v.People < -maxPeople || v.People > maxPeople:
		errs = append(errs, fmt.Errorf("people: %d is 0 or outside %d to %d", v.People, -maxPeople, maxPeople))
	case v.People > 0 && sp.PeopleOn(v.FromDay) > maxPeople:
		errs = append(errs, fmt.Errorf("people: with all others makes %d in the house, more than %d", sp.PeopleOn(v.FromDay), maxPeople))
	}
	return errs
}

// PeopleOn returns how many people are in the house on a day: those who live
// there and all visits, never below 0.
func (sp *Spec) PeopleOn(day int) int {
	people := sp.People
	for _, v := range sp.Visits {
		if day >= v.FromDay && (v.ToDay == 0 || day < v.ToDay) {
			people += v.People
		}
	}
	return max(people, 0)
}

func (f *Fixture) validate() []error {
	var errs []error
	check := func(field string, v, lo, hi float64) {
		if !(v >= lo && v <= hi) {
			errs = append(errs, fmt.Errorf("%s: %v is outside %v to %v", field, v, lo, hi))
		}
	}
	if f.ID == "" {
		errs = append(errs, fmt.Errorf("id: empty"))
	}
	check("units", f.Units, 0, 20)
	check("flow_m3_s", f.FlowM3S, 0, 0.01)
	check("seconds", f.Seconds, 1, 7200)
	check("spread", f.Spread, 0, 0.4)
	check("runs", float64(f.Runs), 1, 10)
	check("gap_s", f.GapS, 0, 7200)
	check("per_day", f.PerDay, 0, 50)
	sum := 0.0
	for h, w := range f.Hours {
		check(fmt.Sprintf("hours[%d]", h), w, 0, 1e6)
		sum += w
	}
	if sum == 0 {
		errs = append(errs, fmt.Errorf("hours: all zero"))
	}
	return errs
}

// Start returns the state at a moment of a day: timeS s since midnight, 0 ≤ timeS < 86,400.
func Start(sp *Spec, day int, timeS float64) State {
	s := State{Day: day, TimeS: timeS, Draws: DayDraws(sp, day)}
	s.passStarts()
	return s
}

// Advance moves the household on by dt seconds, however many.
func Advance(sp *Spec, s *State, dt float64) {
	s.TimeS += dt
	for s.TimeS >= dayS {
		s.TimeS -= dayS
		s.Day++
		if s.TimeS < dayS {
			s.Draws, s.Next = DayDraws(sp, s.Day), 0
		}
	}
	s.passStarts()
}

func (s *State) passStarts() {
	for s.Next < len(s.Draws) && s.Draws[s.Next].StartS <= s.TimeS {
		s.Next++
	}
}

// Running calls f for every draw that runs now.
func Running(s *State, f func(d *Draw)) {
	for i := range s.Draws[:s.Next] {
		if d := &s.Draws[i]; d.EndS > s.TimeS {
			f(d)
		}
	}
}

// FlowAt returns the nominal flow now, the leak and all running fixtures together, m³/s at ReferencePa.
func FlowAt(sp *Spec, s *State) float64 {
	flow := sp.LeakM3S
	Running(s, func(d *Draw) { flow += d.FlowM3S })
	return flow
}

// NextChange returns the seconds until a draw starts or ends, or the day does. A
// leak never changes.
func NextChange(s *State) float64 {
	at := float64(dayS)
	if s.Next < len(s.Draws) {
		at = s.Draws[s.Next].StartS
	}
	Running(s, func(d *Draw) { at = math.Min(at, d.EndS) })
	return at - s.TimeS
}
