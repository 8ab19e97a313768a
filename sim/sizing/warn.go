package sizing

import (
	"fmt"
	"math"

	"brinebench/sim/unit"
)

// Warning is what has to be seen to besides the softener, or what may hurt.
type Warning struct {
	ID     string
	What   string
	Source string
}

// Limits of the water and the supply for a softener.
const (
	mostIronMgL  = 5.0
	someIronMgL  = 0.3 // 12VAC5-590-900: iron and manganese in the feed at most 0.3 mg/L
	leastPH      = 6.5
	mostPH       = 8.5
	someChlorine = 1.0 // mg/L
	hotC         = 38
	leastPSI     = 20
	mostPeakPSI  = 25
	mostTDS      = 1000
	mostSodium   = 200 // mg/L: EU Directive 2020/2184, Annex I part C, from memory
	manyGPM      = 20  // a peak from which fixtures may really run together for long; common practice, no source
	muchLeakGPG  = 1   // that a family notices: soft is less than 1 gpg in the trade; common practice, no source
	softMolM3    = 60 * unit.MgPerLitreCaCO3
)

// warnings tells what the sheet's steps do not.
func (j *Job) warnings(s *Sheet) (list []Warning) {
	add := func(id, source, format string, args ...any) {
		list = append(list, Warning{id, fmt.Sprintf(format, args...), source})
	}
	j.waterWarnings(add)
	j.supplyWarnings(s, add)
	j.saltWarnings(s, add)
	j.wholeWarning(s, add)
	j.sodiumWarnings(s, add)
	add("drain", "ASME A112.1.2, from memory; IRC 2003 P2902.2.1, published, secondary", "The drain line ends in an air gap of twice its opening, 1 in (25 mm) at least.")
	add("code", "the authority having jurisdiction", "This is for training. Local code, licensed practice and the equipment's own instructions govern. Water of unknown safety is tested and disinfected before it is softened.")
	return list
}

// saltWarnings tells what comes of the dose and how often it is taken.
func (j *Job) saltWarnings(s *Sheet, add func(id, source, format string, args ...any)) {
	if days := s.Value[Interval] / unit.Day; days >= tightestDays-hair && days < leastDays-hair {
		add("interval-short", practice, "The unit regenerates every %s days, which is less than 3: a larger unit, or two, would do with less salt and wear.", rounded(days, 2))
	}
	if j.SaltSaving && j.metals() >= ironPresent {
		add("salt-iron", practice, "Iron keeps the dose at %s and more, though salt is to be saved: more brine takes more iron off the beads. With a filter for iron before the unit, %s would do.", perBed(doses[ironFrom]), perBed(doses[plainFrom]))
	}
	dose := s.Value[SaltDose] / unit.Pound / (s.Value[Resin] / unit.CubicFoot)
	if leak := j.leakGPG(dose); leak >= muchLeakGPG {
		add("leaks", bedLeaks, "In water as hard and salty as this a bed lets hardness through all the while: at %s about %s. More salt for a regeneration, or brine that flows against the service, lets through less.", perBed(dose), grains(leak))
	}
	if usual := doses[plainFrom]; dose < usual-hair {
		saved := 1 - float64(dose/CapacityKgr(dose)*(CapacityKgr(usual)/usual))
		add("low-dose", bedLeaks, "A dose of %s takes %s %% less salt for the same hardness than %s, and lets a little hardness through all the while: of %s up to about %s, in place of %s. The softer the water and the less sodium in it, the less leaks.",
			perBed(dose), Percent.Number(100*saved, US), perBed(usual), grains(20), grains(leaks.at(dose)), grains(leaks.at(usual)))
	}
}

// wholeWarning tells what comes of a demand controller's settings in whole numbers, each on
// the safe side: it regenerates sooner than the design.
func (j *Job) wholeWarning(s *Sheet, add func(id, source, format string, args ...any)) {
	const sooner = 0.97
	if !j.Demand {
		return
	}
	m3 := float64(s.Value[SetCapacity]*(1-s.Value[SetReserve]/100)) / s.Value[SetHardness]
	days := m3 / s.Value[DailyWater]
	if days >= float64(sooner*j.daysBetween(s)) {
		return
	}
	yearly := 365 / math.Max(1, days)
	add("whole-settings", byHand, "Set in whole numbers, each on the safe side, the controller lets %s pass between two regenerations: %s days in place of %s, which is %s regenerations and %s of salt in a year.",
		Volume.both(m3), rounded(days, 2), rounded(j.daysBetween(s), 2), rounded(yearly, 0), Mass.both(float64(yearly*s.Value[SaltDose])))
}

// sodiumWarnings tells what the salt adds to the house's water.
func (j *Job) sodiumWarnings(s *Sheet, add func(id, source, format string, args ...any)) {
	added, raw := Concentration.Number(s.Value[SaltAdded], US), Concentration.Number(j.Sodium.SI, US)
	what, source, all := softening, practice, s.Value[SaltAdded]+j.Sodium.SI
	whole := func(x float64) float64 { return math.Floor(float64(1e3*x) + 0.5) } // mg/L, as it is told
	switch {
	case whole(j.Sodium.SI) > mostSodium:
		what, source = softeningSalty, source+"; "+sodiumLimit
	case whole(all) > mostSodium:
		what, source = what+" "+overSodium, source+"; "+sodiumLimit
	}
	add("sodium", source, what, added, raw, Concentration.Number(all, US))
	if j.LowSodium {
		potassium := Concentration.Number(float64(potassiumGPG*(s.Value[RawHardness]/unit.GPG)), US)
		add("low-sodium", practice, "Little sodium is wished: a kitchen tap before the softener stays untreated for drinking and cooking.")
		add("potassium", bySolubility, "Potassium chloride in place of salt adds %s mg/L of potassium and no sodium. It takes 1.28 times the weight, here %s, and as a gallon (3.8 L) of cold water dissolves 2.6 lb (1.2 kg) of it in place of 3 lb (1.4 kg), half as much refill again: %s. The figures of this sheet are those of salt. Who has to watch potassium, such as with weak kidneys, asks a doctor first.",
			potassium, Mass.both(float64(s.Value[SaltDose]*potassiumWeight)), Minutes.Text(float64(s.Value[RefillTime]*potassiumRefill), US))
	}
}

// Potassium chloride beside salt: the weight for as many equivalents, and the time of refill
// that dissolves it.
const (
	potassiumWeight = 74.55 / 58.44
	potassiumRefill = potassiumWeight * 3 / 2.6
)

// What is told of the sodium, of that over the limit for drinking water, and of a low dose.
const (
	softening      = "Softening adds %s mg/L of sodium to the %s mg/L of the raw water: %s mg/L in all. Who is on a diet low in sodium asks a doctor; an untreated tap for drinking is a way out."
	softeningSalty = "Softening adds %s mg/L of sodium to the %s mg/L of the raw water: %s mg/L in all. The raw water itself is over 200 mg/L, the limit for drinking water in many countries: an untreated tap does not help. Water to drink takes treatment that holds sodium back, such as reverse osmosis; for babies ask the health authority."
	overSodium     = "That is over 200 mg/L, the limit for drinking water in many countries: leave the kitchen's cold tap unsoftened. Babies' bottles are made from it where that water is known to be safe for them (nitrate, germs)."
	sodiumLimit    = "EU Directive 2020/2184, Annex I part C: 200 mg/L, from memory; WHO names 200 mg/L for taste"
	bySolubility   = "molar masses 74.55 and 58.44 g/mol; solubility of KCl, 31 g in 100 g of water at 50 °F (10 °C): CRC Handbook, from memory"
	bedLeaks       = "salt: common practice, no source; leakage: the bench's own bed, in water with 46 mg/L of sodium at 68 °F (20 °C)"
)

// grains writes a hardness, gpg, in both systems.
func grains(gpg float64) string { return Hardness.both(float64(gpg * unit.GPG)) }

// perBed writes a dose, lb/ft³, in both systems.
func perBed(lbPerFt3 float64) string {
	return Dose.both(float64(lbPerFt3 * (unit.Pound / unit.CubicFoot)))
}

func (j *Job) waterWarnings(add func(id, source, format string, args ...any)) {
	mgL := j.metals() * 1e3
	switch {
	case mgL > mostIronMgL:
		add("iron-high", practice, "%s mg/L of iron and manganese is too much for a softener: it needs a filter for iron before it.", number(mgL))
	case mgL > someIronMgL:
		add("iron", "12VAC5-590-900: at most 0.3 mg/L in the feed, published", "%s mg/L of iron and manganese foul the resin: regenerate often, clean it in time, and never let air to the water before it. A filter for iron is better.", number(mgL))
	}
	if mgL >= ironPresent*1e3 && mgL <= someIronMgL {
		add("iron-some", practice, "%s mg/L of iron and manganese is little, and counts all the same: the bed gets %s of salt and more, and is regenerated within %s days.", number(mgL), perBed(doses[ironFrom]), number(mostDaysIron))
	}
	if j.Iron.SI >= ironPresent {
		add("iron-clear", practice, "A softener takes clear, dissolved iron only. Water that is brown as it comes, or smells of eggs, needs treatment first.")
	}
	if j.metals() < ironPresent && j.Hardness.SI <= softMolM3 {
		add("soft-already", "USGS: up to 60 mg/L as CaCO₃ is soft, from memory", "Water of %s counts as soft: nobody needs a softener for it. Ask what is hoped for.", Hardness.both(j.Hardness.SI))
	}
	if j.PH < leastPH {
		add("ph-low", practice, "pH %s is low (acidic): iron stays dissolved and pipes corrode. Neutralise the water first. A neutraliser of limestone adds hardness: test the water behind it, then size the softener.", number(j.PH))
	}
	if j.PH > mostPH {
		add("ph-high", practice, "pH %s is high: iron falls out in the bed and scale forms.", number(j.PH))
	}
	if mg := j.Chlorine.SI * 1e3; mg > someChlorine {
		add("chlorine", practice, "%s mg/L of chlorine wears the resin: put carbon before it, or resin with more cross-links.", number(mg))
	}
	if j.Temperature.SI > hotC {
		add("hot", practice, "Water of %s is too hot for tank and seals: the softener goes into the cold line, before the heater.", Temperature.both(j.Temperature.SI))
	}
	if tds := j.TDS.SI * 1e3; tds > mostTDS {
		add("tds", practice, "%s mg/L of dissolved solids make a softener leak hardness, and it takes none of them away.", number(tds))
	}
}

func (j *Job) supplyWarnings(s *Sheet, add func(id, source, format string, args ...any)) {
	if j.reduced() {
		add("pressure-high", "International Plumbing Code 604.8 and 607.3, from memory", "%s is over 80 psi (552 kPa): a pressure reducer before the unit, set to 60 psi (414 kPa), as this is worked out for. Behind a reducer the water that the heater expands has no way out: the heater needs an expansion tank. Relieve the pressure and see zero before anything is opened.", Pressure.both(j.Static.SI))
	}
	left := j.LeftPa(s, s.Value[ServiceFlow])
	if left < leastPSI*unit.PSI {
		when := "at the service flow"
		if j.Well {
			when = "at the service flow and with the pump about to start"
		}
		add("pressure-low", "20 psi at a mixing shower: International Plumbing Code 604.3, from memory", "%s are left at taps %s above the unit, %s: a booster pump, a wider service pipe or a larger unit.", Pressure.both(left), Length.both(houseRiseFt*unit.Foot), when)
	}
	if loss := s.Value[PeakLoss]; loss > mostPeakPSI*unit.PSI {
		what := peakTold
		if s.Value[PeakFlow] >= manyGPM*unit.GPM-hair {
			what += " " + manyTogether
		}
		add("peak-loss", practice, what, Flow.both(s.Value[PeakFlow]), Pressure.both(loss), Pressure.both(s.Value[ServiceLoss]))
	}
	if j.ResidualAt.SI < s.Value[DrainControl] {
		add("supply-small", "the job sheet", "The supply was seen to give %s only; backwash takes %s.", Flow.both(j.ResidualAt.SI), Flow.both(s.Value[DrainControl]))
	}
}

// What is told of the loss at the peak by the code, and besides of a great peak.
const (
	peakTold     = "For information: at the peak by the code, %s, the unit would take %s. That peak is for the pipes and on the safe side: a house hardly ever draws it, and then for moments. What counts is the loss at the service flow, %s."
	manyTogether = "Where so many fixtures really run together for long, it takes wider passages, or two units side by side."
)

// LeftPa is the pressure left at the taps while a flow, m³/s, is drawn through the
// sheet's unit.
func (j *Job) LeftPa(s *Sheet, m3s float64) float64 {
	const rho = 1000
	return j.SupplyPa(m3s) - j.UnitLossPa(s, m3s) - float64(rho*unit.Gravity*houseRiseFt*unit.Foot)
}
