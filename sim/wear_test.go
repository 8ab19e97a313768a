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
	require.Less(t, stuck[0].Worn, 0.1*stuck[0].Sound, "no pressure at the drain port: nothing comes up through the bed")
	require.Contains(t, find("brine-line-air").Shows[0].WornSeen, "bubbles")
	pass := find("pass-seat-stuck-shut").Shows
	require.Equal(t, "Pressure, valve outlet with a bath tap open", pass[0].Test)
	require.Less(t, pass[0].Worn, 10*unit.PSI)
	require.Empty(t, find("float-loose").Shows, "nothing but trying it tells")

	_, err = sim.ShowWear("x.json", []byte("{}"), nil)
	require.ErrorContains(t, err, "x.json")
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
