package fault

import (
	"brinebench/sim/control"
	"brinebench/sim/plant"
)

// What a unit must have for some faults of its controller.
func metered(c *plant.Config) bool { return c.Control.Kind == control.Demand }
func sensed(c *plant.Config) bool  { return c.Control.Sensed }
func countsDays(c *plant.Config) bool {
	return c.Control.EveryDays > 0 || metered(c) && c.Control.OverrideDays > 0
}

var driveFaults = []Fault{
	{
		ID: "drum-slipped", Name: "Cam drum slipped on its shaft", Where: plant.PartDrum, Prior: 1, Onset: Steady,
		Severities: []float64{0.55, 0.68, 0.8, 0.9, 1},
		Seen:       "the mark on the drum stands well behind the mark on its shaft", SeenMild: "the mark on the drum stands behind the mark on its shaft",
		Cures: []Work{Adjust, Replace}, Vain: "A new motor turns the same slipped drum.",
		field: func(c *plant.Condition) *float64 { return &c.DrumSlipDeg }, worst: 40,
	},
	{
		ID: "current-lost", Name: "Plug-in supply of the controller dead", Where: plant.PartPlugIn, Prior: 3, Onset: Steady,
		Severities: []float64{1},
		Cures:      []Work{Replace}, Vain: "A new motor stands as still without current.",
		field: func(c *plant.Condition) *float64 { return &c.CurrentLost }, worst: 1,
	},
	{
		ID: "motor-dead", Name: "Drive motor dead", Where: plant.PartMotor, Prior: 3, Onset: Steady,
		Severities: []float64{1},
		Seen:       "voltage at its terminals, winding open, shaft still",
		Cures:      []Work{Replace}, Vain: "A new fuse does not mend an open winding.",
		field: func(c *plant.Condition) *float64 { return &c.MotorDead }, worst: 1,
	},
	{
		ID: "gear-stripped", Name: "Drive gear stripped", Where: plant.PartMotor, Prior: 1.5, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the winding is sound, the last gear's teeth are gone",
		Cures:      []Work{Replace}, Vain: "Winding and current are sound: a new controller changes nothing.",
		field: func(c *plant.Condition) *float64 { return &c.GearStripped }, worst: 1,
	},
	{
		ID: "sensor-lost", Name: "Position sensor of the drum lost", Where: plant.PartDrum, Prior: 1, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the position switch hangs loose beside the drum",
		Cures:      []Work{Adjust, Replace}, Vain: "Cutting the power clears the alarm until the next night.",
		field: func(c *plant.Condition) *float64 { return &c.SensorLost }, worst: 1,
		on: sensed,
	},
	{
		ID: "clock-drifts", Name: "Clock gains or loses", Where: plant.PartController, Prior: 0.8, Onset: Steady, Stays: true,
		Severities: []float64{0.5, 0.6, 0.75, 0.87, 1},
		Cures:      []Work{Replace}, Vain: "Set right, it is wrong again in a week.",
		field: func(c *plant.Condition) *float64 { return &c.DriftSPerDay }, worst: 3600,
	},
	{
		ID: "meter-jammed", Name: "Meter jammed", Where: plant.PartMeter, Prior: 2.5, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "the turbine is jammed with grit", SeenMild: "the turbine drags",
		Cures: []Work{Clean, Replace}, Vain: "A new cable carries no pulses from a wheel that stands.",
		field: func(c *plant.Condition) *float64 { return &c.MeterTurns }, worst: 0,
		on: metered,
	},
	{
		ID: "meter-unplugged", Name: "Meter cable off", Where: plant.PartMeter, Prior: 1.5, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the turbine spins freely; its cable hangs out of the socket",
		Cures:      []Work{Adjust, Replace}, Vain: "A clean turbine still sends nothing down a cable that is off.",
		field: func(c *plant.Condition) *float64 { return &c.MeterWired }, worst: 0,
		on: metered,
	},
}

var settingFaults = []Fault{
	{
		ID: "clock-wrong", Name: "Clock set wrong", Where: plant.PartController, Prior: 4, Onset: Steady, Stays: true,
		Severities: []float64{0.6, 1},
		Cures:      []Work{Adjust, Replace}, Vain: "More salt does not help against water drawn during a regeneration.",
		field: func(c *plant.Condition) *float64 { return &c.ClockOffS }, worst: 11 * 3600,
	},
	{
		ID: "days-wrong", Name: "Days between regenerations set too long", Where: plant.PartController, Prior: 3, Onset: Steady,
		Severities: []float64{0.4, 0.5, 0.6, 0.8, 1},
		Cures:      []Work{Adjust, Replace}, Vain: "A regeneration by hand helps until the bed is spent again.",
		field: func(c *plant.Condition) *float64 { return &c.DaysSet }, worst: 3,
		on: countsDays,
	},
	{
		ID: "hardness-wrong", Name: "Hardness set too low", Where: plant.PartController, Prior: 3, Onset: Steady,
		Severities: []float64{0.5, 0.6, 0.68, 0.76, 1},
		Cures:      []Work{Adjust, Replace}, Vain: "A regeneration by hand helps until the bed is spent again.",
		field: func(c *plant.Condition) *float64 { return &c.HardnessSet }, worst: 0.25,
		on: metered,
	},
	{
		ID: "capacity-wrong", Name: "Capacity set too high", Where: plant.PartController, Prior: 2, Onset: Steady,
		Severities: []float64{0.4, 0.6, 0.8, 1},
		Cures:      []Work{Adjust, Replace}, Vain: "A regeneration by hand helps until the bed is spent again.",
		field: func(c *plant.Condition) *float64 { return &c.CapacitySet }, worst: 3,
		on: metered,
	},
	{
		ID: "dose-wrong", Name: "Salt dose set too small", Where: plant.PartController, Prior: 2, Onset: Steady,
		Severities: []float64{0.6, 1},
		Cures:      []Work{Adjust, Replace}, Vain: "Cleaning the refill control does not lengthen a short refill.",
		field: func(c *plant.Condition) *float64 { return &c.DoseSet }, worst: 0.25,
	},
}
