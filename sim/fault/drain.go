package fault

import "brinebench/sim/plant"

var drainFaults = []Fault{
	{
		ID: "drain-line-blocked", Name: "Drain line blocked", Where: plant.PartDrainLine, Prior: 6, Onset: Growing,
		Severities: []float64{0.97, 0.98, 0.99, 0.996},
		Seen:       "line blocked with resin fines and slime", SeenMild: "line partly blocked",
		Cures: []Work{Clean, Replace}, Vain: "A larger drain control does not widen the line.",
		field: func(c *plant.Condition) *float64 { return &c.DrainLineOpen }, worst: leastOpen,
	},
	{
		ID: "drain-line-frozen", Name: "Drain line frozen", Where: plant.PartDrainLine, Prior: 0.7, Onset: Intermittent,
		Severities: []float64{0.98, 0.99, 0.996},
		Seen:       "hard ice in the line", SeenMild: "slush in the line",
		Cures: []Work{Clean}, Vain: "A new drain control does not thaw the line.",
		Caution: "CAUTION: Thaw with warm air or warm cloths, never with a flame: plastic melts and trapped steam bursts.",
		field:   func(c *plant.Condition) *float64 { return &c.DrainIce }, worst: 1 - leastOpen,
	},
	{
		ID: "drain-line-high", Name: "Drain line led too high", Where: plant.PartDrainLine, Prior: 1.5, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "line clear; it climbs two floors before it falls to the drain", SeenMild: "line clear; it climbs a floor and more before it falls",
		Cures: []Work{Adjust}, Vain: "Cleaning the injector does not lower the drain.",
		field: func(c *plant.Condition) *float64 { return &c.DrainUpM }, worst: 9,
	},
	{
		ID: "drain-control-plugged", Name: "Drain flow control plugged", Where: plant.PartDrainCtl, Prior: 4, Onset: Growing,
		Severities: []float64{0.8, 0.84, 0.9, 0.92, 0.96, 0.98, 0.995},
		Seen:       "bore blocked with grit", SeenMild: "bore partly blocked with grit",
		Cures: []Work{Clean, Replace}, Vain: "Blowing through the hose does not clear the control.",
		field: func(c *plant.Condition) *float64 { return &c.DrainCtlOpen }, worst: leastOpen,
	},
	{
		ID: "drain-control-small", Name: "Drain flow control too small", Where: plant.PartDrainCtl, Prior: 1, Onset: Steady,
		Severities: []float64{0.85, 1},
		Seen:       "bore clear; the rating marked on it is below the one on the unit's plate",
		Cures:      []Work{Replace}, Vain: "Cleaning does not change a rating.",
		field: func(c *plant.Condition) *float64 { return &c.DrainCtlScale }, worst: 0.2,
	},
	{
		ID: "drain-control-large", Name: "Drain flow control too large", Where: plant.PartDrainCtl, Prior: 1, Onset: Steady,
		Severities: []float64{0.5, 1},
		Seen:       "bore clear; the rating marked on it is above the one on the unit's plate",
		Cures:      []Work{Replace}, Vain: "A shorter backwash loses resin more slowly, but loses it.",
		field: func(c *plant.Condition) *float64 { return &c.DrainCtlScale }, worst: 2.2,
	},
	{
		ID: "drain-control-missing", Name: "Drain flow control missing", Where: plant.PartDrainCtl, Prior: 0.6, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the holder is empty: there is no flow control in it",
		Cures:      []Work{Replace}, Vain: "Throttling the drain by hand is no control.",
		field: func(c *plant.Condition) *float64 { return &c.DrainCtlGone }, worst: 1,
	},
}
