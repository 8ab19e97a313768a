package sizing

import (
	"fmt"
	"slices"
)

// meanings tell what one of each unit of hardness is, by definition.
var meanings = []struct{ ID, Is string }{
	{ID: "gpg", Is: "a grain as CaCO₃ in a US gallon"},
	{ID: "mmol/L", Is: "a mmol of calcium and magnesium in a litre"},
	{ID: "mg/L as CaCO3", Is: "a mg in a litre, counted as CaCO₃"},
	{ID: "meq/L", Is: "half a mmol of calcium and magnesium in a litre"},
	{ID: "dH", Is: "10 mg/L as CaO"},
	{ID: "fH", Is: "10 mg/L as CaCO₃"},
	{ID: "Clark", Is: "a grain as CaCO₃ in an imperial gallon"},
}

// meaning is what one of a unit of hardness is.
func meaning(name string) string {
	for _, m := range meanings {
		if m.ID == name {
			return m.Is
		}
	}
	panic("sizing: nothing tells what a " + name + " is")
}

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

// copied tells whether an answer has the job's hardness in the sheet's own unit, in which
// it is not converted at all.
func (j *Job) copied(s *Sheet) bool {
	return s.Given[RawHardness] && s.Written[RawHardness].Unit == j.Hardness.Unit
}

// units are those that an answer to the job may have a figure in, the one asked first.
func (j *Job) units(f Figure, sys System) []Unit {
	list := f.units(sys)
	if f != RawHardness {
		return list
	}
	asked := j.asked(sys)
	return append([]Unit{asked}, slices.DeleteFunc(list, func(u Unit) bool {
		return u.Name == asked.Name || u.Name == j.Hardness.Unit
	})...)
}

// From is the unit that the sheet has a figure in which an answer converts into another,
// "" where it has none.
func (j *Job) From(f Figure) string {
	if f == RawHardness {
		return j.Hardness.Unit
	}
	return ""
}

// result is a figure's value as it is told, and its unit.
func (j *Job) result(f Figure, si float64, sys System) (text, name string) {
	u := j.units(f, sys)[0]
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
