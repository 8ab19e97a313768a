package control

import (
	"math"

	"brinebench/sim/unit"
)

// maxDaysToUse bounds an estimate for a house that hardly draws, days.
const maxDaysToUse = 999

// count adds the water of h seconds. The meter's flow is even within a step.
func (m *machine) count(h float64) {
	by := float64(m.s.MeterM3S * h)
	m.s.UsedM3 += by
	m.s.TodayM3 += by
}

// learn books the day that has ended.
func (m *machine) learn() {
	s := m.s
	if m.set.Kind != Demand {
		return
	}
	copy(s.WeekM3[1:], s.WeekM3[:])
	s.WeekM3[0], s.TodayM3 = s.TodayM3, 0
	s.KnownDays = min(s.KnownDays+1, len(s.WeekM3))
}

// MeanDayM3 returns the mean use of the last seven days, or of as many as are
// known, m³; 0 before any is. Days run from midnight to midnight of the
// controller's clock; one without power for a time counts for what was counted.
// A plain mean is ours: that a reserve follows the use of late is common
// practice, no source.
func MeanDayM3(s *State) float64 {
	sum := 0.0
	for _, v := range s.WeekM3[:s.KnownDays] {
		sum += v
	}
	return sum / float64(max(1, s.KnownDays))
}

// GreatestDayM3 returns the greatest use of the same days, m³: a reserve of the mean
// would fall short on every other last day.
func GreatestDayM3(s *State) float64 {
	most := 0.0
	for _, v := range s.WeekM3[:s.KnownDays] {
		most = math.Max(most, v)
	}
	return most
}

// ReserveM3 returns what a demand controller keeps for the day until the next
// night, m³; 0 when it regenerates at once.
func ReserveM3(set *Settings, s *State) float64 {
	switch {
	case set.When == Immediate:
		return 0
	case set.Reserve == Learning && s.KnownDays > 0:
		return GreatestDayM3(s)
	}
	return set.CapacityM3() * float64(set.ReservePct) / 100
}

// RemainingM3 returns the water that a demand controller believes the bed can
// still soften, reserve included, m³, ≥ 0.
func RemainingM3(set *Settings, s *State) float64 {
	return math.Max(0, set.CapacityM3()-s.UsedM3)
}

// RemainingGrains returns the same in grains as CaCO3.
func RemainingGrains(set *Settings, s *State) float64 {
	return RemainingM3(set, s) / unit.USGallon * float64(set.HardnessGPG)
}

// untilUsedUp returns the seconds until a demand controller starts because the
// capacity is used up, at the present flow; +Inf when it does not.
func (m *machine) untilUsedUp() float64 {
	s, set := m.s, m.set
	if set.Kind != Demand || set.When != Immediate || !s.Powered || s.Alarm || s.Regenerating {
		return math.Inf(1)
	}
	left := RemainingM3(set, s)
	switch {
	case left == 0:
		return 0
	case s.MeterM3S <= 0:
		return math.Inf(1)
	}
	return left / s.MeterM3S
}

// due reports whether the start time to which the clock has just come, not yet
// counted in DaysSince and Skip, is one to regenerate at.
func (m *machine) due() bool {
	s, set := m.s, m.set
	if set.Kind == Clock {
		return nightsToGo(set, s) == 0
	}
	return nightsToOverride(set, s) == 0 ||
		set.When == AtNight && RemainingM3(set, s) <= ReserveM3(set, s)
}

// nightsToOverride returns how many start times pass before one that regenerates
// by OverrideDays, counted from just before one; -1 for never.
func nightsToOverride(set *Settings, s *State) int {
	if set.OverrideDays == 0 {
		return -1
	}
	return max(0, set.OverrideDays-1-s.DaysSince)
}

// daysToUse estimates from the mean use of a day how many whole days, or at
// night start times, pass before the one that brings a regeneration by use; -1
// when no use is known.
func daysToUse(set *Settings, s *State) int {
	mean := MeanDayM3(s)
	left := RemainingM3(set, s) - ReserveM3(set, s)
	switch {
	case left <= 0:
		return 0
	case mean <= 0:
		return -1
	}
	days := math.Min(left/mean, maxDaysToUse)
	if set.When == Immediate {
		return int(math.Floor(days))
	}
	return int(math.Max(0, -math.Floor(untilStart(set, s)/dayS-days)))
}
