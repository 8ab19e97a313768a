package game

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// aCall is the setup of a real call.
func aCall(t *testing.T) *sim.Setup { return aSession(t).Setup() }

// aSession is a real call whose history has not been run.
func aSession(t *testing.T) *sim.Session {
	t.Helper()
	const file = "hard-water-at-the-mill-house.json"
	data, err := os.ReadFile("../scenarios/" + file)
	require.NoError(t, err)
	s, err := sim.Open(file, data, 1)
	require.NoError(t, err)
	return s
}

func TestEveryNeedOfATestIsKnown(t *testing.T) {
	used := map[string]bool{}
	for _, in := range aCall(t).Instruments {
		if in.Needs != "" {
			require.Contains(t, met, in.Needs, in.ID)
			used[in.Needs] = true
		}
	}
	for needs := range met {
		require.True(t, used[needs], "no test needs %q", needs)
	}
}

func TestNeedsAreMetByThePositionAndTheHandles(t *testing.T) {
	set := aCall(t)
	at := func(station string, change func(v *sim.View)) *sim.View {
		v := &sim.View{Bypass: "service", Controller: sim.ControllerView{Powered: true}}
		for i := range set.Stations {
			if set.Stations[i].ID == station {
				v.Controller.Station = i
			}
		}
		if change != nil {
			change(v)
		}
		return v
	}
	const tap, idle, drains, brine, plug = "In service. The tap is run for it.", "In service, all taps shut.",
		"A position that drains: backwash, brine draw or fast rinse.", "Brine draw or refill.", "Plugged in."
	for _, row := range []struct {
		name  string
		v     *sim.View
		meets []string
	}{
		{"service", at("service", nil), []string{tap, idle, plug}},
		{"service, and water runs to the drain", at("service", func(v *sim.View) { v.DrainStream = 0.1 * m3sPerGPM }), []string{tap, idle, drains, plug}},
		{"service, a tap open", at("service", func(v *sim.View) { v.HouseTap = 1 }), []string{tap, plug}},
		{"service, bypassed", at("service", func(v *sim.View) { v.Bypass = "bypass" }), []string{plug}},
		{"service, shut off", at("service", func(v *sim.View) { v.ShutOff = true }), []string{plug}},
		{"backwash", at("backwash", nil), []string{drains, plug}},
		{"brine draw", at("brine", nil), []string{drains, brine, plug}},
		{"fast rinse", at("fast-rinse", nil), []string{drains, plug}},
		{"refill, in which the house is served", at("refill", nil), []string{tap, idle, brine, plug}},
		{"refill, unplugged", at("refill", func(v *sim.View) { v.Controller.Powered = false }), []string{tap, idle, brine}},
		{"on the way to backwash", at("backwash", func(v *sim.View) { v.Controller.Moving = true }), []string{plug}},
	} {
		for _, needs := range []string{tap, idle, drains, brine, plug} {
			require.Equal(t, slices.Contains(row.meets, needs), Met(needs, row.v, set), "%s: %s", row.name, needs)
		}
	}
}
