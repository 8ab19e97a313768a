package headless

import (
	"fmt"
	"strings"

	"brinebench/sim/sizing"
)

// worksheet writes a job sheet with the tables that it is worked out with, and blanks.
func (p *printer) worksheet(job *sizing.Job) {
	p.line("WORKSHEET   Name: ____________________   Date: ____________\n")
	p.jobSheet(job)
	p.head("Tables")
	for _, t := range sizing.Tables(job, p.sys) {
		if t.ID == sizing.RuleTable {
			continue // each stands with its blank
		}
		p.line("%s [%s]", t.Title, t.Source)
		p.table(&t)
	}
	p.head("Your figures")
	sol := sizing.Solve(job)
	p.steps(&sol, func(n int, st *sizing.Step) {
		p.line("%2d  %-52s ____________ %s", n, st.Name, st.Unit[p.sys])
		p.line("      %s", st.Formula[p.sys])
	})
	p.line("\nTank: ____________________   Program: ____________________")
	p.line("\nFor training. Local code, the authority having jurisdiction and licensed practice govern a real job.")
}

// table writes columns as wide as their widest cell.
func (p *printer) table(t *sizing.Table) {
	rows := append([][]string{t.Head}, t.Rows...)
	wide := make([]int, len(t.Head))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], len([]rune(cell)))
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			fmt.Fprintf(&b, "  %s%s", cell, strings.Repeat(" ", wide[i]-len([]rune(cell))))
		}
		p.line("%s", strings.TrimRight(b.String(), " "))
	}
	p.line("")
}
