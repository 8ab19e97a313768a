package sizing_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/marking"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

type fixtures = [sizing.NumFixtures]int

// Units: International Plumbing Code, table E103.3(2), from memory: a private bathroom
// group with a flush tank 3.6, toilet 2.2, basin 0.7, all others 1.4. Flows: table
// E103.3(3), from memory, straight between its rows.
func TestABathroomGroupCountsInPlaceOfItsFixtures(t *testing.T) {
	for _, row := range []struct {
		house             string
		fixtures          fixtures
		grouped, gpm      float64
		singly, singlyGPM float64
		sum               string
	}{
		{
			"a bathroom with a shower",
			fixtures{sizing.Toilet: 1, sizing.Shower: 1, sizing.Basin: 1, sizing.KitchenTap: 1, sizing.Washer: 1},
			6.4, 10.7 + 0.4*1.1, 7.1, 11.9, "1 bathroom group × 3.6 + 1 kitchen × 1.4 + 1 washer × 1.4",
		},
		{
			"two bathrooms, one with bath and shower",
			fixtures{sizing.Toilet: 2, sizing.Shower: 2, sizing.Bath: 1, sizing.Basin: 2, sizing.KitchenTap: 1, sizing.Washer: 1, sizing.Dishwasher: 1},
			12.8, 16.4, 14.2, 17.1, "2 bathroom group × 3.6 + 1 shower × 1.4 + 1 kitchen × 1.4 + 1 washer × 1.4 + 1 dishwasher × 1.4",
		},
		{
			"a toilet by itself",
			fixtures{sizing.Toilet: 3, sizing.Shower: 1, sizing.Bath: 1, sizing.Basin: 2},
			9.4, 13.7 + 0.4*0.9, 10.8, 14.6 + 0.8*0.8, "2 bathroom group × 3.6 + 1 toilet × 2.2",
		},
		{
			"no bath or shower",
			fixtures{sizing.Toilet: 1, sizing.Basin: 1, sizing.KitchenTap: 1},
			4.3, 8 + 0.3*1.4, 4.3, 8 + 0.3*1.4, "1 toilet × 2.2 + 1 basin × 0.7 + 1 kitchen × 1.4",
		},
	} {
		j := named(t, "four-at-20-gpg")
		j.Fixtures = row.fixtures
		sol := sizing.Solve(j)
		units, peak := sol.Steps[sizing.FixtureUnits], sol.Steps[sizing.PeakFlow]
		require.InDelta(t, row.grouped, units.Value, 1e-9, row.house)
		require.InDelta(t, row.gpm, peak.Value/unit.GPM, 1e-9, row.house)
		require.Equal(t, row.sum, units.With[sizing.US], row.house)
		require.InDelta(t, row.grouped, worth(t, row.sum), 1e-9, row.house)
		require.Contains(t, units.Source[sizing.US], "a bathroom group counts 3.6 in place of its toilet, basin and bath or shower")

		require.InDelta(t, max(1.01*row.singly, row.singly+0.05), units.Above, 1e-9, row.house)
		require.InDelta(t, 1.05*row.singlyGPM, peak.Above/unit.GPM, 1e-9, row.house)
		require.InDelta(t, min(0.99*row.grouped, row.grouped-0.05), units.Below, 1e-9, row.house)
		require.InDelta(t, 0.95*row.gpm, peak.Below/unit.GPM, 1e-9, row.house)
	}
}

func TestTheTableOfUnitsHasTheGroup(t *testing.T) {
	table := tableOf(t, named(t, "four-at-20-gpg"), "units", sizing.US)
	require.Equal(t, []string{"Bathroom group, flush tank: toilet, basin and a bath or shower", "3.6", "each its own"}, table.Rows[0])
	require.Contains(t, table.Source, "a group in place of its fixtures")
	require.Len(t, table.Rows, 1+int(sizing.NumFixtures))
}

// Who adds every fixture singly is on the safe side; who adds too little or far too much
// is not right, and the flow is that of the sum.
func TestThePlainSumOfUnitsEarnsFullMarks(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	sheet := sizing.Solve(j).Sheet
	worked := outcome.Outcome{SaltKg: 50, DrainM3: 5, HouseM3: 80}
	for _, row := range []struct {
		units, gpm  float64
		right, peak marking.Verdict
	}{
		{12.8, 16.4, marking.Right, marking.Right},
		{13.5, 16.75, marking.Right, marking.Right}, // one bathroom as a group
		{14.2, 17.1, marking.Right, marking.Right},
		{14.2, 16.4, marking.Right, marking.Right},
		{10, 14.6, marking.Wrong, marking.Follows},
		{10, 17.5, marking.Wrong, marking.Right},
		{30, 23.3, marking.Wrong, marking.Follows},
		{30, 20, marking.Wrong, marking.Wrong},
		{14.2, 19, marking.Right, marking.Wrong},
	} {
		s := sheet
		s.Value[sizing.FixtureUnits], s.Value[sizing.PeakFlow] = row.units, row.gpm*unit.GPM
		m := marking.Mark(j, &s, worked, worked)
		require.Equal(t, row.right, m.Figures[sizing.FixtureUnits].Verdict, "%+v", row)
		require.Equal(t, row.peak, m.Figures[sizing.PeakFlow].Verdict, "%+v", row)
	}
	s := sizing.NewSheet(sheet.Tank, sheet.Program, []sizing.Figure{sizing.FixtureUnits}, []float64{14.2})
	full := j.Completed(&s)
	m := marking.Mark(j, &full, worked, worked)
	require.InDelta(t, 50, m.Right+m.Consistency, 1e-9)
}
