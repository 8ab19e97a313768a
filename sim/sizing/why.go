package sizing

import (
	"fmt"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// why tells what a figure rests on besides its formula: what the numbers of a factor or of
// a table are, and what stopped another choice; "" where there is nothing to tell.
func (n terms) why(f Figure) string {
	switch f {
	case RawHardness:
		return n.whyFactor()
	case PeakFlow:
		return n.whyDemand()
	case Resin:
		return n.whyTank()
	case SaltDose:
		return n.whyDose()
	}
	return ""
}

// whyDose tells what stopped the next lower dose, with its number.
func (n terms) whyDose() string {
	lower, ok := lowerDose(n.s.dose())
	if !ok {
		return "No lower dose is taken."
	}
	if lower < n.j.leastDose()-hair {
		return n.whyLeastDose()
	}
	t, tried := n.s.chosen.atDose(n.s.Tank, lower)
	switch {
	case !tried:
		return ""
	case t.short():
		return fmt.Sprintf("With %s of salt the tank would last for %s days beside the reserve, less than %s.", n.dose(lower), number(max(0, t.lasts)), number(t.days))
	case len(t.faults) > 0:
		return "A lower dose does not do. " + t.faults[0].What
	}
	return fmt.Sprintf("With %s of salt it would take %s of salt in a year, and with this %s.", n.dose(lower), Mass.Text(t.salt, n.sys), Mass.Text(n.s.Value[SaltPerYear], n.sys))
}

// whyLeastDose tells why the job takes no dose below its least.
func (n terms) whyLeastDose() string {
	least := n.dose(n.j.leastDose())
	switch {
	case n.j.metals() >= ironPresent:
		return fmt.Sprintf("%s mg/L of iron and manganese: from %s mg/L on no dose below %s is taken.", number(n.j.metals()*1e3), number(ironPresent*1e3), least)
	case n.j.SaltSaving:
		return fmt.Sprintf("Hardness and sodium together are %s, more than the %s up to which a dose below %s is taken to save salt.", n.apart(n.j.cations(), mostForLean), n.apart(mostForLean, n.j.cations()), least)
	}
	return fmt.Sprintf("A dose below %s is for who wishes to save salt.", least)
}

// apart writes a hardness with so many digits that it can be told from another.
func (n terms) apart(si, other float64) string {
	text := Hardness.Text(si, n.sys)
	if text == Hardness.Text(other, n.sys) {
		text, _ = Hardness.factor(si, n.sys)
	}
	return text
}

// whyTank tells what stopped the next smaller tank, with its number.
func (n terms) whyTank() string {
	smaller, ok := smallerTank(n.s.Tank)
	if !ok {
		return "No tank is smaller."
	}
	t, tried := n.s.chosen.nearest(smaller)
	switch {
	case !tried, n.s.chosen.days < leastDays:
		return "" // the largest that fits
	case t.fits():
		return fmt.Sprintf("The next smaller tank would take %s of salt in a year, this one %s: to save salt a larger tank is worth it where it saves %s for each size.", Mass.Text(t.salt, n.sys), Mass.Text(n.s.Value[SaltPerYear], n.sys), Percent.Text(100*(1-worthIt), n.sys))
	case t.short():
		full := n.j.Completed(t.Sheet)
		if faults := n.j.tankFaults(&full); len(faults) > 0 { // which no dose would mend
			return "The next smaller tank does not do. " + faults[0].What
		}
		return fmt.Sprintf("The next smaller tank would last for %s days beside the reserve with %s of salt, less than %s.", number(max(0, t.lasts)), n.dose(t.dose()), number(t.days))
	}
	return "The next smaller tank does not do. " + t.faults[0].What
}

// dose writes lb/ft³ in the reader's units.
func (n terms) dose(lbPerFt3 float64) string {
	return Dose.Text(float64(lbPerFt3*(unit.Pound/unit.CubicFoot)), n.sys)
}

// lowerDose is the next dose below one, lb/ft³.
func lowerDose(than float64) (lower float64, ok bool) {
	for _, dose := range doses {
		if dose < than-hair {
			lower, ok = dose, true
		}
	}
	return lower, ok
}

// smallerTank is the id of the tank before one.
func smallerTank(than string) (smaller string, ok bool) {
	for _, set := range outfit.All() {
		if set.ID == than {
			return smaller, smaller != ""
		}
		smaller = set.ID
	}
	return "", false
}
