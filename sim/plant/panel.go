package plant

import (
	"math"

	"brinebench/sim/control"
	"brinebench/sim/unit"
)

// settings are those of the controller as they are set now, rightly or wrongly.
func (m *Model) settings(c *Condition) control.Settings {
	set := m.cfg.Control
	scaled := func(v int, by float64, most int) int {
		if v == 0 || by == 1 {
			return v
		}
		return min(most, max(1, int(math.Floor(float64(float64(v)*by)+0.5))))
	}
	set.EveryDays = scaled(set.EveryDays, c.DaysSet, control.MaxEveryDays)
	set.OverrideDays = scaled(set.OverrideDays, c.DaysSet, control.MaxOverrideDays)
	set.HardnessGPG = scaled(set.HardnessGPG, c.HardnessSet, control.MaxHardnessGPG)
	set.CapacityKgr = scaled(set.CapacityKgr, c.CapacitySet, control.MaxCapacityKgr)
	set.RefillS *= c.DoseSet
	return set
}

// wear is what is wrong with the drive.
func (c *Condition) wear() control.Wear {
	return control.Wear{
		MotorDead: c.MotorDead > 0.5, GearStripped: c.GearStripped > 0.5, SensorLost: c.SensorLost > 0.5,
		DriftSPerDay: c.DriftSPerDay,
	}
}

// MeterM3S is the flow that turns the meter, m³/s.
func (m *Model) MeterM3S(s *State) float64 {
	return float64(math.Max(0, s.Net.Q[linkBypassOut]) * s.Cond.MeterTurns)
}

// Lit reports whether the controller has current: plugged in, with power in the house and
// a sound plug-in supply.
func (s *State) Lit() bool { return s.Powered && s.mains() }

func (s *State) mains() bool { return !s.PowerCut && s.Cond.CurrentLost <= 0.5 }

// drive moves the controller on by dt.
func (m *Model) drive(s *State, dt float64) {
	set, wear := m.settings(&s.Cond), s.Cond.wear()
	counted := float64(m.MeterM3S(s) * s.Cond.MeterWired * dt)
	s.Ledger.MeteredM3 += counted
	control.Step(&m.cfg.Program, &set, &wear, &s.Control, control.Inputs{
		Plugged: s.Powered, Mains: s.mains(), StartNow: s.StartNow, AdvanceNow: s.AdvanceNow, Home: s.HomeNow, MeterM3: counted,
	}, dt)
	s.StartNow, s.AdvanceNow, s.HomeNow = false, false, false
}

// SetClock sets the controller's clock by a watch and reports whether it was wrong.
func (m *Model) SetClock(s *State) bool {
	const nearly = 120 // s
	if math.Abs(m.ClockFastS(s)) <= nearly && !s.Control.Unset {
		return false
	}
	s.setClock(s.Cond.ClockOffS)
	return true
}

// setClock sets the controller's clock wrong by offS.
func (s *State) setClock(offS float64) {
	days := float64(s.House.Day) + (s.House.TimeS+offS)/unit.Day
	day := math.Max(0, math.Floor(days))
	control.SetClock(&s.Control, int(day), math.Max(0, math.Min(float64((days-day)*unit.Day), unit.Day-1)))
}

// Panel is what the controller shows of its settings.
type Panel struct {
	Days          int     // between regenerations, or at most between them
	HardnessMolM3 float64 // demand
	CapacityKgr   int     // demand
	RefillS       float64
}

// Panel returns the settings as they can be read off the controller.
func (m *Model) Panel(s *State) Panel {
	set := m.settings(&s.Cond)
	p := Panel{
		Days: set.EveryDays, CapacityKgr: set.CapacityKgr, RefillS: set.RefillS,
		HardnessMolM3: float64(float64(set.HardnessGPG) * unit.GPG),
	}
	if set.Kind == control.Demand {
		p.Days = set.OverrideDays
	}
	return p
}
