package sizing

import (
	"math"

	"brinebench/sim/unit"
)

// salt is the capacity of resin by the dose of salt, per ft³ of bed.
//
// 6 lb: 20 kilograin, Virginia Administrative Code 12VAC5-590-900 D and 35 Ill. Adm.
// Code 604.805(c), published (rules_of_thumb.csv). The others: common practice, no
// source. Below 6 lb it goes with the dose, 0.3 lb for a kilograin; above 15 lb
// nothing is gained.
var salt = []struct{ lb, kilograin float64 }{{0, 0}, {6, 20}, {8, 24}, {10, 26}, {15, 30}}

// CapacityKgr returns the capacity of a ft³ of bed, kilograin, at a dose in lb/ft³,
// in water of 20 °C and more.
func CapacityKgr(lbPerFt3 float64) float64 {
	for i := 1; i < len(salt); i++ {
		a, b := salt[i-1], salt[i]
		if lbPerFt3 <= b.lb {
			return a.kilograin + float64((lbPerFt3-a.lb)/(b.lb-a.lb)*(b.kilograin-a.kilograin))
		}
	}
	return salt[len(salt)-1].kilograin
}

// coldPerC is how much of its capacity a bed has less for each °C below 20: computed
// by the bench's own bed, 24.0, 25.5, 26.3 kilograin at 5, 15, 20 °C and 10 lb/ft³
// (testdata/reference/README.md).
const coldPerC, warmC = 0.006, 20

// Cold is the share of its capacity that a bed has in water of a temperature, °C.
func Cold(tempC float64) float64 { return 1 - float64(coldPerC*math.Max(0, warmC-tempC)) }

// capacityMol is the capacity of a bed, mol of hardness.
func capacityMol(resinM3, saltKg, tempC float64) float64 {
	perFt3 := saltKg / unit.Pound / (resinM3 / unit.CubicFoot)
	return float64(float64(CapacityKgr(perFt3)*unit.KilograinPerFt3) * resinM3 * Cold(tempC))
}

// Design figures of the trade.
const (
	waterPerPerson = 75 * unit.USGallon // a day; common practice, no source
	ironGPG        = 4                  // gpg for a mg/L of iron or manganese; common practice, no source
	leastIronGPG   = 3                  // the same at least and at most that is usual; common practice, no source
	mostIronGPG    = 5
	leastDays      = 3              // between regenerations; common practice, no source
	mostDays       = 14             // the same: a bed that stands longer grows stale; common practice, no source
	mostDaysIron   = 7              // the same where there is iron: it ages on the beads; common practice, no source
	reserveDays    = 1              // design days of load held back; common practice, no source
	ironPresent    = 0.1e-3         // kg/m³ of iron and manganese from which it counts
	sodiumPerGPG   = 7.864e-3       // kg/m³ for a gpg: computed (unit_facts.csv)
	potassiumGPG   = 13.374e-3      // the same of potassium
	saltPerGallon  = 3 * unit.Pound // that a gallon of refill dissolves: common practice, and computed from the solubility of salt
)

// reserveMol is what is held back of a capacity, by the load of a day: a day's, and a
// quarter at least, since the water of a house comes in spurts and no bed gives the last
// of its capacity soft. Common practice, no source.
func reserveMol(load, capacity float64) float64 {
	const least = 0.25
	return math.Max(float64(reserveDays*load), float64(least*capacity))
}

// metals is the iron and manganese together, kg/m³.
func (j *Job) metals() float64 { return j.Iron.SI + j.Manganese.SI }

// mostDaysBetween is the longest that the bed may go without a regeneration, days.
func (j *Job) mostDaysBetween() float64 {
	if j.metals() >= ironPresent {
		return mostDaysIron
	}
	return mostDays
}
