package sizing_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// near requires the same solution, but for rounding.
func near(t *testing.T, want, got sizing.Solution, why string) {
	t.Helper()
	require.Equal(t, want.Sheet.Tank, got.Sheet.Tank, why)
	require.Equal(t, want.Sheet.Program, got.Sheet.Program, why)
	for f := range sizing.NumFigures {
		require.InDelta(t, want.Sheet.Value[f], got.Sheet.Value[f], 1e-6*(1e-6+want.Sheet.Value[f]), "%s: %s", why, f.ID())
	}
}

func TestTheSameJobInOtherUnitsIsSolvedTheSame(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	want := sizing.Solve(j)
	h := j.Hardness.SI
	for _, name := range sizing.Hardness.Units(sizing.US) {
		j.Hardness = sizing.AmountOf(sizing.Hardness, h, name)
		back, err := sizing.DecodeJob(name, j.JSON())
		require.NoError(t, err)
		near(t, want, sizing.Solve(back), name)
	}
	j.Static, j.Residual = sizing.AmountOf(sizing.Pressure, j.Static.SI, "bar"), sizing.AmountOf(sizing.Pressure, j.Residual.SI, "kPa")
	j.Temperature, j.DrainMost = sizing.AmountOf(sizing.Temperature, j.Temperature.SI, "F"), sizing.AmountOf(sizing.Flow, j.DrainMost.SI, "m3/h")
	back, err := sizing.DecodeJob("metric", j.JSON())
	require.NoError(t, err)
	near(t, want, sizing.Solve(back), "metric")
}

// hardness_units.csv, computed from the definitions.
func TestHardnessOfAnyUnitIsRead(t *testing.T) {
	columns := map[string]string{
		"mg/L as CaCO3": "mg_L_as_CaCO3", "gpg": "US_gpg", "mmol/L": "mmol_L", "meq/L": "meq_L", "dH": "deg_dH", "fH": "deg_fH", "Clark": "deg_Clark",
	}
	require.ElementsMatch(t, sizing.Hardness.Units(sizing.SI), keys(columns))
	for _, row := range refdata.Rows(t, "tables/hardness_units.csv") {
		for name, column := range columns {
			a := sizing.AmountOf(sizing.Hardness, row.Number("mmol_L"), name)
			require.InEpsilon(t, row.Number(column), a.Value, 1e-9, "%s: %s", row.Where(), name)
		}
	}
}

func keys(m map[string]string) (list []string) {
	for k := range m {
		list = append(list, k)
	}
	return list
}

func TestTwiceThePeopleAreTwiceTheLoad(t *testing.T) {
	for seed := range uint64(24) {
		j := sizing.Drawn(seed)
		one := sizing.Solve(j).Sheet
		j.People *= 2
		two := sizing.Solve(j).Sheet
		for _, f := range []sizing.Figure{sizing.DailyWater, sizing.DailyLoad, sizing.ResinNeeded} {
			require.InEpsilon(t, 2*one.Value[f], two.Value[f], 1e-9, "seed %d: %s", seed, f.ID())
		}
		require.GreaterOrEqual(t, two.Value[sizing.SaltPerYear], one.Value[sizing.SaltPerYear]-1e-9, "seed %d", seed)
	}
}

// Twice the people on half the hardness ask for the same bed.
func TestHardnessAndPeopleWeighTheSame(t *testing.T) {
	for _, job := range []string{"four-at-20-gpg", "two-on-22-dH", "five-on-21-clark"} {
		j := named(t, job)
		a := sizing.Solve(j).Sheet
		j.People, j.Hardness = 2*j.People, sizing.AmountOf(sizing.Hardness, j.Hardness.SI/2, "gpg")
		b := sizing.Solve(j).Sheet
		require.Equal(t, a.Tank, b.Tank)
		for _, f := range []sizing.Figure{sizing.DailyLoad, sizing.ResinNeeded, sizing.SaltDose, sizing.Capacity, sizing.Reserve, sizing.Interval, sizing.SaltPerYear} {
			require.InEpsilon(t, a.Value[f], b.Value[f], 1e-9, "%s: %s", job, f.ID())
		}
		require.InEpsilon(t, a.Value[sizing.SaltAdded], 2*b.Value[sizing.SaltAdded], 1e-9)
	}
}

func TestLossRisesWithFlowAndFallsWithWidth(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	narrow, wide := sizing.NewSheet("tank-8-in", "", nil, nil), sizing.NewSheet("tank-12-in", "", nil, nil)
	last := 0.0
	for _, gpm := range []float64{1, 3, 5, 8, 12, 16} {
		loss := j.UnitLossPa(&narrow, gpm*unit.GPM)
		require.Greater(t, loss, last)
		require.Greater(t, loss, j.UnitLossPa(&wide, gpm*unit.GPM))
		last = loss
	}
}
