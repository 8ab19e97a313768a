package say

import (
	"io/fs"
	"strings"
	"testing"

	"brinebench/scenarios"
	"brinebench/sim/household"
	"brinebench/sim/marking"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// sizingWords are the single words of a sizing, and the names of the library's sheets.
func sizingWords() (all []string) {
	for _, f := range household.Standard(1, 1).Fixtures {
		all = append(all, f.ID, f.Name, strings.ToLower(f.Name))
	}
	for _, id := range valve.ProgramIDs() {
		all = append(all, strings.ReplaceAll(id, "-", " "))
	}
	for _, t := range sizing.Tables(sizing.Drawn(1), sizing.US) {
		all = append(all, t.Head...)
	}
	for _, j := range sheets() {
		all = append(all, j.Title, j.Customer)
	}
	return append(all, "2 in", "ft", "ft³", "lb/ft³", "grain", "grains", "kilograin", "kilograins", "kilograin/ft³", "day", "days", "mg/L as CaCO₃", "g as CaCO₃", "arithmetic", "Δp(Qp)")
}

// sheets are the job sheets of the library.
func sheets() (list []*sizing.Job) {
	names, _ := fs.Glob(scenarios.Sizing, "sizing/*.json")
	for _, name := range names {
		data, _ := fs.ReadFile(scenarios.Sizing, name)
		j, err := sizing.DecodeJob(name, data)
		if err != nil {
			panic(err)
		}
		list = append(list, j)
	}
	return list
}

// Everything that a sizing tells, in both systems of units, and what speaks against
// careless answers, is heard whole in every language.
func TestASizingIsHeardWhole(t *testing.T) {
	for _, l := range others {
		speak(t, l)
		for _, j := range append(sheets(), sizing.Drawn(0), sizing.Drawn(3), sizing.Drawn(7), thirsty(8), thirsty(16)) {
			for _, text := range sizingTexts(j) {
				_, ok := spoken.hear(text)
				if !ok {
					t.Errorf("%s: %s: %q", l, j.Title, text)
				}
			}
		}
	}
}

// thirsty is a house with iron that saves salt and needs about as much as the bench has, or
// more.
func thirsty(people int) *sizing.Job {
	j := sizing.Drawn(1)
	j.People, j.SaltSaving = people, true
	j.Hardness = sizing.AmountOf(sizing.Hardness, 40*unit.GPG, "gpg")
	return j
}

func sizingTexts(j *sizing.Job) (all []string) {
	add := func(texts ...string) { all = append(all, texts...) }
	add(j.Title, j.Customer)
	sol := sizing.Solve(j)
	for _, sys := range []sizing.System{sizing.US, sizing.SI} {
		for _, line := range j.Lines(sys) {
			add(line.Label, line.Text)
		}
		for _, table := range sizing.Tables(j, sys) {
			add(table.Title, table.Source)
			add(table.Head...)
			for _, row := range table.Rows {
				add(row...)
			}
		}
		for _, st := range sol.Steps {
			add(st.Name, st.Formula[sys], st.With[sys], st.Result[sys], st.Source[sys])
		}
	}
	for _, w := range sol.Warnings {
		add(w.What, w.Source)
	}
	for _, f := range sol.Faults {
		add(f.What, f.Source)
	}
	careless, thumb := j.Careless(), j.Thumb()
	for _, s := range []*sizing.Sheet{&careless, &thumb} {
		for _, f := range j.Faults(s) {
			add(f.What)
		}
	}
	for _, f := range marking.Mark(j, &careless, outcome.Outcome{}, outcome.Outcome{}).Outcome {
		add(f.Name)
	}
	return all
}
