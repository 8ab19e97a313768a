package headless

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"brinebench/sim/marking"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
)

// printer writes sizings as plain text; it keeps the first error of its writer.
type printer struct {
	out io.Writer
	sys sizing.System
	err error
}

func (p *printer) text(s string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.out, s)
	}
}

func (p *printer) line(format string, args ...any) { p.text(fmt.Sprintf(format, args...) + "\n") }

// head writes a heading.
func (p *printer) head(title string) {
	p.line("\n%s\n%s", title, strings.Repeat("-", len([]rune(title))))
}

func (p *printer) jobSheet(job *sizing.Job) {
	p.line("JOB SHEET: %s", job.Title)
	p.line("Customer: %s", job.Customer)
	for _, l := range job.Lines(p.sys) {
		p.line("  %-26s %s", l.Label, l.Text)
	}
}

// solution writes job sheet, steps, and what has to be seen to.
func (p *printer) solution(job *sizing.Job) {
	sol := sizing.Solve(job)
	p.jobSheet(job)
	p.head("Worked sizing")
	p.steps(&sol, func(n int, st *sizing.Step) {
		p.line("%2d  %s: %s", n, st.Name, st.Result[p.sys])
		p.line("      %s", st.Formula[p.sys])
		p.line("      %s", strings.TrimSpace(st.Sign[p.sys]+" "+st.With[p.sys]))
		if why := st.Why[p.sys]; why != "" {
			p.line("      %s", why)
		}
		p.line("      [%s]", st.Source[p.sys])
	})
	p.ends(&sol)
}

func (p *printer) steps(sol *sizing.Solution, each func(n int, st *sizing.Step)) {
	for i := range sol.Steps {
		each(i+1, &sol.Steps[i])
	}
}

// ends writes tank, program, faults and warnings.
func (p *printer) ends(sol *sizing.Solution) {
	p.line("\nTank: %s.  Program: %s.", sol.TankName[p.sys], sol.Sheet.Program)
	for _, f := range sol.Faults {
		p.line("DOES NOT FIT: %s [%s]", f.What, f.Source)
	}
	p.head("To see to")
	for _, w := range sol.Warnings {
		p.line("- %s [%s]", w.What, w.Source)
	}
}

// key writes the results alone, with what is let pass.
func (p *printer) key(job *sizing.Job) {
	sol := sizing.Solve(job)
	p.line("ANSWER KEY: %s (%s)\n", job.Title, job.Customer)
	p.steps(&sol, func(n int, st *sizing.Step) {
		within := st.Kind.Text(st.Below, p.sys) + " to " + st.Kind.Text(st.Above, p.sys)
		if st.Choice {
			within = "or another that fits"
		}
		p.line("%2d  %-50s %-16s (%s)", n, st.Name, st.Result[p.sys], within)
		p.line("      %s %s", st.Formula[p.sys], strings.TrimSpace(cmp.Or(st.Sign[p.sys], ":")+" "+st.With[p.sys]))
	})
	p.ends(&sol)
}

// marks writes the marks of an answer.
func (p *printer) marks(m marking.Marks) {
	p.head("Marks")
	for _, f := range m.Figures {
		k := f.Figure.Kind()
		got := "-"
		if f.Verdict != marking.Missing {
			got = k.Text(f.Got, p.sys)
		}
		p.line("  %-50s %-14s worked %-14s %-8s %4.1f of %.0f", f.Figure.Name(), got, k.Text(f.Want, p.sys), f.Verdict, f.Points, f.Of)
	}
	p.line("\n  %-50s %5.1f", "Figures that are right or fit", m.Right)
	p.line("  %-50s %5.1f", "Figures that follow from the answer's own", m.Consistency)
	for _, it := range m.Outcome {
		p.line("  %-50s %5.1f of %.0f", it.Name, it.Points, it.Of)
	}
	p.line("  %-50s %5.1f of 100", "Score", m.Score)
	for _, f := range m.Faults {
		p.line("DOES NOT FIT: %s [%s]", f.What, f.Source)
	}
}

// outcomes writes what became of units, side by side.
func (p *printer) outcomes(names []string, list ...outcome.Outcome) {
	p.head(fmt.Sprintf("%d days in the house", outcome.Days))
	row := func(label string, cell func(o *outcome.Outcome) string) {
		var b strings.Builder
		for i := range list {
			fmt.Fprintf(&b, "%16s", cell(&list[i]))
		}
		p.line("  %-34s%s", label, b.String())
	}
	at := -1
	row("", func(*outcome.Outcome) string { at++; return names[at] })
	of := func(label string, k sizing.Kind, v func(o *outcome.Outcome) float64) {
		row(label, func(o *outcome.Outcome) string { return k.Text(v(o), p.sys) })
	}
	row("days with hard water", func(o *outcome.Outcome) string { return fmt.Sprint(len(o.HardDays)) })
	of("water above 1 gpg", sizing.Volume, func(o *outcome.Outcome) float64 { return o.HardM3 })
	of("of all water to the house", sizing.Volume, func(o *outcome.Outcome) float64 { return o.HouseM3 })
	of("its mean hardness", sizing.Hardness, func(o *outcome.Outcome) float64 { return o.LeakMolM3 })
	row("regenerations", func(o *outcome.Outcome) string { return fmt.Sprint(o.Regenerations) })
	of("salt used", sizing.Mass, func(o *outcome.Outcome) float64 { return o.SaltKg })
	of("water to the drain", sizing.Volume, func(o *outcome.Outcome) float64 { return o.DrainM3 })
	of("greatest flow", sizing.Flow, func(o *outcome.Outcome) float64 { return o.PeakM3S })
	of("pressure loss at it", sizing.Pressure, func(o *outcome.Outcome) float64 { return o.PeakLossPa })
	of("pressure left at the taps", sizing.Pressure, func(o *outcome.Outcome) float64 { return o.PeakLeftPa })
	for i := range list {
		if len(list[i].HardDays) > 0 {
			p.line("  Hard days (%s): %s", names[i], spans(list[i].HardDays))
		}
	}
}

// spans writes days from 1 on, runs of them together.
func spans(days []int) string {
	var list []string
	for i := 0; i < len(days); {
		k := i
		for k+1 < len(days) && days[k+1] == days[k]+1 {
			k++
		}
		if k == i {
			list = append(list, fmt.Sprint(days[i]+1))
		} else {
			list = append(list, fmt.Sprintf("%d-%d", days[i]+1, days[k]+1))
		}
		i = k + 1
	}
	return strings.Join(list, ", ")
}
