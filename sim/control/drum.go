package control

import (
	"math"

	"brinebench/sim/valve"
)

// giveUpTimes the time that a travel should take is how long a sensed controller
// looks for a stop: common practice, no source for the figure.
const giveUpTimes = 3

// pastDeg is how far behind the drum a stop counts as just reached, degrees:
// more than round-off, less than any mark.
const pastDeg = 1e-6

// drive sends the drum to the next stop; from service it begins a regeneration.
//
// A sensed controller drives until it senses the stop and gives up after
// giveUpTimes the time that should take. An unsensed one drives for that time
// and then believes that the drum is there.
func (m *machine) drive() {
	s := m.s
	if s.Station == 0 {
		s.DaysSince, s.UsedM3 = 0, 0
	}
	from := m.p.Stops[s.Station].AngleDeg
	s.Station = (s.Station + 1) % len(m.p.Stops)
	m.seek(m.endDeg() - from)
}

// seekHome ends an alarm by looking for service, wherever the drum may be.
func (m *machine) seekHome() {
	m.s.Alarm, m.s.Station = false, 0
	m.seek(360)
}

// seek starts the motor for the stop Station, at most deg ahead.
func (m *machine) seek(deg float64) {
	s := m.s
	s.Regenerating, s.Moving, s.StationS = true, true, 0
	if m.set.Sensed {
		s.SeekS = giveUpTimes * deg / m.p.DrumDegS
	}
}

// endDeg is the angle of the stop Station as the drum comes to it: service is at 360.
func (m *machine) endDeg() float64 {
	if m.s.Station == 0 {
		return 360
	}
	return m.p.Stops[m.s.Station].AngleDeg
}

// turn runs motor and stop timer for h seconds.
func (m *machine) turn(h float64) {
	s := m.s
	switch {
	case !s.Powered || s.Alarm:
	case !s.Moving:
		s.StationS += h
	default:
		by := float64(h * m.p.DrumDegS)
		if m.turns() {
			s.DrumDeg = wrap(s.DrumDeg + by)
		}
		if m.set.Sensed {
			s.SeekS -= h
		} else {
			s.CountDeg += by
		}
	}
}

// turns reports whether the drum follows when the motor is driven.
func (m *machine) turns() bool { return !m.w.MotorDead && !m.w.GearStripped }

// arrive ends a travel at the stop Station. What round-off has added to the count
// is taken off the drum as well, so that a drum in step is exactly at the stop.
func (m *machine) arrive() {
	s := m.s
	at := m.p.Stops[s.Station].AngleDeg
	switch {
	case m.set.Sensed:
		s.DrumDeg = at
	case m.turns():
		s.DrumDeg = wrap(s.DrumDeg + (m.endDeg() - s.CountDeg))
	}
	s.CountDeg, s.SeekS = at, 0
	s.Moving = false
	s.Regenerating = s.Station != 0
}

// giveUp leaves the drum where it is, in alarm.
func (m *machine) giveUp() {
	s := m.s
	s.Moving, s.Regenerating, s.Alarm, s.SeekS = false, false, true, 0
}

// home is what a person does who puts drum and pointer to service by hand.
func (m *machine) home() {
	s := m.s
	s.DrumDeg, s.CountDeg, s.Station, s.StationS, s.SeekS = 0, 0, 0, 0, 0
	s.Moving, s.Regenerating, s.Alarm = false, false, false
}

// untilArrives returns the seconds until the controller finds, or believes, the
// drum at the stop Station; +Inf when it is not driven or that never comes.
func (m *machine) untilArrives() float64 {
	s := m.s
	switch {
	case !s.Powered || !s.Moving:
		return math.Inf(1)
	case !m.set.Sensed:
		return math.Max(0, (m.endDeg()-s.CountDeg)/m.p.DrumDegS)
	case m.w.SensorLost:
		return math.Inf(1)
	}
	ahead := wrap(m.p.Stops[s.Station].AngleDeg - s.DrumDeg)
	switch {
	case ahead == 0 || ahead > 360-pastDeg:
		return 0
	case !m.turns():
		return math.Inf(1)
	}
	return ahead / m.p.DrumDegS
}

// untilGivesUp returns the seconds until a sensed controller gives up looking; +Inf when it does not look.
func (m *machine) untilGivesUp() float64 {
	if !m.s.Powered || !m.s.Moving || !m.set.Sensed {
		return math.Inf(1)
	}
	return math.Max(0, m.s.SeekS)
}

// untilStopEnds returns the seconds left at the present stop; +Inf in service, in alarm and while it drives.
func (m *machine) untilStopEnds() float64 {
	s := m.s
	if !s.Powered || s.Moving || !s.Regenerating {
		return math.Inf(1)
	}
	return math.Max(0, StationSeconds(m.p, m.set, s.Station)-s.StationS)
}

// wrap brings an angle to 0 ≤ a < 360.
func wrap(deg float64) float64 {
	for deg < 0 {
		deg += 360
	}
	for deg >= 360 {
		deg -= 360
	}
	return deg
}

// StopAt returns the index of the stop that the drum truly stands in at an angle,
// degrees, 0 ≤ a < 360: the nearest, if it is within tolDeg; otherwise -1.
func StopAt(p *valve.Program, drumDeg, tolDeg float64) int {
	at, best := -1, tolDeg
	for i := range p.Stops {
		d := math.Abs(p.Stops[i].AngleDeg - drumDeg)
		if d = math.Min(d, 360-d); d <= best {
			at, best = i, d
		}
	}
	return at
}

// MotorTurns reports whether the motor can be heard to turn.
func MotorTurns(w *Wear, s *State) bool { return s.Powered && s.Moving && !w.MotorDead }
