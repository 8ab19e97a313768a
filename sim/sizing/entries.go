package sizing

import "brinebench/sim/strict"

// jobAmount is an amount that a job sheet has, with its bounds in a unit.
type jobAmount struct {
	group, key string // in the file
	kind       Kind
	lo, hi     float64
	in         string
	optional   bool
	at         func(j *Job) *Amount
}

var jobAmounts = []jobAmount{
	{"water", "hardness", Hardness, 1, 100, "gpg", false, func(j *Job) *Amount { return &j.Hardness }},
	{"water", "iron", Concentration, 0, 20, "mg/L", true, func(j *Job) *Amount { return &j.Iron }},
	{"water", "manganese", Concentration, 0, 5, "mg/L", true, func(j *Job) *Amount { return &j.Manganese }},
	{"water", "tds", Concentration, 0, 5000, "mg/L", true, func(j *Job) *Amount { return &j.TDS }},
	{"water", "sodium", Concentration, 0, 1000, "mg/L", true, func(j *Job) *Amount { return &j.Sodium }},
	{"water", "chlorine", Concentration, 0, 20, "mg/L", true, func(j *Job) *Amount { return &j.Chlorine }},
	{"water", "temperature", Temperature, 1, 40, "C", false, func(j *Job) *Amount { return &j.Temperature }},
	{"supply", "static", Pressure, 10, 150, "psi", false, func(j *Job) *Amount { return &j.Static }},
	{"supply", "residual", Pressure, 5, 150, "psi", false, func(j *Job) *Amount { return &j.Residual }},
	{"supply", "residual_at", Flow, 1, 100, "gpm", false, func(j *Job) *Amount { return &j.ResidualAt }},
	{"drain", "rise", Distance, -6, 12, "ft", false, func(j *Job) *Amount { return &j.DrainRise }},
	{"drain", "length", Distance, 1, 100, "ft", false, func(j *Job) *Amount { return &j.DrainLength }},
	{"drain", "most_flow", Flow, 0.5, 50, "gpm", false, func(j *Job) *Amount { return &j.DrainMost }},
	{"space", "floor_width", Length, 10, 240, "in", false, func(j *Job) *Amount { return &j.FloorWidth }},
	{"space", "height", Length, 20, 240, "in", false, func(j *Job) *Amount { return &j.Height }},
}

// amounts are the readers of a group's amounts.
func (j *Job) amounts(w *strict.Walk, group string) (list []strict.Field) {
	for i := range jobAmounts {
		if a := &jobAmounts[i]; a.group == group {
			one := amount(w, a.key, a.kind, a.at(j), a.lo, a.hi, a.in)
			one.Optional = a.optional
			list = append(list, one)
		}
	}
	return list
}

// Entry is a figure that somebody writes: in one of its units, within that unit's bounds.
type Entry struct {
	ID       string         // in its file
	Units    [2][]EntryUnit // those of a system first, the usual one before the others
	Whole    bool           // a whole number
	Optional bool
}

// EntryUnit is a unit with what may be written in it.
type EntryUnit struct {
	Name        string
	Least, Most float64
	InSI, Zero  float64 // SI of one, and of its zero
}

// entry makes the entry of a kind with bounds in a unit.
func entry(id string, k Kind, lo, hi float64, in string) Entry {
	return entryIn(id, k.units, k, lo, hi, in)
}

// entryIn is entry with the units in an order of their own.
func entryIn(id string, units func(sys System) []Unit, k Kind, lo, hi float64, in string) Entry {
	bounds, _ := k.unitNamed(in)
	e := Entry{ID: id}
	for _, sys := range []System{US, SI} {
		for _, u := range units(sys) {
			e.Units[sys] = append(e.Units[sys], EntryUnit{u.Name, u.In(bounds.SI(lo)), u.In(bounds.SI(hi)), u.InSI, u.OffSet})
		}
	}
	return e
}

// JobEntries are the figures of a job sheet, ids with their group: "water.hardness".
func JobEntries() (list []Entry) {
	whole := func(id string, lo, hi float64) Entry {
		e := entry(id, Count, lo, hi, "")
		e.Whole = true
		return e
	}
	list = append(list, whole("people", 1, mostPeople))
	for _, id := range fixtureIDs {
		e := whole("fixtures."+id, 0, mostFixtures)
		e.Optional = true
		list = append(list, e)
	}
	for i := range jobAmounts {
		a := &jobAmounts[i]
		e := entry(a.group+"."+a.key, a.kind, a.lo, a.hi, a.in)
		e.Optional = a.optional
		list = append(list, e)
	}
	ph := entry("water.pH", Count, leastPHOfJob, mostPHOfJob, "")
	ph.Optional = true
	return append(list, ph)
}

// Entry is how a figure is written in an answer to the job; each may be left out.
func (j *Job) Entry(f Figure) Entry {
	b := &bounds[f]
	units := func(sys System) []Unit { return j.units(f, sys) }
	e := entryIn(f.ID(), units, f.Kind(), b.lo, b.hi, b.in)
	e.Optional, e.Whole = true, f.inWholeDays()
	return e
}
