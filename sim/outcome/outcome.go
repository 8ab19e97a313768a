// Package outcome lets a sized unit live in its household for 90 days and tells what
// comes of it: the plant of package plant decides, not a rule.
package outcome

import (
	"fmt"
	"math"

	"brinebench/sim/control"
	"brinebench/sim/household"
	"brinebench/sim/plant"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Days is how long a unit is followed.
const Days = 90

// Outcome is what came of a unit in its household.
type Outcome struct {
	HardDays      []int   // days on which hard water came to the house, from 0
	HardM3        float64 // water to the house above 1 gpg, m³
	HouseM3       float64 // all water to the house, m³
	LeakMolM3     float64 // mean hardness of the water to the house, mol/m³
	SaltKg        float64 // salt used
	DrainM3       float64 // water to the drain, m³
	Regenerations int
	PeakM3S       float64 // greatest flow that the house asked for, nominal, m³/s
	PeakLossPa    float64 // pressure that the unit takes at it
	PeakLeftPa    float64 // pressure left at the taps then
	Unsolved      int     // steps whose network did not converge; 0
}

const (
	// blockS is the stretch of the day whose draws are taken together, s: an hour. The
	// days' hardness then is that of package plant with every draw by itself, within
	// what is told in TestAnHourInOneGoIsAsGoodAsEveryDraw.
	blockS = 3600
	// hardM3: a day counts as hard from so much water above 1 gpg on, m³; below it are
	// the flushes of a night's regeneration, in which the house gets raw water. Common
	// practice, no source.
	hardM3 = 0.04
)

// Run lets the unit of a complete sheet live in its household for Days from its first
// regeneration on. progress, if given, hears how far it has come, 0..1, and stops the
// run by false: then ok is false. The error is that of a sheet that no plant can be
// made of.
func Run(j *sizing.Job, s *sizing.Sheet, progress func(done float64) bool) (o Outcome, ok bool, err error) {
	return RunSet(j, s, j.Settings(s), 0, progress)
}

// RunSet is Run with the controller set otherwise than the sheet says; at midnight its
// clock shows clockS, s.
func RunSet(j *sizing.Job, s *sizing.Sheet, set control.Settings, clockS float64, progress func(done float64) bool) (o Outcome, ok bool, err error) {
	cfg := j.Config(s)
	cfg.Control, cfg.Calendar.Skip = set, max(0, set.EveryDays-1)
	m, err := plant.New(cfg)
	if err != nil {
		return o, false, fmt.Errorf("answer: %w", err)
	}
	o.peak(j, s, &cfg.House)
	m = m.Swift(blockS)
	st := m.Start(plant.Healthy())
	control.SetClock(&st.Control, 0, clockS)
	regenerating, hard := false, 0.0
	for day := range Days {
		end := float64(float64(day+1) * unit.Day)
		for st.TimeS < end {
			m.Step(st, math.Min(m.MaxStep(st), math.Max(end-st.TimeS, 0.05)))
			if st.Control.Regenerating && !regenerating {
				o.Regenerations++
			}
			regenerating = st.Control.Regenerating
		}
		if got := st.Ledger.HouseHardM3; got-hard > hardM3 {
			o.HardDays = append(o.HardDays, day)
		}
		hard = st.Ledger.HouseHardM3
		m.AddSalt(st, m.SaltMissingKg(st))
		if progress != nil && !progress(float64(day+1)/Days) {
			return o, false, nil
		}
	}
	m.Exchange(st)
	o.books(st)
	return o, true, nil
}

// books takes over what the ledger says.
func (o *Outcome) books(st *plant.State) {
	l := &st.Ledger
	o.HardM3, o.HouseM3, o.DrainM3 = l.HouseHardM3, l.HouseM3, l.DrainM3
	if l.HouseM3 > 0 {
		o.LeakMolM3 = l.HouseMol.Hardness() / l.HouseM3
	}
	o.SaltKg = float64((l.TankOutMol.Anion() - l.TankInMol.Anion()) * water.MolarMassNaCl)
	o.Unsolved = st.Unsolved
}

// peak finds the greatest flow of the days, and the pressures at it.
func (o *Outcome) peak(j *sizing.Job, s *sizing.Sheet, house *household.Spec) {
	o.PeakM3S = household.PeakM3S(house, 0, Days)
	if o.PeakM3S > 0 {
		o.PeakLossPa, o.PeakLeftPa = j.UnitLossPa(s, o.PeakM3S), j.LeftPa(s, o.PeakM3S)
	}
}
