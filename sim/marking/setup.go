package marking

import (
	"errors"
	"fmt"
	"math"

	"brinebench/sim/control"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// Setup is how an installer leaves a controller; SI units, but for those that name their
// own. What the other kind of controller has is not looked at.
type Setup struct {
	Demand       bool    // otherwise a clock
	NowS, ClockS float64 // time of day, and what the controller's clock shows then, s since midnight
	StartS       float64 // start time, s since midnight
	RefillS      float64 // for how long water is to run to the brine tank
	EveryDays    int     // clock; 0: on the weekdays
	Weekdays     [7]bool // clock, Monday first
	HardnessGPG  int     // demand, as are the next three
	CapacityKgr  int
	ReservePct   int
	OverrideDays int
}

// SetupItem is one line of the marks of a set-up.
type SetupItem struct {
	ID         string
	Points, Of float64
	Got, Want  float64 // SI; of a time of day s since midnight
}

// SetupMarks are the marks of a set-up and what becomes of the unit with it, and with
// the worked settings.
type SetupMarks struct {
	Score          float64 // of 100: 50 for the settings, 50 for the outcome
	Items          []SetupItem
	Outcome        []Item
	Answer, Worked outcome.Outcome
}

// What a clock and a start time may be off by: common practice, no source.
const (
	clockNearS  = 10 * unit.Minute
	nightBegins = 0
	nightEnds   = 4 * unit.Hour
	usualStart  = 2 * unit.Hour
	maxRefillS  = 4 * unit.Hour
)

// SetupJob returns the job with the other kind of controller if need be, and its worked
// sheet: the unit that stands there to be set up.
func SetupJob(j *sizing.Job, demand bool) (*sizing.Job, sizing.Sheet) {
	same := *j
	same.Demand = demand
	return &same, same.Completed(&sizing.Sheet{})
}

// Validate returns every fault of a set-up, joined, each naming its field.
func (u *Setup) Validate() error {
	var errs []error
	for _, x := range []struct {
		field string
		s     float64
	}{{"now_s", u.NowS}, {"clock_s", u.ClockS}, {"start_s", u.StartS}} {
		if !(x.s >= 0 && x.s < unit.Day) {
			errs = append(errs, fmt.Errorf("%s: %v is outside 0 to below 86400", x.field, x.s))
		}
	}
	if !(u.RefillS >= 0 && u.RefillS <= maxRefillS) {
		errs = append(errs, fmt.Errorf("refill_s: %v is outside 0 to %v", u.RefillS, float64(maxRefillS)))
	}
	if len(errs) == 0 {
		set := u.settings(u.RefillS)
		errs = set.Validate()
	}
	return errors.Join(errs...)
}

func (u *Setup) settings(refillStopS float64) control.Settings {
	set := control.Settings{StartS: u.StartS, RefillS: refillStopS}
	if !u.Demand {
		set.EveryDays, set.Weekdays = u.EveryDays, u.Weekdays
		return set
	}
	set.Kind = control.Demand
	set.HardnessGPG, set.CapacityKgr, set.ReservePct, set.OverrideDays = u.HardnessGPG, u.CapacityKgr, u.ReservePct, u.OverrideDays
	return set
}

// MarkSetup marks the set-up of the worked unit of a job, and lets it live for 90 days
// as it was set and as it should have been. progress and error are those of Compare; a
// set-up that Validate refuses is an error too.
func MarkSetup(j *sizing.Job, u *Setup, progress func(done float64) bool) (m SetupMarks, ok bool, err error) {
	if err := u.Validate(); err != nil {
		return m, false, err
	}
	job, sheet := SetupJob(j, u.Demand)
	m.settings(job, u, &sheet)
	half := func(from float64) func(done float64) bool {
		if progress == nil {
			return nil
		}
		return func(done float64) bool { return progress(from + float64(0.5*done)) }
	}
	midnight := u.ClockS - u.NowS // what the clock shows then
	if midnight < 0 {
		midnight += unit.Day
	}
	if m.Answer, ok, err = outcome.RunSet(job, &sheet, u.settings(sheet.RefillStopS(u.RefillS)), midnight, half(0)); err != nil || !ok {
		return m, ok, err
	}
	if m.Worked, ok, err = outcome.Run(job, &sheet, half(0.5)); err != nil || !ok {
		return m, ok, err
	}
	m.outcome()
	return m, true, nil
}

// settings marks each setting: by the tolerance of its figure.
func (m *SetupMarks) settings(job *sizing.Job, u *Setup, sheet *sizing.Sheet) {
	add := func(id string, of, got, want float64, right bool) {
		x := SetupItem{ID: id, Of: of, Got: got, Want: want}
		if right {
			x.Points = of
		}
		m.Items = append(m.Items, x)
		m.Score += x.Points
	}
	figure := func(of float64, f sizing.Figure, got float64) {
		add(f.ID(), of, got, sheet.Value[f], job.Right(f, got, sheet.Value[f]))
	}
	off := math.Abs(u.ClockS - u.NowS)
	add("clock", 8, u.ClockS, u.NowS, math.Min(off, unit.Day-off) <= clockNearS)
	add("start", 8, u.StartS, usualStart, u.StartS >= nightBegins && u.StartS <= nightEnds)
	figure(10, sizing.RefillTime, u.RefillS)
	if !u.Demand {
		figure(24, sizing.EveryDays, float64(u.longestGap()*unit.Day))
		return
	}
	figure(6, sizing.SetHardness, float64(float64(u.HardnessGPG)*unit.GPG))
	figure(6, sizing.SetCapacity, float64(float64(u.CapacityKgr)*unit.Kilograin))
	figure(6, sizing.SetReserve, float64(u.ReservePct))
	figure(6, sizing.OverrideDays, float64(float64(u.OverrideDays)*unit.Day))
}

// longestGap is the most days between two regenerations by the calendar; 0 where there
// are none.
func (u *Setup) longestGap() float64 {
	if u.EveryDays > 0 {
		return float64(u.EveryDays)
	}
	gap, longest, seen := 0, 0, false
	for i := range 2 * len(u.Weekdays) {
		gap++
		if u.Weekdays[i%len(u.Weekdays)] {
			if seen {
				longest = max(longest, gap)
			}
			gap, seen = 0, true
		}
	}
	return float64(longest)
}

// outcome marks what came of the unit as it was set: as for an answer, with other points.
func (m *SetupMarks) outcome() {
	soft := fading(hardShare(m.Answer), 0.01, 0.11)
	add := func(id, name string, of, part float64) {
		m.Outcome = append(m.Outcome, Item{id, name, float64(of * part), of})
		m.Score += float64(of * part)
	}
	add("soft", "Soft water in the house", 30, soft)
	add("salt", "Salt used", 12, float64(soft*fading(m.Answer.SaltKg, float64(1.15*m.Worked.SaltKg), float64(2.5*m.Worked.SaltKg))))
	add("water", "Water to the drain", 8, float64(soft*fading(m.Answer.DrainM3, float64(1.35*m.Worked.DrainM3), float64(2.5*m.Worked.DrainM3))))
}
