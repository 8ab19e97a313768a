package sizing

import (
	"fmt"
	"slices"
)

// meanings tell what one of each unit of hardness is, by definition, in the order of the
// units: gpg, mmol/L, mg/L as CaCO₃, meq/L, German, French and Clark's degrees.
var meanings = []string{
	"a grain as CaCO₃ in a US gallon",
	"a mmol of calcium and magnesium in a litre",
	"a mg in a litre, counted as CaCO₃",
	"half a mmol of calcium and magnesium in a litre",
	"10 mg/L as CaO",
	"10 mg/L as CaCO₃",
	"a grain as CaCO₃ in an imperial gallon",
}

// meaning is what one of a unit of hardness is.
func meaning(name string) string { return meanings[slices.Index(Hardness.Units(US), name)] }

// asCaCO3 is hardness by mass, in which most reports of a water have it.
func asCaCO3() Unit { return Hardness.units(SI)[1] }

// asked is the unit of hardness that an answer converts the job's figure into: another
// than the sheet has it in, or copying it would do.
func (j *Job) asked(sys System) Unit {
	u := Hardness.units(sys)[0]
	if u.Name == j.Hardness.Unit {
		return asCaCO3()
	}
	return u
}

// result is a figure's value as it is told, and its unit.
func (j *Job) result(f Figure, si float64, sys System) (text, name string) {
	u := f.units(sys)[0]
	if f == RawHardness {
		u = j.asked(sys)
	}
	return spaced(u.read(si), u.Name), u.Name
}

// converted is the job's hardness times what one of its unit is in the one asked.
func (n terms) converted() string {
	from, _ := Hardness.unitNamed(n.j.Hardness.Unit)
	to := n.j.asked(n.sys)
	return spaced(n.number(n.j.Hardness.Value), from.Name) + " × " + spaced(n.number(from.InSI/to.InSI), to.Name) + " for a " + unitSymbol(from.Name)
}

// whyFactor tells what the two units are.
func (n terms) whyFactor() string {
	from, to := n.j.Hardness.Unit, n.j.asked(n.sys).Name
	return fmt.Sprintf("1 %s is %s. 1 %s is %s.", unitSymbol(from), meaning(from), unitSymbol(to), meaning(to))
}

// hardnessTable gives what one of each unit of hardness is.
func hardnessTable(sys System) Table {
	in := []Unit{Hardness.units(sys)[0], asCaCO3()}
	t := Table{ID: "hardness", Title: "Units of hardness", Head: []string{"one", "is"}, Source: "conversion by definition"}
	for _, u := range in {
		t.Head = append(t.Head, "in "+unitSymbol(u.Name))
	}
	for _, name := range Hardness.Units(US) {
		u, _ := Hardness.unitNamed(name)
		row := []string{unitSymbol(name), meaning(name)}
		for _, to := range in {
			text, _ := exactly(u.InSI / to.InSI)
			row = append(row, text)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
