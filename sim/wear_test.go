package sim_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
	"brinebench/sim/unit"
)

// What a technician expects of a few faults: common practice, no source.
func TestWearShowsWhereATechnicianLooks(t *testing.T) {
	const file = "../scenarios/bench/standard.json"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	last := 0.0
	list, err := sim.ShowWear(file, data, func(done float64) {
		require.Greater(t, done, last)
		last = done
	})
	require.NoError(t, err)
	require.InDelta(t, 1, last, 1e-12)

	plain := openCycle(t, file).Wear()
	require.Len(t, list, len(plain))
	shown := 0
	for i, w := range list {
		require.Equal(t, plain[i].ID, w.ID)
		if len(w.Shows) > 0 {
			shown++
		}
	}
	require.Greater(t, shown, 50, "of %d", len(list))

	find := func(id string) sim.Wear {
		i := slices.IndexFunc(list, func(w sim.Wear) bool { return w.ID == id })
		require.GreaterOrEqual(t, i, 0, id)
		return list[i]
	}
	stuck := find("upflow-seat-stuck-shut").Shows
	require.Equal(t, "backwash", stuck[0].Stage)
	require.Less(t, stuck[1].Worn, 0.1*stuck[1].Sound, "no pressure at the drain port: nothing comes up through the bed")
	require.Contains(t, find("brine-line-air").Shows[1].WornSeen, "bubbles", "after what the family has tasted")
	pass := find("pass-seat-stuck-shut").Shows
	require.Equal(t, "Pressure, valve outlet with a bath tap open", pass[0].Test)
	require.Less(t, pass[0].Worn, 10*unit.PSI)
	for _, s := range pass {
		require.NotContains(t, s.Test, "Hardness", "no water, nothing to test in it")
	}
	const none = 1e-3 * unit.GPM
	require.InDelta(t, 0, flow(pass, "House flow, bucket and watch"), none, "stuck shut: no water comes")
	require.InDelta(t, 0, flow(find("air-check-shut").Shows, "Brine line flow, tape and watch"), none, "a ball stuck on its seat lets no brine through")
	require.Empty(t, find("float-loose").Shows, "nothing but trying it tells")

	_, err = sim.ShowWear("x.json", []byte("{}"), nil)
	require.ErrorContains(t, err, "x.json")
}

// flow is what a test of a flow reads on the worn unit, m³/s.
func flow(shows []sim.Showing, test string) float64 {
	return shows[slices.IndexFunc(shows, func(s sim.Showing) bool { return s.Test == test })].Worn
}

// What a technician finds in service, with questions, eyes and the test of hardness,
// comes before what a regeneration shows: common practice, no source.
func TestWearIsToldFirstByWhatIsLeastTrouble(t *testing.T) {
	const file = "../scenarios/bench/standard.json"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	list, err := sim.ShowWear(file, data, nil)
	require.NoError(t, err)
	shows := func(id string) []sim.Showing {
		return list[slices.IndexFunc(list, func(w sim.Wear) bool { return w.ID == id })].Shows
	}
	for _, row := range []struct{ id, test, seen string }{
		{"salt-bridge", "Salt, push a rod through it", "rod breaks through a crust into a hollow"},
		{"salt-absent", "Salt, look into the tank", "no salt"},
		{"rinse-seat-worn", "Watch the air gap", "a full stream"},
		{"more-people", "Ask: how many live here?", ""},
		{"feed-harder", "Ask: has the water that comes in changed?", "yes: the water comes from another well now, and is harder"},
		{"riser-cracked", "Strainer of a house tap unscrewed", "resin beads in the strainer"},
	} {
		first := shows(row.id)[0]
		require.Equal(t, "service", first.Stage, row.id)
		require.Equal(t, row.test, first.Test, row.id)
		require.Equal(t, row.seen, first.WornSeen, row.id)
	}
	require.Greater(t, shows("more-people")[0].Worn, shows("more-people")[0].Sound)
	leak := shows("bypass-leak")
	require.Equal(t, [2]string{"Hardness, house tap", "Hardness, valve outlet"}, [2]string{leak[0].Test, leak[1].Test})
	require.Greater(t, leak[0].Worn, 1.0, "hard in the house")
	require.Less(t, leak[1].Worn, 0.1, "and soft at the valve")
	require.True(t, leak[1].Alike)
	for _, w := range list {
		vague := func(s sim.Showing) bool {
			return s.Test == "Hardness, drain water" || s.Test == "Conductivity, drain water"
		}
		if i := slices.IndexFunc(w.Shows, vague); i > 0 {
			require.True(t, vague(w.Shows[0]), "%s: it tells little, and is told where nothing else tells", w.ID)
		}
	}
}

// A valve whose refill comes before its fast rinse shows in each what belongs there.
func TestWearIsToldWhereTheDrumStands(t *testing.T) {
	const file = "../scenarios/bench/refill-before-rinse.json"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	list, err := sim.ShowWear(file, data, nil)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, w := range list {
		for _, s := range w.Shows {
			seen[s.Stage] = true
			if s.Test == "Brine line flow, tape and watch" && s.Sound < -0.2*unit.GPM {
				require.Equal(t, "refill", s.Stage, "%s: the sound unit refills", w.ID)
			}
		}
	}
	require.True(t, seen["refill"] && seen["fast rinse"])
}
