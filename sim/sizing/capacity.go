package sizing

import (
	"math"

	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// salt is the capacity of resin by the dose of salt, per ft³ of bed.
//
// 6 lb: 20 kilograin, Virginia Administrative Code 12VAC5-590-900 D and 35 Ill. Adm.
// Code 604.805(c), published (rules_of_thumb.csv). The others: common practice, no
// source; the bench's own bed gives 14.9 and 17.5 at 4 and 5 lb
// (testdata/reference/README.md). Above 15 lb little is gained for the salt: here
// nothing.
var salt = byDose{{0, 0}, {4, 15}, {5, 17.5}, {6, 20}, {8, 24}, {10, 26}, {15, 30}}

// leaks is the hardness, gpg, that a bed lets through by its dose of salt, half-way
// through its service: the bench's own bed, run to 1 gpg each time, in water of 20 gpg
// with 46 mg/L of sodium at 20 °C: 0.70, 0.44, 0.30; at 10 and 15 lb by the falls of the
// same bed in softer water (testdata/reference/README.md).
var leaks = byDose{{4, 0.7}, {5, 0.4}, {6, 0.3}, {10, 0.09}, {15, 0.03}}

// leakGPG is about what a bed lets through of the job's water at a dose, lb/ft³: it goes
// with the square of what the water holds, by mass action. The bench's own bed, with four
// times the sodium, lets through 2.4 times as much, and this says 2.8.
func (j *Job) leakGPG(lbPerFt3 float64) float64 {
	const measuredIn = 442 * unit.MgPerLitreCaCO3
	c := j.cations() / measuredIn
	return leaks.at(lbPerFt3) * float64(c*c)
}

// byDose is a table by the dose of salt, lb/ft³.
type byDose []struct{ lb, value float64 }

// at reads the table, straight between its rows; beyond the last it stays.
func (t byDose) at(lbPerFt3 float64) float64 {
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		if lbPerFt3 <= b.lb {
			return a.value + float64((lbPerFt3-a.lb)/(b.lb-a.lb)*(b.value-a.value))
		}
	}
	return t[len(t)-1].value
}

// CapacityKgr returns the capacity of a ft³ of bed, kilograin, at a dose in lb/ft³,
// in water of 20 °C and more.
func CapacityKgr(lbPerFt3 float64) float64 { return salt.at(lbPerFt3) }

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

// mostForLean is the most hardness and sodium together, mol/m³ of hardness, in which a
// dose below 6 lb/ft³ is taken: at 4 lb/ft³ the bench's own units let over 1 gpg through
// on some of 90 days from about 550 mg/L as CaCO₃ on, and from 500 on where they lasted
// for less than three days.
const mostForLean = 450 * unit.MgPerLitreCaCO3

// cations are the hardness and, as hardness, the sodium of the water, mol/m³.
func (j *Job) cations() float64 { return j.Hardness.SI + float64(j.Sodium.SI*sodiumAsHardness) }

// sodiumAsHardness is the hardness, mol, of as many equivalents as a kg of sodium has.
var sodiumAsHardness = 1 / (equivalents * water.MolarMass[water.Na])

// metals is the iron and manganese together, kg/m³.
func (j *Job) metals() float64 { return j.Iron.SI + j.Manganese.SI }

// mostDaysBetween is the longest that the bed may go without a regeneration, days.
func (j *Job) mostDaysBetween() float64 {
	if j.metals() >= ironPresent {
		return mostDaysIron
	}
	return mostDays
}
