package fault

import "brinebench/sim/plant"

var injectorFaults = []Fault{
	{
		ID: "nozzle-plugged", Name: "Injector nozzle plugged", Where: plant.PartInjector, Prior: 9, Onset: Growing,
		Severities: []float64{0.85, 0.92, 0.97, 0.995},
		Seen:       "nozzle blocked with grit", SeenMild: "nozzle partly blocked with grit",
		Cures: []Work{Clean, Replace}, Vain: "More salt does not help a unit that does not draw.",
		field: func(c *plant.Condition) *float64 { return &c.NozzleOpen }, worst: leastOpen,
	},
	{
		ID: "nozzle-worn", Name: "Injector nozzle worn wide", Where: plant.PartInjector, Prior: 1, Onset: Growing,
		Severities: []float64{0.6, 1},
		Seen:       "nozzle bore worn wide, its edge scored", SeenMild: "nozzle bore a little wide",
		Cures: []Work{Replace}, Vain: "Cleaning does not make a worn bore narrow.",
		field: func(c *plant.Condition) *float64 { return &c.NozzleWear }, worst: 1,
	},
	{
		ID: "throat-plugged", Name: "Injector throat plugged or scaled", Where: plant.PartInjector, Prior: 3, Onset: Growing,
		Severities: []float64{0.5, 0.65, 0.7, 0.8, 0.9, 0.95},
		Seen:       "throat blocked with scale", SeenMild: "throat narrowed by scale",
		Cures: []Work{Clean, Replace}, Vain: "A new screen does not clear the throat.",
		field: func(c *plant.Condition) *float64 { return &c.ThroatOpen }, worst: leastOpen,
	},
	{
		ID: "throat-worn", Name: "Injector throat worn", Where: plant.PartInjector, Prior: 1.5, Onset: Growing,
		Severities: []float64{0.6, 1},
		Seen:       "mouth of the throat washed out and rough", SeenMild: "mouth of the throat a little rough",
		Cures: []Work{Replace}, Vain: "Cleaning does not bring a worn edge back.",
		field: func(c *plant.Condition) *float64 { return &c.ThroatWear }, worst: 1,
	},
	{
		ID: "screen-plugged", Name: "Injector screen plugged", Where: plant.PartScreen, Prior: 7, Onset: Growing,
		Severities: []float64{0.96, 0.965, 0.972, 0.98, 0.987, 0.999},
		Seen:       "screen blocked with grit", SeenMild: "some grit on the screen",
		Cures: []Work{Clean, Replace}, Vain: "A new injector behind a blocked screen draws no better.",
		field: func(c *plant.Condition) *float64 { return &c.ScreenOpen }, worst: leastOpen,
	},
	{
		ID: "injector-small", Name: "Injector too small for the tank", Where: plant.PartInjector, Prior: 1, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "bores clear; the sizes marked on it are smaller than the unit's plate asks for",
		Cures:      []Work{Replace}, Vain: "Cleaning a small injector leaves it small.",
		field: func(c *plant.Condition) *float64 { return &c.InjectorScale }, worst: 0.6,
	},
	{
		ID: "injector-large", Name: "Injector too large for the tank", Where: plant.PartInjector, Prior: 0.7, Onset: Steady,
		Severities: []float64{0.6, 1},
		Seen:       "bores clear; the sizes marked on it are larger than the unit's plate asks for",
		Cures:      []Work{Replace}, Vain: "A larger salt dose does not give the brine its time in the bed.",
		field: func(c *plant.Condition) *float64 { return &c.InjectorScale }, worst: 1.6,
	},
}
