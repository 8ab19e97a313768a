package fault

import (
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

var pipeFaults = []Fault{
	{
		ID: "bypass-leak", Name: "Bypass leaks in its service position", Where: plant.PartBypass, Prior: 4, Onset: Growing,
		Severities: []float64{0.4, 1},
		Seen:       "turned home, its cross port does not close", SeenMild: "turned home, its cross port does not close quite tight",
		Cures: []Work{Replace}, Vain: "New resin does not soften what goes past the unit.",
		field: func(c *plant.Condition) *float64 { return &c.BypassLeakCv }, worst: 3,
	},
	{
		ID: "bypass-ajar", Name: "Bypass stands open or part open in service", Where: plant.PartBypass, Prior: 4, Onset: Steady,
		Severities: []float64{0.2, 0.5, 1},
		Seen:       "turned to service it stops far short: its stop is set wrong", SeenMild: "turned to service it stops a little short: its stop is set wrong",
		Cures: []Work{Adjust, Replace}, Vain: "A regeneration does not soften what goes past the unit.",
		field: func(c *plant.Condition) *float64 { return &c.BypassAjar }, worst: 1,
	},
	{
		ID: "lines-crossed", Name: "Inlet and outlet crossed", Where: plant.PartBypass, Prior: 0.8, Onset: Steady,
		Severities: []float64{1},
		Seen:       "the supply is joined to the outlet, the house to the inlet",
		Cures:      []Work{Adjust}, Vain: "New resin in a unit that runs backwards fares no better.",
		field: func(c *plant.Condition) *float64 { return &c.LinesCrossed }, worst: 1,
	},
	{
		ID: "supply-low", Name: "Supply pressure too low", Where: plant.PartSupply, Prior: 2, Onset: Steady,
		Severities: []float64{0.6, 0.85, 1},
		Seen:       "the pressure regulator ahead of the house is closed down too far",
		Cures:      []Work{Adjust}, Vain: "A new injector of the same size draws no better from little pressure.",
		field: func(c *plant.Condition) *float64 { return &c.SupplyScale }, worst: 0.2,
	},
	{
		ID: "supply-high", Name: "Supply pressure too high", Where: plant.PartSupply, Prior: 0.7, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "the pressure regulator ahead of the house is set far too high",
		Cures:      []Work{Adjust}, Vain: "New seats last no longer under the same pressure.",
		Caution: "WARNING: Above 120 psi (830 kPa) tank and fittings can burst. Close the main shut-off, let the pressure off, and keep it closed until a regulator holds: the whole house is at risk, its water heater first.",
		field:   func(c *plant.Condition) *float64 { return &c.SupplyScale }, worst: 2.2,
	},
}

var houseFaults = []Fault{
	{
		ID: "feed-harder", Name: "Raw water has become harder", Where: plant.PartHouse, Prior: 2, Onset: Steady,
		Severities: []float64{0.4, 1},
		Cures:      []Work{Adjust}, Vain: "Nothing in the unit is broken: new parts change nothing.",
		Done:  "The controller was set for the harder water.",
		field: func(c *plant.Condition) *float64 { return &c.FeedHarder }, worst: 2,
		fit: func(c *plant.Condition) {
			c.HardnessSet, c.DaysSet = c.FeedHarder, min(c.DaysSet, 1/c.FeedHarder)
		},
		fits: func(c *plant.Condition) bool {
			return c.HardnessSet >= 0.95*c.FeedHarder && float64(c.DaysSet*c.FeedHarder) <= 1.05
		},
	},
	{
		ID: "feed-iron", Name: "Raw water has taken up iron", Where: plant.PartHouse, Prior: 1, Onset: Steady,
		Severities: []float64{0.4, 1}, Vain: "A cleaned bed fouls again while the iron comes.",
		field: func(c *plant.Condition) *float64 { return &c.FeedIron }, worst: 0.12,
	},
	{
		ID: "feed-cold", Name: "Raw water much colder than the unit was set up for", Where: plant.PartHouse, Prior: 0.7, Onset: Steady,
		Severities: []float64{0.6, 1}, Vain: "Nothing is broken. Colder water lifts the bed higher and leaves it a little less capacity.",
		field: func(c *plant.Condition) *float64 { return &c.FeedColderC }, worst: 11,
	},
	{
		ID: "more-people", Name: "More people in the house than the unit is set for", Where: plant.PartHouse, Prior: 3, Onset: Steady,
		Severities: []float64{0.5, 1},
		Cures:      []Work{Adjust}, Vain: "Nothing in the unit is broken: new parts change nothing.",
		Done:  "The controller was set for the people who live here now.",
		field: func(c *plant.Condition) *float64 { return &c.MorePeople }, worst: 6,
		fit:  func(c *plant.Condition) { c.DaysSet = min(c.DaysSet, 0.5) },
		fits: func(c *plant.Condition) bool { return c.DaysSet <= 0.5 },
	},
	{
		ID: "house-leak", Name: "Water runs away in the house", Where: plant.PartHouse, Prior: 1.5, Onset: Steady,
		Severities: []float64{0.4, 1},
		Cures:      []Work{Adjust}, Vain: "A shorter interval softens water for the sewer.",
		Done:  "The toilet that ran on was made tight.",
		field: func(c *plant.Condition) *float64 { return &c.LeakM3S }, worst: 0.5 * unit.GPM,
	},
	{
		ID: "kitchen-raw", Name: "Kitchen's cold tap is fed ahead of the softener", Where: plant.PartHouse, Prior: 1.5, Onset: Steady,
		Severities: []float64{1},
		Cures:      []Work{Adjust}, Vain: "Nothing done at the unit softens a tap whose pipe leaves before it.",
		Done:  "The customer was told how much sodium softening adds, and that local code may want one unsoftened tap to drink from, still wants soft water in the kitchen, and a plumber has joined its pipe to it.",
		field: func(c *plant.Condition) *float64 { return &c.KitchenRaw }, worst: 1,
	},
}
