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

// TestALeakPastTheRisersSealJoinsAtItsHead: the riser below it runs soft, what comes out of
// the valve is mixed, and so is the water between.
func TestALeakPastTheRisersSealJoinsAtItsHead(t *testing.T) {
	for _, row := range []struct {
		name, faults string
		mixed        bool
	}{
		{"no fault that lets water past", `{"id": "clock-wrong", "severity": 0.3}`, false},
		{"nicked seal", `{"id": "riser-seal", "severity": 0.4}`, true},
		{"worn pass seat, which lets it in beyond", `{"id": "pass-seat-worn", "severity": 0.8}`, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := trainee{t, openFile(t, millWith(t, row.faults), 5)}
			p.do(sim.Action{Kind: sim.ActStartRegen})
			p.wait(1)
			p.untilService()
			p.do(sim.Action{Kind: sim.ActHouseTap, Value: 1})
			p.wait(3)
			v := p.view()
			riser, head, seat := v.Paths[sim.PathRiser].Water.HardnessMolM3, v.RiserHead.HardnessMolM3, v.Paths[sim.PathOutletSeat].Water.HardnessMolM3
			require.Less(t, riser, 0.05)
			require.InDelta(t, seat, head, 1e-9)
			require.Equal(t, row.mixed, head > riser+0.1, "%v in the riser, %v at its head", riser, head)
		})
	}
}

// TestWhatComesToTheTankIsSeenAtItsHeadFirst: brine stands in the passage over the neck before
// the water above the bed has taken its salt; what a backwash brings up is that water.
func TestWhatComesToTheTankIsSeenAtItsHeadFirst(t *testing.T) {
	p := trainee{t, openFile(t, millWith(t, `{"id": "clock-wrong", "severity": 0.3}`), 5)}
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(3)
	v := p.view()
	require.Negative(t, v.Paths[sim.PathBed].FlowM3S, "backwash")
	require.InDelta(t, v.Bed.Freeboard[0].HardnessMolM3, v.TankHead.HardnessMolM3, 0.02)
	p.do(sim.Action{Kind: sim.ActAdvance})
	p.wait(2)
	v = p.view()
	require.Greater(t, v.TankHead.SaltMolM3, 500.0)
	require.InDelta(t, v.Paths[sim.PathDischarge].Water.SaltMolM3, v.TankHead.SaltMolM3, 20)
	require.Less(t, v.Bed.Freeboard[0].SaltMolM3, 0.8*v.TankHead.SaltMolM3)
}
