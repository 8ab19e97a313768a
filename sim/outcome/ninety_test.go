//go:build !js && !arm64

package outcome_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/outcome"
	"brinebench/sim/plant"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// A kind of hard case each, and some more: the worked unit keeps the house soft.
func TestTheWorkedUnitKeepsTheHouseSoftForNinetyDays(t *testing.T) {
	for seed := range uint64(16) {
		j := sizing.Drawn(seed)
		sol := sizing.Solve(j)
		o := run(t, j, &sol.Sheet)
		require.Empty(t, o.HardDays, "seed %d, %s: %.3f m³", seed, j.Title, o.HardM3)
		require.Less(t, o.LeakMolM3, unit.GPG, "seed %d", seed)
		// Salt by the ledger is the dose, at each regeneration; the first dose stands in
		// the tank already.
		require.InEpsilon(t, float64(o.Regenerations)*sol.Sheet.Value[sizing.SaltDose], o.SaltKg, 0.06, "seed %d", seed)
		if !j.Demand {
			require.InDelta(t, outcome.Days/(sol.Sheet.Value[sizing.EveryDays]/unit.Day), float64(o.Regenerations), 1, "seed %d", seed)
		}
	}
}

func TestACarelessUnitLetsHardWaterThrough(t *testing.T) {
	j := sizing.Drawn(24)
	careless := j.Careless()
	o := run(t, j, &careless)
	require.Greater(t, len(o.HardDays), 20)
	require.Greater(t, o.HardM3, 0.1*o.HouseM3)
}

// The draws of an hour in one go against every draw by itself, in the coarse grains in
// which package plant's own 90 days run.
func TestAnHourInOneGoIsAsGoodAsEveryDraw(t *testing.T) {
	j := sizing.Drawn(24)
	for _, s := range []sizing.Sheet{j.Careless(), j.Thumb()} {
		swift := run(t, j, &s)
		m, err := plant.New(j.Config(&s))
		require.NoError(t, err)
		m = m.Coarse()
		st := m.Start(plant.Healthy())
		for day := 1.0; day <= outcome.Days; day++ {
			for end := day * unit.Day; st.TimeS < end; {
				m.Step(st, math.Min(m.MaxStep(st), math.Max(end-st.TimeS, 0.05)))
			}
			m.AddSalt(st, m.SaltMissingKg(st))
		}
		t.Logf("hard: %.2f m³ swift, %.2f m³ coarse of %.1f", swift.HardM3, st.Ledger.HouseHardM3, swift.HouseM3)
		require.InDelta(t, st.Ledger.HouseHardM3, swift.HardM3, 0.06*st.Ledger.HouseHardM3+0.1)
		require.InEpsilon(t, st.Ledger.HouseM3, swift.HouseM3, 0.05)
		require.InEpsilon(t, st.Ledger.DrainM3, swift.DrainM3, 0.03)
	}
}
