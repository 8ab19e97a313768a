package control

import (
	"fmt"

	"brinebench/sim/unit"
)

const dayS = 86400

// The bounds of what can be set: s, days, grains per gallon, kilograins, per cent.
const (
	maxRefillS      = 14400
	MaxEveryDays    = 99
	MaxHardnessGPG  = 99
	MaxCapacityKgr  = 99
	MaxReservePct   = 90
	MaxOverrideDays = 30
	maxRunsWithoutS = 365 * dayS
)

// Kind is what a controller regenerates by.
type Kind int

// The kinds of controller.
const (
	Clock  Kind = iota // by the calendar
	Demand             // by the water that has passed the meter
)

// When is the moment at which a demand controller regenerates.
type When int

// The moments: the first holds the capacity of a day back, the second uses all of it.
const (
	AtNight   When = iota // at the start time that finds no more than the reserve left
	Immediate             // as soon as the capacity is used up; no reserve
)

// Reserve is how a demand controller that regenerates at night finds its reserve.
type Reserve int

// The kinds of reserve.
const (
	Fixed    Reserve = iota // ReservePct of the capacity
	Learning                // the greatest use of a day of the last week, see GreatestDayM3; as Fixed until a day is known
)

// Settings are what the installer has set on the controller, and of which make
// it is. A controller heeds the settings of its own kind only.
type Settings struct {
	Kind    Kind
	StartS  float64 // time of day of the automatic start, s since midnight, 0 ≤ s < 86,400
	RefillS float64 // time of the refill stop, s, in place of the program's; set by the salt dose

	EveryDays int     // clock: regenerate every so many days; 0: on the chosen weekdays
	Weekdays  [7]bool // clock: nights to regenerate when EveryDays is 0, by Day mod 7, 0 is Monday; none chosen: never

	HardnessGPG  int     // demand: hardness of the feed, grains per US gallon, 1..99
	CapacityKgr  int     // demand: capacity of the bed at the salt dose, thousands of grains, 1..99
	When         When    // demand
	Reserve      Reserve // demand, at night
	ReservePct   int     // demand, at night: reserve, per cent of the capacity, 0..90
	OverrideDays int     // demand: regenerate this many start times after the last at the latest, 1..30; 0: no such limit

	RunsWithoutS float64 // how long the clock goes on without power, s; 0 for a plain motor clock
	ForgetsTime  bool    // after that it has lost the time and goes on from noon, instead of standing still
	Sensed       bool    // the drum's position is sensed; otherwise the controller trusts its own count
}

// CapacityM3 returns the water that a demand controller expects the bed to soften, m³.
func (set *Settings) CapacityM3() float64 {
	return float64(float64(1000*set.CapacityKgr) / float64(set.HardnessGPG) * unit.USGallon)
}

// Validate returns every fault of the settings, each naming its field.
func (set *Settings) Validate() []error {
	var errs []error
	fault := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if !(set.StartS >= 0 && set.StartS < dayS) {
		fault("start_s: %v is outside 0 to below %d", set.StartS, dayS)
	}
	if !(set.RefillS >= 0 && set.RefillS <= maxRefillS) {
		fault("refill_s: %v is outside 0 to %d", set.RefillS, maxRefillS)
	}
	if !(set.RunsWithoutS >= 0 && set.RunsWithoutS <= maxRunsWithoutS) {
		fault("runs_without_s: %v is outside 0 to %d", set.RunsWithoutS, maxRunsWithoutS)
	}
	switch set.Kind {
	case Clock:
		set.validateClock(fault)
	case Demand:
		set.validateDemand(fault)
	default:
		fault("kind: %d is neither clock nor demand", set.Kind)
	}
	return errs
}

func (set *Settings) validateClock(fault func(string, ...any)) {
	if set.EveryDays < 0 || set.EveryDays > MaxEveryDays {
		fault("every_days: %d is outside 0 to %d", set.EveryDays, MaxEveryDays)
	}
	if set.EveryDays > 0 && set.Weekdays != [7]bool{} {
		fault("weekdays: chosen although every_days is %d", set.EveryDays)
	}
}

func (set *Settings) validateDemand(fault func(string, ...any)) {
	check := func(field string, v, lo, hi int) {
		if v < lo || v > hi {
			fault("%s: %d is outside %d to %d", field, v, lo, hi)
		}
	}
	check("hardness_gpg", set.HardnessGPG, 1, MaxHardnessGPG)
	check("capacity_kgr", set.CapacityKgr, 1, MaxCapacityKgr)
	check("reserve_pct", set.ReservePct, 0, MaxReservePct)
	check("override_days", set.OverrideDays, 0, MaxOverrideDays)
	if set.When != AtNight && set.When != Immediate {
		fault("when: %d is neither at night nor immediate", set.When)
	}
	if set.Reserve != Fixed && set.Reserve != Learning {
		fault("reserve: %d is neither fixed nor learning", set.Reserve)
	}
}
