package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/water"
)

func TestChangedFeedHoldsFromItsDay(t *testing.T) {
	sp := Steady(12, 20)
	sp.IronMolM3 = 0.01
	sp.Changes = []Change{{10, 2, 0.02, 3}, {20, 0.5, -0.01, -5}}
	require.Empty(t, sp.Validate())
	first := water.ComposeFeed(3, 0.7, 1, 0.1)
	for _, c := range []struct {
		day                    int
		hardness, sodium, iron float64
	}{
		{0, 3, 1, 0.01}, {9, 3, 1, 0.01}, {10, 6, 4, 0.03}, {19, 6, 4, 0.03}, {20, 1.5, 0, 0}, {5000, 1.5, 0, 0},
	} {
		ions, iron := sp.Water(c.day, first)
		require.InDelta(t, c.hardness, ions[water.Ca]+ions[water.Mg], 1e-12, "day %d", c.day)
		require.InDelta(t, 0.7*c.hardness, ions[water.Ca], 1e-12, "the split stays")
		require.InDelta(t, c.sodium, ions[water.Na], 1e-12)
		require.Equal(t, first[water.K], ions[water.K])
		require.InDelta(t, c.iron, iron, 1e-15)
	}
}

// homeWell gives 10 gpm at 40 psi and 90 psi at rest, 20 gal, 28 psi, 30/50 psi.
func homeWell() Well {
	const psi, gallon = 6894.757, 3.785411784e-3
	return Well{
		ShutoffPa: 90 * psi, RatedPa: 40 * psi, RatedM3S: 10 * gallon / 60, TankM3: 20 * gallon,
		PrechargePa: 28 * psi, CutInPa: 30 * psi, CutOutPa: 50 * psi,
	}
}

func TestSiteFaultsAreAllFound(t *testing.T) {
	require.Len(t, new(Spec).Validate(), 5, "day, feed's mean and coldest day, air, lag")
	well := func(change func(w *Well)) func(sp *Spec) {
		return func(sp *Spec) {
			sp.FromWell, sp.Well = true, homeWell()
			change(&sp.Well)
		}
	}
	for _, c := range []struct {
		spoil func(sp *Spec)
		want  []string
	}{
		{func(*Spec) {}, nil},
		{well(func(*Well) {}), nil},
		{func(sp *Spec) { sp.Well.TankM3 = -1 }, nil}, // not in use
		{func(sp *Spec) { sp.DayOfYear = 366 }, []string{"day_of_year"}},
		{func(sp *Spec) { sp.Feed.AmplitudeC = 9.5 }, []string{"feed.mean_C"}},
		{func(sp *Spec) { sp.Feed.AmplitudeC = -1 }, []string{"feed.amplitude_C"}},
		{func(sp *Spec) { sp.Feed.MeanC = math.NaN() }, []string{"feed.mean_C"}},
		{func(sp *Spec) { sp.IronMolM3, sp.TankLagS = -1, math.Inf(1) }, []string{"iron_mol_m3", "tank_lag_s"}},
		{func(sp *Spec) { sp.Changes = []Change{{FromDay: -1, Hardness: -1}} }, []string{"changes[0].from_day", "changes[0].hardness"}},
		{func(sp *Spec) { sp.Changes = []Change{{3, 1, 0, 0}, {3, 1, -0.1, 1e3}} }, []string{"changes[1].from_day", "changes[1].iron_mol_m3", "changes[1].sodium_mol_m3"}},
		{func(sp *Spec) { sp.Outdoors, sp.SunC, sp.SwingC = true, -1, 30 }, []string{"swing_C", "sun_C"}},
		{func(sp *Spec) { sp.Air.MeanC = -5 }, []string{"air.mean_C"}}, // frost indoors
		{func(sp *Spec) { sp.Air.MeanC, sp.Outdoors = -5, true }, nil},
		{well(func(w *Well) { w.CutInPa = w.PrechargePa - 1 }), []string{"well.cut_in_pa"}},
		{well(func(w *Well) { w.CutOutPa = w.CutInPa }), []string{"well.cut_out_pa"}},
		{well(func(w *Well) { w.ShutoffPa = w.CutOutPa }), []string{"well.shutoff_pa"}},
		{well(func(w *Well) { w.RatedPa = w.ShutoffPa }), []string{"well.rated_pa"}},
		{well(func(w *Well) { w.RatedM3S, w.TankM3 = 0, math.NaN() }), []string{"well.rated_m3_s", "well.tank_m3"}},
	} {
		sp := Steady(10, 20)
		c.spoil(&sp)
		errs := sp.Validate()
		require.Len(t, errs, len(c.want), "%v: %v", c.want, errs)
		for i, field := range c.want {
			require.ErrorContains(t, errs[i], field+":")
		}
	}
}
