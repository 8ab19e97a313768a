package cards

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/cycle"
	"brinebench/scenarios"
	"brinebench/sim"
)

func deck(t *testing.T, unit string) *Deck {
	t.Helper()
	list, err := cycle.Benches(scenarios.Bench)
	require.NoError(t, err)
	i := slices.IndexFunc(list, func(b cycle.Bench) bool { return b.ID == unit })
	require.GreaterOrEqual(t, i, 0)
	c, err := list[i].Open()
	require.NoError(t, err)
	return New(c)
}

func (d *Deck) position(t *testing.T, stop string) *Position {
	t.Helper()
	i := slices.IndexFunc(d.Positions, func(p Position) bool { return p.Station.ID == stop })
	require.GreaterOrEqual(t, i, 0, stop)
	return &d.Positions[i]
}

func value(t *testing.T, list []Figure, id string) float64 {
	t.Helper()
	i := slices.IndexFunc(list, func(f Figure) bool { return f.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return list[i].Value
}

const (
	gpm = 3.785411784e-3 / 60
	psi = 6894.757
)

// Trade figures (design 3.2; common practice, no source): backwash of a 9 in tank near
// 2.2 gpm, brine draw 0.2 to 0.5 gpm, refill 0.3 to 0.5 gpm, a bed lifted by half.
func TestPositionsHaveTheTradesFigures(t *testing.T) {
	d := deck(t, "standard")
	require.Len(t, d.Positions, 5)
	wash := d.position(t, "backwash")
	require.InDelta(t, 2.2, value(t, wash.Flows, "drain")/gpm, 0.2)
	require.InDelta(t, -2.2, value(t, wash.Flows, "bed")/gpm, 0.2, "upward")
	require.InDelta(t, 0.5, value(t, wash.Bed, "lift"), 0.15)
	require.InDelta(t, 16, value(t, wash.Bed, "hardness")/0.17104, 0.5, "raw water by the pass seat")
	draw := d.position(t, "brine")
	require.Greater(t, value(t, draw.Flows, "brine")/gpm, 0.18)
	require.Less(t, value(t, draw.Flows, "brine")/gpm, 0.5)
	require.Less(t, value(t, draw.Pressures, "throat"), value(t, draw.Pressures, "bed-top"), "the throat sucks")
	require.InDelta(t, 2.26, draw.DrawnM3/(60*gpm), 0.3, "brine of 6 lb of salt, gal")
	require.InDelta(t, draw.DrawnM3/value(t, draw.Flows, "brine"), draw.DrawS, 0.2*draw.DrawS)
	fill := d.position(t, "refill")
	require.InDelta(t, -0.4, value(t, fill.Flows, "brine")/gpm, 0.1, "into the tank")
	require.Zero(t, fill.DrawS)
	at := d.position(t, "service")
	require.Zero(t, value(t, at.Flows, "drain"))
	require.Less(t, value(t, at.Bed, "hardness"), 0.17)
	for _, p := range d.Positions {
		require.NotEmpty(t, p.Why)
		require.NotEmpty(t, p.Ways)
		for _, w := range p.Ways {
			require.NotEmpty(t, w.Paths, "%s: %s", p.Station.ID, w.ID)
		}
	}
}

func TestUpflowBrineIsOnTheCardAsItFlows(t *testing.T) {
	draw := deck(t, "brine-first").position(t, "brine")
	require.Less(t, value(t, draw.Flows, "bed"), 0.0)
	require.Less(t, value(t, draw.Bed, "lift"), 0.06, "it must not lift")
}

func TestEveryPartHasItsCard(t *testing.T) {
	d := deck(t, "standard")
	require.Len(t, d.Parts, len(d.Setup.Parts))
	bare := 0
	for _, p := range d.Parts {
		require.NotEmpty(t, p.Info.What)
		if len(p.Head) == 0 {
			bare++
			continue
		}
		require.Len(t, p.Rows, len(d.Positions), p.Info.ID)
		for _, row := range p.Rows {
			require.Len(t, row, len(p.Head))
		}
	}
	require.Less(t, bare, 6, "parts without a figure")
	part := func(id sim.Part) *Part {
		i := slices.IndexFunc(d.Parts, func(p Part) bool { return p.Info.ID == id })
		return &d.Parts[i]
	}
	require.InDelta(t, 2.2, value(t, part(sim.PartDrainCtl).Sizes, "rating")/gpm, 1e-9)
	require.InDelta(t, 58, value(t, part(sim.PartSupply).Sizes, "static")/psi, 0.01)
	require.NotEmpty(t, part(sim.PartAirGap).Tests)
}

func TestWhatGoesWrongIsFoundByPartAndByPosition(t *testing.T) {
	wear := []sim.Wear{
		{ID: "rare", Where: sim.PartSeats, Prior: 1, Shows: []sim.Showing{{Stage: "slow rinse", Test: "a"}}},
		{ID: "often", Where: sim.PartInjector, Prior: 9, Shows: []sim.Showing{{Stage: "refill", Test: "b"}, {Stage: "brine draw", Test: "c"}}},
		{ID: "afterwards", Where: sim.PartSeats, Prior: 2, Shows: []sim.Showing{{Stage: "service", Test: "beside", Alike: true}, {Stage: "after", Test: "d"}}},
		{ID: "setting", Where: sim.PartController, Prior: 5, Shows: []sim.Showing{{Stage: "service", Test: "e", AnyTime: true}}},
	}
	ids := func(list []Shown) (s []string) {
		for _, x := range list {
			s = append(s, x.ID+" by "+x.By.Test)
		}
		return s
	}
	d := deck(t, "standard")
	in := func(stop string, most int) []string { return ids(In(wear, d.position(t, stop), most)) }
	require.Equal(t, []string{"often by c", "rare by a"}, in("brine", 5))
	require.Equal(t, []string{"often by c"}, in("brine", 1))
	require.Equal(t, []string{"afterwards by d"}, in("service", 5), "a setting shows in no position")
	wear[1].Shows[0].Stage = "backwash"
	require.Empty(t, in("backwash", 5), "no water of a backwash passes the injector")
	require.Len(t, At(wear, sim.PartSeats), 2)
}
