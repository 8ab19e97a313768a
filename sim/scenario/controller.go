package scenario

import (
	"brinebench/sim/control"
	"brinebench/sim/strict"
)

// Controller is what regenerates the unit. The zero value of what a file leaves
// out is a plain motor clock's.
type Controller struct {
	Kind      string // "clock" or "demand"
	StartAt   string // hh:mm
	EveryDays int    // clock
	Weekdays  []int  // clock, where EveryDays is 0: nights, 0 is Monday

	HardnessGPG, CapacityKgr int    // demand
	When                     string // demand: "at-night" or "at-once"
	Reserve                  string // demand: "fixed" or "learning"
	ReservePct, OverrideDays int    // demand

	RunsWithoutHours float64 // how long its clock runs without power
	ForgetsTime      int     // 1 where it then loses the time
	Sensed           int     // 1 where the drum's position is sensed

	startS float64
}

// Kinds and ways, as a file names them.
const (
	byClock, byDemand     = "clock", "demand"
	atNight, atOnce       = "at-night", "at-once"
	fixed, learning       = "fixed", "learning"
	hourS                 = 3600
	mostWithoutPowerHours = 8760
)

func (c *Controller) fields(w *strict.Walk) []strict.Field {
	return []strict.Field{
		w.Text("kind", &c.Kind, byClock, byDemand),
		clock(w, "start", &c.StartAt, &c.startS),
		optional(w.Integer("every_days", &c.EveryDays, 1, control.MaxEveryDays)),
		optional(w.Each("weekdays", func(at string, raw []byte) {
			var d int
			if w.Value(at, raw, &d) {
				if d < 0 || d > 6 {
					w.Fault(at, "%d is outside 0 to 6", d)
				} else {
					c.Weekdays = append(c.Weekdays, d)
				}
			}
		})),
		optional(w.Integer("hardness_gpg", &c.HardnessGPG, 1, control.MaxHardnessGPG)),
		optional(w.Integer("capacity_kgr", &c.CapacityKgr, 1, control.MaxCapacityKgr)),
		optional(w.Text("when", &c.When, atNight, atOnce)),
		optional(w.Text("reserve", &c.Reserve, fixed, learning)),
		optional(w.Integer("reserve_pct", &c.ReservePct, 0, 90)),
		optional(w.Integer("override_days", &c.OverrideDays, 0, control.MaxOverrideDays)),
		optional(w.Number("runs_without_power_h", &c.RunsWithoutHours, 0, mostWithoutPowerHours)),
		optional(w.Integer("forgets_time", &c.ForgetsTime, 0, 1)),
		optional(w.Integer("sensed", &c.Sensed, 0, 1)),
	}
}

// cross finds settings that belong to the other kind of controller, and those
// that are wanting.
func (c *Controller) cross(w *strict.Walk) {
	if c.Kind == byClock {
		if (c.EveryDays == 0) == (len(c.Weekdays) == 0) {
			w.Fault("controller", "a clock needs either every_days or weekdays")
		}
		if c.HardnessGPG != 0 || c.CapacityKgr != 0 || c.When != "" || c.Reserve != "" || c.ReservePct != 0 || c.OverrideDays != 0 {
			w.Fault("controller", "a clock has no hardness_gpg, capacity_kgr, when, reserve, reserve_pct or override_days")
		}
		return
	}
	if c.EveryDays != 0 || len(c.Weekdays) != 0 {
		w.Fault("controller", "a demand controller has no every_days or weekdays")
	}
	if c.HardnessGPG == 0 {
		w.Fault("controller.hardness_gpg", "is missing")
	}
	if c.CapacityKgr == 0 {
		w.Fault("controller.capacity_kgr", "is missing")
	}
}

// settings are those of the engine.
func (c *Controller) settings(refillS float64) control.Settings {
	set := control.Settings{
		StartS: c.startS, RefillS: refillS, EveryDays: c.EveryDays,
		HardnessGPG: c.HardnessGPG, CapacityKgr: c.CapacityKgr, ReservePct: c.ReservePct, OverrideDays: c.OverrideDays,
		RunsWithoutS: float64(c.RunsWithoutHours * hourS), ForgetsTime: c.ForgetsTime == 1, Sensed: c.Sensed == 1,
	}
	for _, d := range c.Weekdays {
		set.Weekdays[d] = true
	}
	if c.Kind == byDemand {
		set.Kind = control.Demand
	}
	if c.When == atOnce {
		set.When = control.Immediate
	}
	if c.Reserve == learning {
		set.Reserve = control.Learning
	}
	return set
}
