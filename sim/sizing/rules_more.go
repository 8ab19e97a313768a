package sizing

import (
	"math"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// later are the rules of what follows from the tank.
var later = [NumFigures]rule{
	SaltDose: {
		formula: "S = dose × resin, the least dose at which the tank lasts for 3 days; to save salt, of all such doses the one that takes the least salt in a year",
		value: func(j *Job, s *Sheet) float64 {
			if s.Given[SaltDose] {
				return s.Value[SaltDose] // chosen with the tank
			}
			usual, _ := j.doses()
			return float64(usual[0]*(s.Value[Resin]/unit.CubicFoot)) * unit.Pound
		},
		with: func(n terms) string {
			return n.text(Dose, n.s.Value[SaltDose]/n.s.Value[Resin]) + " × " + n.of(Resin)
		},
		below: 0.05, above: 0.05, source: salt6, points: 3, choice: true,
	},
	Capacity: {
		formula: "C = resin × capacity at the dose × k",
		value: func(j *Job, s *Sheet) float64 {
			return capacityMol(s.Value[Resin], s.Value[SaltDose], j.Temperature.SI)
		},
		with: func(n terms) string {
			return n.of(Resin) + " × " + n.strength(n.s.Value[SaltDose]/unit.Pound/(n.s.Value[Resin]/unit.CubicFoot)) + " × " + n.number(Cold(n.j.Temperature.SI))
		},
		below: 0.1, above: 0.1, source: salt6, points: 3,
	},
	Reserve: {
		formula: "Cr = one day of L, a quarter of C at least",
		value:   func(_ *Job, s *Sheet) float64 { return reserveMol(s.Value[DailyLoad], s.Value[Capacity]) },
		with:    func(n terms) string { return "the greater of " + n.of(DailyLoad) + " and ¼ × " + n.of(Capacity) },
		below:   0.2, above: 0.2, source: "a day, and 20 to 30 % usual: " + practice, points: 1,
	},
	Interval: {
		formula: "n = (C − Cr) ÷ L",
		value: func(_ *Job, s *Sheet) float64 {
			days := (s.Value[Capacity] - s.Value[Reserve]) / s.Value[DailyLoad]
			return float64(math.Max(0, math.Min(days, 365)) * unit.Day)
		},
		with: func(n terms) string {
			return "(" + n.of(Capacity) + " − " + n.of(Reserve) + ") ÷ " + n.of(DailyLoad)
		},
		below: 0.1, above: 0.1, least: 0.25 * unit.Day, source: byHand, points: 3,
	},
	DrainControl: {
		formula: "30 to 75 % of expansion at the water's temperature",
		value:   func(_ *Job, s *Sheet) float64 { return s.Value[DrainControl] },
		words:   true,
		with: func(n terms) string {
			t := n.s.tank()
			up := outfit.Expansion(&t, n.s.Value[DrainControl]/unit.GPM, n.j.Temperature.SI, 0)
			return Percent.Text(100*up, n.sys) + " at " + upflowText(n.s.Value[DrainControl]/t.AreaM2(), n.sys) + " in water of " + Temperature.Text(n.j.Temperature.SI, n.sys)
		},
		below: 0.02, above: 0.02, source: byRZ, points: 3, choice: true,
	},
	Nozzle: {
		formula: rinseRule,
		value:   func(_ *Job, s *Sheet) float64 { return s.Value[Nozzle] },
		words:   true,
		with:    func(n terms) string { return n.drawText() },
		below:   0.02, above: 0.02, source: jet, points: 1, choice: true,
	},
	Throat: {
		formula: "goes with the nozzle",
		value:   func(_ *Job, s *Sheet) float64 { return s.Value[Throat] },
		words:   true,
		with:    func(n terms) string { return n.drawText() },
		below:   0.02, above: 0.02, source: jet, points: 1, choice: true,
	},
	RefillControl: {
		formula: "less than the throat passes back at the pressure there is",
		value:   func(_ *Job, s *Sheet) float64 { return s.Value[RefillControl] },
		words:   true,
		with: func(n terms) string {
			t, p := n.s.tank(), n.s.parts()
			return "holds its flow where the supply has at least " + Pressure.Text(float64(outfit.RefillNeedsPSI(&t, &p, n.j.Temperature.SI)*unit.PSI), n.sys)
		},
		below: 0.02, above: 0.02, source: network, points: 1, choice: true,
	},
	RefillTime: {
		formula: "t = S ÷ salt in the refill water ÷ refill control",
		value: func(_ *Job, s *Sheet) float64 {
			return float64(s.Value[SaltDose]/saltPerGallon*unit.USGallon) / s.Value[RefillControl]
		},
		with: func(n terms) string {
			return n.of(SaltDose) + " ÷ " + n.brine() + " ÷ " + n.of(RefillControl)
		},
		below: 0.05, above: 0.05, least: 15, source: solubil, points: 2,
	},
	RegenerationWater: {
		formula: "drain control × (backwash + fast rinse) + motive water × draw + rinse × rest of the brine stop + refill",
		value:   func(j *Job, s *Sheet) float64 { return j.regenerationM3(s) },
		with:    func(n terms) string { return n.waterText() },
		below:   0.15, above: 0.15, source: "times of the program; injector by the bench's own jet pump", points: 1,
	},
	RegenerationsPerYear: {
		formula: "N = 365 ÷ days between, at most 14 (7 with iron); whole days by a clock",
		value:   func(j *Job, s *Sheet) float64 { return 365 / j.daysBetween(s) },
		with:    func(n terms) string { return "365 ÷ " + n.number(n.j.daysBetween(n.s)) },
		below:   0.1, above: 0.1, source: practice, points: 1,
	},
	SaltPerYear: {
		formula: "N × S",
		value:   func(_ *Job, s *Sheet) float64 { return float64(s.Value[RegenerationsPerYear] * s.Value[SaltDose]) },
		with:    func(n terms) string { return n.of(RegenerationsPerYear) + " × " + n.of(SaltDose) },
		below:   0.05, above: 0.05, source: byHand, points: 1,
	},
	SaltAdded: {
		formula: "two equivalents for each mol: b × H",
		value:   func(_ *Job, s *Sheet) float64 { return float64(sodiumPerGPG * (s.Value[RawHardness] / unit.GPG)) },
		with: func(n terms) string {
			return n.addedText() + " × " + n.of(RawHardness)
		},
		below: 0.03, above: 0.03, source: "computed: two equivalents for each mol of hardness", points: 1,
	},
}
