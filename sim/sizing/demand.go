package sizing

import "brinebench/sim/household"

// demandUnits are the rows of the code's demand table from where a house begins:
// International Plumbing Code, table E103.3(3), after Hunter, BMS65 (1940), from memory.
// Their flows are package household's.
var demandUnits = []float64{
	0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20,
	25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120, 140, 160, 180, 200,
}

// demandM3S is the flow of the code's table at so many units, m³/s.
func demandM3S(units float64) float64 {
	return household.DesignM3S(&household.Spec{Fixtures: []household.Fixture{{Units: units}}})
}

// demandRows are the rows of the table that a number of units lies between; both are the
// same where there is a row for it, or none beyond.
func demandRows(units float64) (below, above float64) {
	for _, row := range demandUnits {
		if row <= units+hair {
			below = row
		}
		if row >= units-hair {
			return below, row
		}
	}
	return below, below
}

// demandText is the flow at the sheet's units, in proportion between two rows.
func (n terms) demandText() string {
	units := n.s.Value[FixtureUnits]
	a, b := demandRows(units)
	low, high := n.text(Flow, demandM3S(a)), n.text(Flow, demandM3S(b))
	if a == b {
		return low
	}
	return low + " + (" + n.number(units) + " − " + number(a) + ") ÷ (" + number(b) + " − " + number(a) + ") × (" + high + " − " + low + ")"
}

// whyDemand names the rows.
func (n terms) whyDemand() string {
	text := func(units float64) string {
		return "The table has " + Flow.Text(demandM3S(units), n.sys) + " at " + number(units) + " units."
	}
	a, b := demandRows(n.s.Value[FixtureUnits])
	if a == b {
		return text(a)
	}
	return text(a) + " " + text(b)
}

// demandTable has the rows that a house of the job can come to.
func (j *Job) demandTable(sys System) Table {
	const first, usual = 4, 20
	t := Table{ID: "demand", Title: "Peak flow by units", Head: []string{"units"}, Rows: [][]string{{Flow.symbol(sys)}}, Source: byTable}
	least, _ := demandRows(j.fixtureUnits())
	_, most := demandRows(j.plainUnits())
	for _, units := range demandUnits {
		if units >= min(first, least) && units <= max(usual, most) {
			t.Head = append(t.Head, number(units))
			t.Rows[0] = append(t.Rows[0], Flow.Number(demandM3S(units), sys))
		}
	}
	return t
}
