package instrument

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/water"
)

// The chloride strip, and the least that it shows, kg/m³: below that it stays blank.
const (
	ChlorideStrip  = "chloride-house"
	StripLeastKgM3 = 0.03
)

// Ends of ranges.
const (
	penLimit  = 2    // of the conductivity pen, S/m
	ironLimit = 0.01 // of the iron test, kg/m³
	stripMost = 0.6
)

const (
	inService = "In service. The tap is run for it."
	drains    = "A position that drains: backwash, brine draw or fast rinse."
)

// waterTests are samples of water. The taps run while they are taken.
var waterTests = []Instrument{
	hardness("hardness-raw", "Hardness, raw water", "The water as it comes in, by drop-count titration.",
		plant.PartRawTap, plant.SupplySide, plant.RawTap, 0, 0.5, ""),
	hardness("hardness-valve", "Hardness, valve outlet", "The water that leaves the softener, before the bypass.",
		plant.PartValve, plant.ValveOut, plant.BypassOut, 0.35, 0, inService),
	hardness("hardness-house", "Hardness, house tap", "The water that the family gets.",
		plant.PartHouseTap, plant.HouseSide, plant.House, 0.35, 0, inService),
	{
		ID: "kitchen-compare", Name: "Kitchen's cold tap against a bath tap", What: "A bottle of each, the same few drops of soap in both, shaken: hard water makes scum, soft water foam. A pipe to the kitchen can leave ahead of the unit, by design or by a mistake.",
		Where: plant.PartHouse, Needs: inService, Minutes: 5, RunHouseTap: 0.35, seen: kitchenSeen,
		runs: func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.House) },
	},
	hardness("hardness-drain", "Hardness, drain water", "The water at the air gap: in fast rinse what has just come through the bed.",
		plant.PartAirGap, plant.DrainLine, plant.Drain, 0, 0, drains),
	pen("conductivity-raw", "Conductivity, raw water", "How much is dissolved in the raw water, by pen.",
		plant.PartRawTap, plant.RawTap, 0, 0.5, ""),
	pen("conductivity-house", "Conductivity, house tap", "How much is dissolved in the family's water, by pen. Softening hardly changes it, brine does.",
		plant.PartHouseTap, plant.House, 0.35, 0, ""),
	pen("drain-conductivity", "Conductivity, drain water", "How much salt the water at the air gap carries, by pen. The pen ends at 20 mS/cm.",
		plant.PartAirGap, plant.Drain, 0, 0, drains),
	{
		ID: ChlorideStrip, Name: "Chloride strip, house tap",
		What:  "Chloride in the family's water, which brine raises; raw water has some too. The strip shows 30 to 600 mg/L of chloride in steps of 30.",
		Where: plant.PartHouseTap, Minutes: 2, Quantity: Content, Resolution: 0.03, Noise: 0.01, Relative: 0.1, Most: stripMost, RunHouseTap: 0.35,
		value: func(m *plant.Model, s *plant.State) float64 {
			c := s.ChlorideKgM3(m.Water(s, plant.HouseSide))
			if c < StripLeastKgM3 {
				return 0
			}
			return math.Min(stripMost, c)
		},
		runs: func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.House) },
	},
	iron("iron-raw", "Iron, raw water", plant.PartRawTap, plant.SupplySide, plant.RawTap, 0, 0.5),
	iron("iron-house", "Iron, house tap", plant.PartHouseTap, plant.HouseSide, plant.House, 0.35, 0),
	{
		ID: "water-temperature", Name: "Thermometer, raw water", What: "How cold the raw water is.",
		Where: plant.PartRawTap, Minutes: 1, Quantity: Warmth, Resolution: 0.5, Noise: 0.3, RunRawTap: 0.5,
		value: func(m *plant.Model, s *plant.State) float64 { return s.Around.FeedC },
		runs:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.RawTap) },
	},
	{
		ID: "air-temperature", Name: "Thermometer, air at the unit", What: "How cold or warm it is where the unit stands.",
		Where: plant.PartBrineTank, Minutes: 1, Quantity: Warmth, Resolution: 0.5, Noise: 0.3, Signed: true,
		value: func(m *plant.Model, s *plant.State) float64 { return m.AirC(s) },
	},
}

// kitchenSeen tells two waters apart that soap does.
func kitchenSeen(m *plant.Model, s *plant.State) string {
	const apart = 3 * gpg
	raw, house := m.Water(s, plant.SupplySide), m.Water(s, plant.HouseSide)
	if s.Cond.KitchenRaw > 0.5 && raw.Hardness() > house.Hardness()+apart {
		return "the kitchen's is the harder by far"
	}
	return "both alike"
}

// hardness is a drop-count titration: one drop to the grain per gallon.
func hardness(id, name, what string, where plant.Part, at plant.Node, by plant.Path, houseTap, rawTap float64, needs string) Instrument {
	return Instrument{
		ID: id, Name: name, What: what, Where: where, Needs: needs, Minutes: 3, Quantity: Hardness,
		Resolution: 0.5 * gpg, Noise: 0.1 * gpg, Relative: 0.01, RunHouseTap: houseTap, RunRawTap: rawTap,
		value: func(m *plant.Model, s *plant.State) float64 { w := m.Water(s, at); return w.Hardness() },
		runs:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, by) },
	}
}

func pen(id, name, what string, where plant.Part, by plant.Path, houseTap, rawTap float64, needs string) Instrument {
	return Instrument{
		ID: id, Name: name, What: what, Where: where, Needs: needs, Minutes: 1, Quantity: Specific,
		Resolution: 0.001, Noise: 0.0005, Relative: 0.02, Most: penLimit, RunHouseTap: houseTap, RunRawTap: rawTap,
		value: func(m *plant.Model, s *plant.State) float64 {
			return math.Min(penLimit, water.Conductivity(s.Around.FeedC, m.PathWater(s, by)))
		},
		runs: func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, by) },
	}
}

func iron(id, name string, where plant.Part, at plant.Node, by plant.Path, houseTap, rawTap float64) Instrument {
	return Instrument{
		ID: id, Name: name, What: "Dissolved iron, by colour comparison, up to 10 mg/L.", Where: where, Minutes: 4, Quantity: Content,
		Resolution: 0.0002, Noise: 0.0001, Relative: 0.08, Most: ironLimit, RunHouseTap: houseTap, RunRawTap: rawTap,
		value: func(m *plant.Model, s *plant.State) float64 {
			return math.Min(ironLimit, float64(m.Iron(s, at)*water.MolarMassFe))
		},
		runs: func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, by) },
	}
}
