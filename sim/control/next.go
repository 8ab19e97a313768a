package control

import (
	"math"

	"brinebench/sim/valve"
)

// NextChange returns the seconds until the controller next does something by
// itself, be it far off: start or stop of the motor. +Inf when it never will.
// For a demand controller it is the earliest that can be told: the next start
// time, where it decides, or when the capacity is used up at the flow of the
// last step; a flow that rises can bring the start forward.
func NextChange(p *valve.Program, set *Settings, w *Wear, s *State) float64 {
	m := machine{p, set, w, s}
	if !s.Powered || s.Alarm {
		return math.Inf(1)
	}
	if s.Regenerating {
		return min(m.untilStopEnds(), m.untilArrives(), m.untilGivesUp())
	}
	nights := -1
	switch {
	case set.Kind == Clock:
		nights = DaysToRegen(set, s)
	case set.When == AtNight:
		nights = 0
	default:
		nights = nightsToOverride(set, s)
	}
	if nights < 0 {
		return m.untilUsedUp()
	}
	return math.Min(m.untilUsedUp(), (untilStart(set, s)+float64(dayS*nights))/pace(w))
}

// StationSeconds returns the time the controller holds stop i, s.
func StationSeconds(p *valve.Program, set *Settings, i int) float64 {
	if p.Stops[i].ID == "refill" {
		return set.RefillS
	}
	return p.Stops[i].Seconds
}

// Remaining returns the time left in the present stop, s; 0 in service, in alarm and while the drum moves.
func Remaining(p *valve.Program, set *Settings, s *State) float64 {
	if s.Moving || !s.Regenerating {
		return 0
	}
	return math.Max(0, StationSeconds(p, set, s.Station)-s.StationS)
}

// DaysToRegen returns the whole days until the next automatic regeneration: 0
// within the coming 24 h; -1 when none is scheduled. For a demand controller it
// is an estimate from the mean use of a day, and -1 as long as that is not known
// and no OverrideDays are set.
func DaysToRegen(set *Settings, s *State) int {
	switch {
	case s.Alarm:
		return -1
	case set.Kind == Demand:
		use, override := daysToUse(set, s), nightsToOverride(set, s)
		if use < 0 || override >= 0 && override < use {
			return override
		}
		return use
	}
	next := *s
	if s.ClockS >= set.StartS {
		next.Day++ // today's start time has passed
	}
	return nightsToGo(set, &next)
}

// nightsToGo returns how many start times pass before one that regenerates,
// counted from the state just before a start time on s.Day; -1 for never.
func nightsToGo(set *Settings, s *State) int {
	if set.EveryDays > 0 {
		return s.Skip
	}
	for n := range 7 {
		if set.Weekdays[(s.Day+n)%7] {
			return n
		}
	}
	return -1
}
