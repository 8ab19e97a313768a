package household

// demand has the flow that a supply must be able to give to so many water supply
// fixture units where toilets have flush tanks, in US gallons per minute.
//
// Source: International Plumbing Code, table E103.3(3), after Hunter, Methods of
// Estimating Loads in Plumbing Systems, BMS65, National Bureau of Standards 1940;
// from memory.
var demand = [...]struct{ units, flowGPM float64 }{
	{0, 0},
	{1, 3.0},
	{2, 5.0},
	{3, 6.5},
	{4, 8.0},
	{5, 9.4},
	{6, 10.7},
	{7, 11.8},
	{8, 12.8},
	{9, 13.7},
	{10, 14.6},
	{11, 15.4},
	{12, 16.0},
	{13, 16.5},
	{14, 17.0},
	{15, 17.5},
	{16, 18.0},
	{17, 18.4},
	{18, 18.8},
	{19, 19.2},
	{20, 19.6},
	{25, 21.5},
	{30, 23.3},
	{35, 24.9},
	{40, 26.3},
	{45, 27.7},
	{50, 29.1},
	{60, 32.0},
	{70, 35.0},
	{80, 38.0},
	{90, 41.0},
	{100, 43.5},
	{120, 48.0},
	{140, 52.5},
	{160, 57.0},
	{180, 61.0},
	{200, 65.0},
}

// DemandRow is a row of the code's demand table.
type DemandRow struct{ Units, FlowM3S float64 }

// DemandRows are the rows of the code's demand table. No unit and no flow is where it
// starts from, and no row of it.
func DemandRows() (rows []DemandRow) {
	for _, row := range demand[1:] {
		rows = append(rows, DemandRow{row.units, float64(gpm * row.flowGPM)})
	}
	return rows
}

// DesignM3S returns the design flow of the fixtures after Hunter, m³/s, whoever
// uses them, and without the leak. It is on the safe side: fixtures of today run
// shorter and at less flow than Hunter's. Between the rows of the code's table it
// is linear, beyond 200 units it stays at the last.
func DesignM3S(sp *Spec) float64 {
	units := 0.0
	for i := range sp.Fixtures {
		units += sp.Fixtures[i].Units
	}
	for i := 1; i < len(demand); i++ {
		a, b := demand[i-1], demand[i]
		if units <= b.units {
			part := (units - a.units) / (b.units - a.units)
			return float64(gpm * (a.flowGPM + float64(part*(b.flowGPM-a.flowGPM))))
		}
	}
	return float64(gpm * demand[len(demand)-1].flowGPM)
}
