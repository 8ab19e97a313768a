package sizing

import (
	"brinebench/sim/unit"
)

// rule is how one figure is worked out.
type rule struct {
	formula string // in symbols
	value   func(j *Job, s *Sheet) float64
	with    func(n terms) string // the formula with its numbers
	words   bool                 // with tells how it comes about, and is no sum to work out
	below   float64              // what the trade allows below the value, as a part of it
	above   float64              // and above
	least   float64              // the same at least, in SI
	source  string
	points  float64 // of 50, see package marking
	choice  bool    // others may be as good: judged by what fits
}

// Where the rules come from.
const (
	byUnits   = "conversion by definition: 1 gpg is a grain as CaCO3 in a US gallon"
	byHand    = "arithmetic"
	byFixture = "units: International Plumbing Code, table E103.3(2), after Hunter, BMS65 (1940), from memory: a group in place of its fixtures; flows: common practice, no source"
	byGroup   = "International Plumbing Code, table E103.3(2), after Hunter, BMS65 (1940), from memory: a bathroom group counts 3.6 in place of its toilet, basin and bath or shower; each fixture singly gives more, on the safe side, and passes too"
	byTable   = "International Plumbing Code, tables E103.3(2) and E103.3(3), after Hunter, BMS65 (1940); from memory"
	salt6     = "6 lb/ft³ gives 20 kilograin: 12VAC5-590-900 D and 35 Ill. Adm. Code 604.805(c), published; other doses, and 0.6 % less for each °C below 20: common practice, no source, and the bench's own bed"
	network   = "the bench's own network"
	byRZ      = "Richardson & Zaki (1954) by the bench; near 5 gpm/ft² at 60 °F: common practice, no source"
	jet       = "the bench's own jet pump; 0.2 to 0.5 gpm of rinse for each ft³: common practice, no source"
	byHeads   = "60 to 80 gal a person, 75 usual: " + practice + "; 58.6 measured indoors (DeOreo et al., 2016)"
	byIron    = "3 to 5 gpg for a mg/L, 4 usual: " + practice
	byPeak    = network + "; up to 25 psi at a moment's peak: " + practice
	solubil   = "3 lb of salt in a gallon of refill: common practice, and computed from the solubility of salt"
)

// Formulas that have a unit in them.
const (
	loadRule  = "L = V × Hc"
	lossRule  = "Δp(Qs) ≤ 15 psi"
	rinseRule = "rinse 0.2 to 0.5 gpm/ft³, 8 to 14 % of salt"
)

// rules holds the rule of each figure. What it may be off by is what the trade allows:
// common practice, no source.
var rules = joined(earlier, later, settings)

// joined takes each figure's rule from the one table that has it.
func joined(tables ...[NumFigures]rule) (all [NumFigures]rule) {
	for _, t := range tables {
		for f, r := range t {
			if r.value != nil {
				all[f] = r
			}
		}
	}
	return all
}

// earlier are the rules up to the tank.
var earlier = [NumFigures]rule{
	RawHardness: {
		formula: "H = hardness of the sheet × factor of its unit",
		value:   func(j *Job, _ *Sheet) float64 { return j.Hardness.SI },
		with:    func(n terms) string { return n.converted() },
		below:   0.01, above: 0.01, source: byUnits, points: 2,
	},
	CompensatedHardness: {
		formula: "Hc = H + a × (Fe + Mn in mg/L)",
		value: func(j *Job, s *Sheet) float64 {
			return s.Value[RawHardness] + float64(ironGPG*unit.GPG*(j.metals()*1e3))
		},
		with: func(n terms) string {
			return n.of(RawHardness) + " + " + n.text(Hardness, ironGPG*unit.GPG) + " × " + number(n.j.metals()*1e3)
		},
		below: 0.03, above: 0.03, source: byIron, points: 3,
	},
	DailyWater: {
		formula: "V = people × water for each",
		value:   func(j *Job, _ *Sheet) float64 { return float64(float64(j.People) * waterPerPerson) },
		with: func(n terms) string {
			return number(float64(n.j.People)) + " × " + n.text(Volume, waterPerPerson)
		},
		below: 0.2, above: 0.07, source: byHeads, points: 2,
	},
	DailyLoad: {
		formula: loadRule,
		value:   func(_ *Job, s *Sheet) float64 { return float64(s.Value[DailyWater] * s.Value[CompensatedHardness]) },
		with:    func(n terms) string { return n.loadText() },
		below:   0.03, above: 0.03, source: byHand, points: 3,
	},
	FixtureUnits: {
		formula: "U = 3.6 for each bathroom group + Σ units of the other fixtures",
		value:   func(j *Job, _ *Sheet) float64 { return j.fixtureUnits() },
		with:    func(n terms) string { return n.j.unitsSum() },
		below:   0.01, above: 0.01, least: 0.05, source: byGroup, points: 2,
	},
	PeakFlow: {
		formula: "Qp from the demand table at U, between two rows in proportion",
		value:   func(_ *Job, s *Sheet) float64 { return demandM3S(s.Value[FixtureUnits]) },
		with:    func(n terms) string { return n.demandText() },
		below:   0.05, above: 0.05, source: byTable + "; on the safe side, for the pipes", points: 2,
	},
	ServiceFlow: {
		formula: "Qs = showers (up to 3), or a bath, + one fixture more: the washer first",
		value:   func(j *Job, _ *Sheet) float64 { return j.busyM3S() },
		with:    func(n terms) string { return n.busySum() },
		below:   0.2, above: 0.2, source: practice, points: 2,
	},
	ResinNeeded: {
		formula: "R = L × (3 days + 1 day) ÷ (capacity at the least dose × k)",
		value: func(j *Job, s *Sheet) float64 {
			perM3 := float64(CapacityKgr(j.leastDose()) * unit.KilograinPerFt3 * Cold(j.Temperature.SI))
			return float64(s.Value[DailyLoad]*(leastDays+reserveDays)) / perM3
		},
		with: func(n terms) string {
			return n.of(DailyLoad) + " × 4 ÷ (" + n.strength(n.j.leastDose()) + " × " + n.number(Cold(n.j.Temperature.SI)) + ")"
		},
		below: 0.1, above: 0.1, source: salt6 + "; three days and one in reserve: " + practice, points: 1,
	},
	Resin: {
		formula: "the smallest tank that fits flow, place and drain and lasts for 3 days; to save salt a larger one, where it saves 5 % of salt in a year for each size",
		value:   func(_ *Job, s *Sheet) float64 { return float64(s.outfit().ResinFt3 * unit.CubicFoot) },
		words:   true,
		with:    func(n terms) string { return n.tankText() },
		below:   0.05, above: 0.05, source: "tanks and their resin: " + practice, points: 4, choice: true,
	},
	ServiceLoss: {
		formula: lossRule,
		value:   func(j *Job, s *Sheet) float64 { return j.UnitLossPa(s, s.Value[ServiceFlow]) },
		words:   true,
		with:    func(n terms) string { return "network at " + n.of(ServiceFlow) },
		below:   0.2, above: 0.2, least: 1 * unit.PSI, source: network + "; limit: " + nsf, points: 1,
	},
	PeakLoss: {
		formula: "Δp(Qp)",
		value:   func(j *Job, s *Sheet) float64 { return j.UnitLossPa(s, s.Value[PeakFlow]) },
		words:   true,
		with:    func(n terms) string { return "network at " + n.of(PeakFlow) },
		below:   0.15, above: 0.15, least: 1.5 * unit.PSI, source: byPeak, points: 1,
	},
}
