package sizing

import (
	"math"
	"slices"

	"brinebench/sim/control"
	"brinebench/sim/unit"
)

// hair is what rounding may be off by where a figure is made whole.
const hair = 1e-9

// settings are the rules of what is set on a controller: whole numbers, on the safe side.
var settings = [NumFigures]rule{
	EveryDays: {
		formula: "n rounded down, 1 to 14 (7 with iron)",
		value:   func(j *Job, s *Sheet) float64 { return float64(j.clockDays(s) * unit.Day) },
		words:   true,
		with:    func(n terms) string { return n.of(Interval) + ", rounded down" },
		below:   0.34, above: 0.01, source: practice, points: 1,
	},
	SetHardness: {
		formula: "Hc rounded up to whole gpg, in which the controller counts",
		value: func(_ *Job, s *Sheet) float64 {
			return float64(math.Ceil(s.Value[CompensatedHardness]/unit.GPG-hair) * unit.GPG)
		},
		words: true,
		with:  func(n terms) string { return n.set(SetHardness, CompensatedHardness, "gpg") + ", rounded up" },
		below: 0.001, above: 0.06, least: 1.01 * unit.GPG, source: practice, points: 1,
	},
	SetCapacity: {
		formula: "C rounded down to whole kilograin, in which the controller counts",
		value: func(_ *Job, s *Sheet) float64 {
			return float64(math.Max(1, math.Floor(s.Value[Capacity]/unit.Kilograin+hair)) * unit.Kilograin)
		},
		words: true,
		with:  func(n terms) string { return n.set(SetCapacity, Capacity, "kilograin") + ", rounded down" },
		below: 0.1, above: 0.05, source: practice, points: 1,
	},
	SetReserve: {
		formula: "Cr ÷ C rounded up",
		value: func(_ *Job, s *Sheet) float64 {
			return math.Max(1, math.Min(control.MaxReservePct, math.Ceil(100*s.Value[Reserve]/math.Max(s.Value[SetCapacity], unit.Kilograin)-hair)))
		},
		words: true,
		with:  func(n terms) string { return n.of(Reserve) + " ÷ " + n.of(SetCapacity) + ", rounded up" },
		below: 0.15, above: 0.3, least: 2, source: practice, points: 1,
	},
	OverrideDays: {
		formula: "14, with iron 7",
		value:   func(j *Job, _ *Sheet) float64 { return float64(j.mostDaysBetween() * unit.Day) },
		with:    func(n terms) string { return Days.Text(float64(n.j.mostDaysBetween()*unit.Day), n.sys) },
		below:   0.5, above: 0.01, source: practice, points: 1,
	},
}

// units are those that a figure may be written in, the usual one first: of what a controller
// counts in whole units that one, whatever system is read.
func (f Figure) units(sys System) []Unit {
	list := f.Kind().units(sys)
	of := func(own Unit) []Unit {
		return append([]Unit{own}, slices.DeleteFunc(list, func(u Unit) bool { return u.Name == own.Name })...)
	}
	switch us := f.Kind().units(US); f {
	case SetHardness:
		return of(us[0]) // gpg
	case SetCapacity:
		return of(us[1]) // kilograin
	}
	return list
}

// clockDays is what a clock is set to, days.
func (j *Job) clockDays(s *Sheet) float64 {
	return math.Max(1, math.Min(j.mostDaysBetween(), math.Floor(s.Value[Interval]/unit.Day+hair)))
}

// daysBetween is how long the job's controller lets the bed go in the design's house, days.
func (j *Job) daysBetween(s *Sheet) float64 {
	if !j.Demand {
		return j.clockDays(s)
	}
	return math.Max(1, math.Min(j.mostDaysBetween(), s.Value[Interval]/unit.Day))
}
