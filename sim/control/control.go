// Package control models the controllers of a softener, time clock and demand:
// clock and day counter, the count of the water, and the motor that drives the
// cam drum through the program.
package control

import (
	"math"

	"brinebench/sim/valve"
)

// noonS is where a clock that has lost the time goes on from: common practice, no source.
const noonS = 43200

// machine is a controller at work.
type machine struct {
	p   *valve.Program
	set *Settings
	w   *Wear
	s   *State
}

// Step advances the controller by dtS > 0 seconds, however many: what happens
// within happens at its own moment.
//
// Without power the drum and the time of a stop stand still and no water is
// counted; both go on where they were. The clock runs on for RunsWithoutS. Then
// it stands still until the power is back, or, if it ForgetsTime, goes on from
// noon of the same day when it is, Unset. A start time that comes without power,
// or in alarm, starts nothing: what falls due every so many days, by use or by
// OverrideDays stays due for the next one, a weekday has to come round again.
//
// A manual regeneration leaves the clock's schedule as it was; a start time that
// comes during one is let pass. The count of the water starts anew when a
// regeneration begins, whoever began it; water that passes the meter during one
// counts to the next.
func Step(p *valve.Program, set *Settings, w *Wear, s *State, in Inputs, dtS float64) {
	m := machine{p, set, w, s}
	if in.Home {
		m.home()
	}
	m.power(in.Plugged && in.Mains)
	if s.Powered {
		m.press(&in)
	}
	s.MeterM3S = 0
	if s.Powered && set.Kind == Demand {
		s.MeterM3S = in.MeterM3 / dtS
	}
	for dtS > 0 {
		dtS -= m.advance(dtS)
	}
}

// power switches it on or off. Power that comes back ends an alarm.
func (m *machine) power(on bool) {
	back := on && !m.s.Powered
	m.s.Powered = on
	if !back {
		return
	}
	m.s.SpentS = 0
	if m.s.Alarm {
		m.seekHome()
	}
}

func (m *machine) press(in *Inputs) {
	s := m.s
	switch {
	case s.Moving || !in.AdvanceNow && !in.StartNow:
	case s.Alarm:
		m.seekHome()
	case in.AdvanceNow || !s.Regenerating:
		m.drive()
	}
}

// advance runs up to the next event or for dtS, whichever is less, and returns
// the time it took. An event's own figure is set exactly, so that the length of
// steps does not shift it by round-off.
func (m *machine) advance(dtS float64) float64 {
	s := m.s
	m.forget()
	rate := m.clockRate()
	midnight, start := (dayS-s.ClockS)/rate, untilStart(m.set, s)/rate
	spent, stopEnds, usedUp := m.untilSpent(), m.untilStopEnds(), m.untilUsedUp()
	arrives, givesUp := m.untilArrives(), m.untilGivesUp()
	h := min(dtS, midnight, start, spent, stopEnds, usedUp, arrives, givesUp)

	m.turn(h)
	m.count(h)
	if !s.Powered {
		s.SpentS = math.Min(s.SpentS+h, m.set.RunsWithoutS)
	}
	if h == spent {
		s.SpentS = m.set.RunsWithoutS
	}
	starts := m.tick(h, float64(h*rate), midnight, start)
	switch h {
	case arrives:
		m.arrive()
	case givesUp:
		m.giveUp()
	case stopEnds, usedUp:
		m.drive()
	}
	if starts {
		m.startTime()
	}
	return h
}

// tick moves the clock on by clockS, h seconds of true time, and reports whether
// it has come to the time of start. Round-off can bring it to midnight or to the
// start just before their time is up; they have come then.
func (m *machine) tick(h, clockS, midnight, start float64) bool {
	s, was := m.s, m.s.ClockS
	s.ClockS += clockS
	newDay := h == midnight || s.ClockS >= dayS
	if newDay {
		was, s.ClockS = -1, 0
		s.Day++
		m.learn()
	}
	if h == start {
		s.ClockS = m.set.StartS
	}
	return was < m.set.StartS && s.ClockS >= m.set.StartS
}

// startTime is what the controller does when its clock comes to the time of start.
func (m *machine) startTime() {
	s, set := m.s, m.set
	due, able := m.due(), s.Powered && !s.Alarm
	s.DaysSince++
	switch {
	case set.Kind != Clock:
	case s.Skip > 0:
		s.Skip--
	case set.EveryDays > 0 && able:
		s.Skip = set.EveryDays - 1
	}
	if due && able && !s.Regenerating {
		m.drive()
	}
}

// clockRate returns the seconds that the clock gains in a second.
func (m *machine) clockRate() float64 {
	if !m.s.Powered && m.s.SpentS >= m.set.RunsWithoutS {
		return 0
	}
	return pace(m.w)
}

func pace(w *Wear) float64 { return 1 + w.DriftSPerDay/dayS }

// forget loses the time once a power cut has outlasted what the clock runs without.
func (m *machine) forget() {
	s := m.s
	if m.set.ForgetsTime && !s.Powered && s.SpentS >= m.set.RunsWithoutS {
		s.ClockS, s.Unset = noonS, true
	}
}

// untilSpent returns the seconds until the clock stops for want of power; +Inf when it does not.
func (m *machine) untilSpent() float64 {
	if left := m.set.RunsWithoutS - m.s.SpentS; !m.s.Powered && left > 0 {
		return left
	}
	return math.Inf(1)
}

// untilStart returns the seconds until the clock next comes to the time of
// start, never 0: at that time it has just been acted on.
func untilStart(set *Settings, s *State) float64 {
	if d := set.StartS - s.ClockS; d > 0 {
		return d
	}
	return dayS - s.ClockS + set.StartS
}
