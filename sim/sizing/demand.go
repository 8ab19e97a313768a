package sizing

import "brinebench/sim/household"

// demandM3S is the flow of the code's table at so many units, m³/s.
func demandM3S(units float64) float64 {
	return household.DesignM3S(&household.Spec{Fixtures: []household.Fixture{{Units: units}}})
}

// demandRows are the rows of the code's table that a number of units lies between; both
// are the same where there is a row for it, or none beyond. Where it lies before the
// first, below has no units and no flow.
func demandRows(units float64) (below, above household.DemandRow) {
	for _, row := range household.DemandRows() {
		if row.Units <= units+hair {
			below = row
		}
		if row.Units >= units-hair {
			return below, row
		}
	}
	return below, below
}

// demandText is the flow at the sheet's units, in proportion between two rows.
func (n terms) demandText() string {
	units := n.s.Value[FixtureUnits]
	a, b := demandRows(units)
	low, high := n.text(Flow, a.FlowM3S), n.text(Flow, b.FlowM3S)
	switch {
	case a == b:
		return low
	case a.Units == 0:
		return n.number(units) + " ÷ " + number(b.Units) + " × " + high
	}
	return low + " + (" + n.number(units) + " − " + number(a.Units) + ") ÷ (" + number(b.Units) + " − " + number(a.Units) + ") × (" + high + " − " + low + ")"
}

// whyDemand names the rows.
func (n terms) whyDemand() string {
	a, b := demandRows(n.s.Value[FixtureUnits])
	switch {
	case a == b:
		return n.rowText(a)
	case a.Units == 0:
		return "The table begins with " + Flow.Text(b.FlowM3S, n.sys) + " at " + number(b.Units) + " unit: below that the flow goes with the units."
	}
	return n.rowText(a) + " " + n.rowText(b)
}

// rowText tells a row of the table.
func (n terms) rowText(row household.DemandRow) string {
	if row.Units == 1 {
		return "The table has " + Flow.Text(row.FlowM3S, n.sys) + " at " + number(row.Units) + " unit."
	}
	return "The table has " + Flow.Text(row.FlowM3S, n.sys) + " at " + number(row.Units) + " units."
}

// demandTable has the rows that a house of the job can come to.
func (j *Job) demandTable(sys System) Table {
	const first, usual = 4, 20
	t := Table{ID: "demand", Title: "Peak flow by units", Head: []string{"units"}, Rows: [][]string{{Flow.symbol(sys)}}, Source: byTable}
	least, _ := demandRows(j.fixtureUnits())
	_, most := demandRows(j.plainUnits())
	for _, row := range household.DemandRows() {
		if row.Units >= min(first, least.Units) && row.Units <= max(usual, most.Units) {
			t.Head = append(t.Head, number(row.Units))
			t.Rows[0] = append(t.Rows[0], Flow.Number(row.FlowM3S, sys))
		}
	}
	return t
}
