package sim_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// TestTheControllersFaceTellsOfPowerAndTime: what a power cut leaves on the face
// depends on what the clock does without power.
func TestTheControllersFaceTellsOfPowerAndTime(t *testing.T) {
	const clock = `"every_days": 4, "start": "02:00"`
	const cut = `"call_at": "09:30", "power_cuts": [{"day": 9, "after_hours": 6, "hours": 3}]`
	for _, row := range []struct {
		name, clock, history string
		want                 sim.Face
	}{
		{"never without power", clock + `, "forgets_time": 1`, `"call_at": "09:30"`, sim.Face{Powered: true}},
		{"a motor clock stood still and is late", clock, cut, sim.Face{Powered: true}},
		{"its clock ran on", clock + `, "forgets_time": 1, "runs_without_power_h": 8`, cut, sim.Face{Powered: true}},
		{"its clock ran out", clock + `, "forgets_time": 1, "runs_without_power_h": 2`, cut, sim.Face{Powered: true, ClockLost: true}},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := strings.NewReplacer(clock, row.clock, `"call_at": "09:30"`, row.history).Replace(string(millWith(t, "")))
			p := trainee{t, openFile(t, []byte(text), 5)}
			require.Equal(t, row.want, p.view().Face)

			p.do(sim.Action{Kind: sim.ActPower, Value: 0})
			require.Equal(t, sim.Face{ClockLost: p.view().Face.ClockLost}, p.view().Face, "its plug is out")
			p.do(sim.Action{Kind: sim.ActPower, Value: 1})
			p.do(sim.Action{Kind: sim.ActAdjust, Part: sim.PartController})
			require.Equal(t, sim.Face{Powered: true}, p.view().Face, "somebody has set it")
		})
	}
}
