package sizing

import (
	"strings"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// MarkRow is one figure of an answer, marked, as it is shown.
type MarkRow struct {
	ID, Name, Got, Want string
	Verdict             string // of the engine
	Points, Of          float64
	Notes               []string // why, and what the person's own figures lead to
}

// MarkRows are the figures of an answer, marked.
func MarkRows(m *sim.SizingMarks, si bool) (rows []MarkRow) {
	for i := range m.Figures {
		x := &m.Figures[i]
		got, want, own := say.Amounts(of(x.Got, si)), say.Amounts(of(x.Want, si)), say.Amounts(of(x.Own, si))
		if got == "" {
			got = "–"
		}
		row := MarkRow{x.ID, say.Sim(x.Name), got, want, x.Verdict, x.Points, x.Of, nil}
		if own != want && (x.Verdict == "follows" || x.Verdict == "wrong") {
			row.Notes = append(row.Notes, say.Text("sizing.own."+x.Verdict, own))
		}
		if near := of(x.Near, si); near != "" && got != want && x.Verdict == "right" {
			row.Notes = append(row.Notes, say.Text("sizing.near", say.Amounts(near)))
		}
		for _, a := range x.Against {
			row.Notes = append(row.Notes, say.Sim(a))
		}
		rows = append(rows, row)
	}
	return rows
}

// of is the text of a pair for a system of units.
func of(pair [2]string, si bool) string {
	if si {
		return pair[1]
	}
	return pair[0]
}

// OutcomeRow is one thing that came of the units, side by side.
type OutcomeRow struct {
	ID, Name string
	Values   []string
}

// hardWater is the hardness from which water counts as hard, mol/m³: 1 gpg.
const hardWater = 0.17104

// OutcomeRows tells what came of units in their household.
func OutcomeRows(l game.Look, units ...*sim.SizingOutcome) (rows []OutcomeRow) {
	add := func(id string, value func(o *sim.SizingOutcome) string, told ...any) {
		row := OutcomeRow{ID: id, Name: say.Text("sizing.out."+id, told...)}
		for _, o := range units {
			row.Values = append(row.Values, value(o))
		}
		rows = append(rows, row)
	}
	add("hard-days", func(o *sim.SizingOutcome) string { return say.Number(float64(len(o.HardDays)), 0) })
	add("hard", func(o *sim.SizingOutcome) string { return l.Volume(o.HardM3) }, hardness(l, hardWater))
	add("house", func(o *sim.SizingOutcome) string { return l.Volume(o.HouseM3) })
	add("leak", func(o *sim.SizingOutcome) string { return l.Quantity(o.LeakMolM3, sim.UnitHardness) })
	add("regenerations", func(o *sim.SizingOutcome) string { return say.Number(float64(o.Regenerations), 0) })
	add("salt", func(o *sim.SizingOutcome) string { return weight(l, o.SaltKg) })
	add("drain", func(o *sim.SizingOutcome) string { return l.Volume(o.DrainM3) })
	add("flow", func(o *sim.SizingOutcome) string { return flow(l, o.PeakM3S) })
	add("loss", func(o *sim.SizingOutcome) string { return pressure(l, o.PeakLossPa) })
	add("left", func(o *sim.SizingOutcome) string { return pressure(l, o.PeakLeftPa) })
	return rows
}

func hardness(l game.Look, molM3 float64) string {
	scale, name := l.Scale(sim.UnitHardness)
	return say.Number(molM3*scale, 0) + " " + name
}

func weight(l game.Look, kg float64) string {
	scale, name := l.Scale(sim.UnitWeight)
	return say.Number(kg*scale, 0) + " " + name
}

func flow(l game.Look, m3s float64) string {
	scale, name := l.Scale(sim.UnitFlow)
	return say.Number(m3s*scale, 1) + " " + name
}

func pressure(l game.Look, pa float64) string {
	scale, name := l.Scale(sim.UnitPressure)
	return say.Number(pa*scale, 0) + " " + name
}

// Step is one step of a worked solution as it is shown.
type Step struct {
	ID, Name, Formula, With, Why, Result, Unit, Source string // With begins with its sign, if it has one; Why is what it rests on besides, "" nothing
	Choice                                             bool
}

// Steps are those of the worked solution; Unit is the one that a figure is asked in.
func Steps(job *sim.SizingJob, sol *sim.SizingSolution, si bool) (list []Step) {
	sys := 0
	if si {
		sys = 1
	}
	for i := range sol.Steps {
		s := &sol.Steps[i]
		list = append(list, Step{
			s.ID, say.Sim(s.Name), say.Sim(s.Formula[sys]), strings.TrimSpace(s.Sign[sys] + " " + say.Amounts(s.With[sys])), say.Amounts(s.Why[sys]), say.Amounts(s.Result[sys]),
			UnitName(Figure(job, s.ID).Units[sys][0].Name), say.Sim(s.Source[sys]), s.Choice,
		})
	}
	return list
}
