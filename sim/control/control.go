// Package control models the time-clock controller: its clock and day counter,
// and the motor that drives the cam drum through the program.
package control

import (
	"math"

	"brinebench/sim/valve"
)

// State is the present state of the controller: plain data, written by Step only
// (and by whoever sets its clock). The zero value stands in service at midnight
// of day 0, unplugged, with a regeneration due at the first start time.
type State struct {
	Day          int     // days that its clock has counted
	ClockS       float64 // time of day its clock shows, s since midnight, 0 ≤ s < 86,400
	DrumDeg      float64 // drum angle, degrees, 0 ≤ a < 360
	Station      int     // index of the stop: present, or the one being driven to while Moving
	StationS     float64 // time in the station, s; 0 while Moving
	Moving       bool    // the motor is to drive the drum on (it stands still while unplugged)
	Regenerating bool    // away from service, or on the way
	DaysSince    int     // start times passed since the last regeneration began
	Skip         int     // with EveryDays: start times yet to let pass before the next regeneration
	Powered      bool    // plugged in at the last step
}

// Inputs are what the outside does to the controller during a step. The buttons
// work on the motor's circuit: unplugged, or with the motor already driving,
// they do nothing.
type Inputs struct {
	Powered    bool // plugged in
	StartNow   bool // the button for a regeneration now is pressed; it does nothing away from service
	AdvanceNow bool // the drum is sent on to the next stop now; from service to the first of a regeneration
}

// Step advances the controller by dtS seconds, however many: what happens within
// happens at its own moment. The clock is driven by its motor from the mains, so
// that unplugged neither clock nor drum moves. A manual regeneration leaves the
// schedule as it was; a start time that comes during one is let pass.
func Step(p *valve.Program, set *Settings, s *State, in Inputs, dtS float64) {
	s.Powered = in.Powered
	if !s.Powered {
		return
	}
	if !s.Moving && (in.AdvanceNow || in.StartNow && !s.Regenerating) {
		drive(p, s)
	}
	for dtS > 0 {
		dtS -= advance(p, set, s, dtS)
	}
}

// advance runs up to the next event or for dtS, whichever is less, and returns
// the time it took. An event's own figure is set exactly, so that the length of
// steps does not shift it by round-off.
func advance(p *valve.Program, set *Settings, s *State, dtS float64) float64 {
	midnight := dayS - s.ClockS
	start := untilStart(set, s)
	act := untilAct(p, set, s)
	h := math.Min(math.Min(dtS, act), math.Min(midnight, start))

	s.ClockS += h
	switch {
	case s.Moving:
		s.DrumDeg += float64(h * p.DrumDegS)
	default:
		s.StationS += h
	}
	if h == midnight {
		s.ClockS = 0
		s.Day++
	}
	if h == act {
		finish(p, s)
	}
	if h == start {
		s.ClockS = set.StartS
		startTime(p, set, s)
	}
	return h
}

// finish ends what the motor or the stop's timer was doing.
func finish(p *valve.Program, s *State) {
	if !s.Moving {
		drive(p, s)
		return
	}
	s.Moving = false
	s.DrumDeg = p.Stops[s.Station].AngleDeg
	s.Regenerating = s.Station != 0
}

// drive sends the drum to the next stop.
func drive(p *valve.Program, s *State) {
	if s.Station == 0 {
		s.Regenerating = true
		s.DaysSince = 0
	}
	s.Station = (s.Station + 1) % len(p.Stops)
	s.StationS = 0
	s.Moving = true
}

// startTime is what the day counter does when the clock comes to the time of start.
func startTime(p *valve.Program, set *Settings, s *State) {
	due := nightsToGo(set, s) == 0
	s.DaysSince++
	switch {
	case s.Skip > 0:
		s.Skip--
	case set.EveryDays > 0:
		s.Skip = set.EveryDays - 1
	}
	if due && !s.Regenerating {
		drive(p, s)
	}
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

// untilStart returns the seconds until the clock next comes to the time of
// start, never 0: at that time it has just been acted on.
func untilStart(set *Settings, s *State) float64 {
	if d := set.StartS - s.ClockS; d > 0 {
		return d
	}
	return dayS - s.ClockS + set.StartS
}

// untilAct returns the seconds until the drum arrives or the stop is over; +Inf in service.
func untilAct(p *valve.Program, set *Settings, s *State) float64 {
	switch {
	case s.Moving:
		end := p.Stops[s.Station].AngleDeg
		if s.Station == 0 {
			end = 360
		}
		return math.Max(0, (end-s.DrumDeg)/p.DrumDegS)
	case s.Regenerating:
		return math.Max(0, StationSeconds(p, set, s.Station)-s.StationS)
	}
	return math.Inf(1)
}

// NextChange returns the seconds until the controller next does something by
// itself, be it far off: start or stop of the motor. +Inf when it never will.
func NextChange(p *valve.Program, set *Settings, s *State) float64 {
	if !s.Powered {
		return math.Inf(1)
	}
	if s.Regenerating {
		return untilAct(p, set, s)
	}
	days := DaysToRegen(set, s)
	if days < 0 {
		return math.Inf(1)
	}
	return untilStart(set, s) + float64(dayS*days)
}

// StationSeconds returns the time the controller holds stop i, s.
func StationSeconds(p *valve.Program, set *Settings, i int) float64 {
	if p.Stops[i].ID == "refill" {
		return set.RefillS
	}
	return p.Stops[i].Seconds
}

// Remaining returns the time left in the present stop, s; 0 in service and while the drum moves.
func Remaining(p *valve.Program, set *Settings, s *State) float64 {
	if s.Moving || !s.Regenerating {
		return 0
	}
	return untilAct(p, set, s)
}

// DaysToRegen returns the whole days until the next automatic regeneration: 0
// within the coming 24 h; -1 when none is scheduled.
func DaysToRegen(set *Settings, s *State) int {
	next := *s
	if s.ClockS >= set.StartS {
		next.Day++ // today's start time has passed
	}
	return nightsToGo(set, &next)
}
