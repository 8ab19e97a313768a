//go:build !js && !arm64

package sim_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// judgedAfter plays a call at the mill house, some of whose file is changed, and
// judges it.
func judgedAfter(t *testing.T, play func(p trainee), changes ...string) sim.Report {
	t.Helper()
	data := []byte(strings.NewReplacer(changes...).Replace(string(millWith(t, ""))))
	p := trainee{t, openFile(t, data, 5)}
	play(p)
	for _, part := range slices.Clone(p.s.Call().Opened) {
		p.do(sim.Action{Kind: sim.ActRefit, Part: part})
	}
	p.do(sim.Action{Kind: sim.ActFinish})
	return p.assess(data, 5)
}

const ownFault = `{"id": "nozzle-plugged", "severity": 0.96}`

// toBrineDraw sends the unit on to brine draw.
func (p trainee) toBrineDraw() {
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(1)
	p.do(sim.Action{Kind: sim.ActAdvance})
	p.wait(1)
}

// openUp makes the unit safe and opens a part.
func (p trainee) openUp(part sim.Part) {
	p.do(sim.Action{Kind: sim.ActPower, Value: 0})
	p.do(sim.Action{Kind: sim.ActOpen, Part: part})
}

// However a trouble has come about, the readings that an expert takes name it.
func TestTheTrueCauseIsNamedWhateverItsOnset(t *testing.T) {
	motor := func(p trainee) {
		p.test("hardness-house")
		p.test("brine-level")
		p.test("drive-try")
		p.openUp(sim.PartMotor)
	}
	float := func(p trainee) {
		p.test("hardness-house")
		p.test("brine-level")
		p.test("brine-strength")
		p.toBrineDraw()
		p.test("brine-draw")
		p.untilService()
		p.test("brine-level")
		p.openUp(sim.PartFloat)
	}
	for _, row := range []struct {
		id, severity, onset string
		play                func(p trainee)
	}{
		{"nozzle-plugged", "0.96", "growing", trainee.diagnose},
		{"motor-dead", "1", "intermittent", motor},
		{"float-stuck", "1", "intermittent", float},
		{"salt-absent", "1", "growing", func(p trainee) {
			p.test("hardness-house")
			p.test("salt-look")
			p.test("salt-probe")
			p.test("brine-strength")
		}},
	} {
		t.Run(row.id+" "+row.onset, func(t *testing.T) {
			r := judgedAfter(t, row.play, ownFault, `{"id": "`+row.id+`", "severity": `+row.severity+`, "onset": "`+row.onset+`"}`)
			tell(t, r, row.id)
			require.GreaterOrEqual(t, believed(r, row.id), 0.9)
		})
	}
}

// tell logs how the belief in a cause moved.
func tell(t *testing.T, r sim.Report, id string) {
	for _, st := range r.Steps {
		if st.Reading != nil {
			t.Logf("%-40s %.4g %s: %.3f", st.Text, st.Reading.Value, st.Reading.Text, st.Belief[slices.Index(ids(r.Candidates), id)])
		}
	}
}

// A clock that a power cut has left wrong has nothing wrong with it, and whoever reads
// it finds what is wrong with the unit all the same.
func TestAPowerCutDoesNotAccuseTheClock(t *testing.T) {
	// It comes back at half past five in the morning; to a clock that has forgotten the
	// time that is noon.
	const cut = `"call_at": "09:30", "power_cuts": [{"day": 3, "after_hours": 15, "hours": 5}]`
	read := func(p trainee) {
		require.InDelta(t, 6.5*3600, p.test("clock-read").Value, 120)
		p.test("clock-rate")
	}
	forgetful := []string{`"start": "02:00"`, `"start": "02:00", "forgets_time": 1`, `"call_at": "09:30"`, cut, `"days_since_regeneration": 1`, `"days_since_regeneration": 2`}

	r := judgedAfter(t, func(p trainee) { read(p); p.diagnose() }, forgetful...)
	tell(t, r, "clock-wrong")
	require.GreaterOrEqual(t, believed(r, "nozzle-plugged"), 0.9)

	r = judgedAfter(t, func(p trainee) {
		read(p)
		p.test("hardness-house")
		p.test("brine-level")
		p.toBrineDraw()
		p.test("brine-draw")
	}, append(forgetful, ownFault, "")...)
	tell(t, r, "clock-wrong")
	tell(t, r, "none")
	require.Empty(t, r.True)
	require.Less(t, believed(r, "clock-wrong")+believed(r, "clock-drifts"), believed(r, "none"), "as before anything was read")
}
