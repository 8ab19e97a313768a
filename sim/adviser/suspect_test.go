//go:build !js && !arm64

package adviser

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/call"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// TestWhatIsHeldInTheHandIsThoughtOf finds a plugged nozzle by readings, then opens the
// seats, one of which weeps: nobody had thought of that, and no reading had brought more
// to mind.
func TestWhatIsHeldInTheHandIsThoughtOf(t *testing.T) {
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	f, err := scenario.Decode("mill", data)
	require.NoError(t, err)
	f.Faults = append(f.Faults, scenario.Fault{ID: "pass-seat-worn", Severity: 0.3, Onset: "steady"})
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	past, endS := f.Begin(m.Coarse()), float64(f.HistoryDays)*86400
	for past.State.TimeS < endS {
		past.Step(endS)
	}
	c := call.New(m, past.End(), 5)
	a := NewLibrary(f, m, nil).Follow()
	a.rounds = 99
	do := func(act call.Act) {
		tick := c.Ticks
		require.NoError(t, c.Do(act))
		c.RunTo(c.BusyUntil)
		c.RunTo(c.Ticks + 240)
		a.Follow(Deed{tick, act}, &c.Journal[len(c.Journal)-1])
	}
	do(call.Act{Kind: call.Test, ID: "brine-level"})
	do(call.Act{Kind: call.StartRegen})
	do(call.Act{Kind: call.Advance})
	do(call.Act{Kind: call.Test, ID: "brine-draw"})
	do(call.Act{Kind: call.Test, ID: "pressure-drain"})
	require.Less(t, a.Present("pass-seat-worn"), 0.001)
	do(call.Act{Kind: call.Bypass, ID: "bypass"})
	do(call.Act{Kind: call.Power})
	do(call.Act{Kind: call.Open, Part: plant.PartSeats})
	require.Contains(t, c.Journal[len(c.Journal)-1].Reading.Text, "pass seat")
	require.Greater(t, a.Present("pass-seat-worn"), 0.7)
}
