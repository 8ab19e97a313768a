//go:build !js && !arm64

package sim_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// judgedAfter plays a call at the mill house with other faults and power cuts in its
// history and judges it.
func judgedAfter(t *testing.T, faults, cuts string, play func(p trainee)) sim.Report {
	t.Helper()
	data := string(millWith(t, `FAULTS`))
	data = strings.NewReplacer(`FAULTS`, faults, `"call_at": "09:30"`, `"call_at": "09:30", "power_cuts": [`+cuts+`]`).Replace(data)
	p := trainee{t, openFile(t, []byte(data), 5)}
	play(p)
	for _, part := range slices.Clone(p.s.Call().Opened) {
		p.do(sim.Action{Kind: sim.ActRefit, Part: part})
	}
	p.do(sim.Action{Kind: sim.ActFinish})
	rec, err := p.s.Recording()
	require.NoError(t, err)
	r, err := sim.Judge(rec, nil)
	require.NoError(t, err)
	return r
}

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

// untilRefill waits for the refill position.
func (p trainee) untilRefill() {
	for v := p.view(); v.Controller.Moving || p.s.Setup().Stations[v.Controller.Station].ID != "refill"; v = p.view() {
		p.wait(1)
	}
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
		p.untilRefill()
		p.test("brine-draw")
		p.untilService()
		p.test("salt-probe")
		p.openUp(sim.PartFloat)
	}
	injector := func(p trainee) { p.diagnose() }
	for _, row := range []struct {
		id, severity, onset string
		play                func(p trainee)
	}{
		{"nozzle-plugged", "0.96", "growing", injector},
		{"nozzle-plugged", "0.96", "intermittent", injector},
		{"motor-dead", "1", "intermittent", motor},
		{"motor-dead", "1", "growing", motor},
		{"float-stuck", "1", "intermittent", float},
		{"salt-absent", "1", "growing", func(p trainee) {
			p.test("hardness-house")
			p.test("salt-look")
			p.test("salt-probe")
			p.test("brine-strength")
		}},
	} {
		t.Run(row.id+" "+row.onset, func(t *testing.T) {
			r := judgedAfter(t, `{"id": "`+row.id+`", "severity": `+row.severity+`, "onset": "`+row.onset+`"}`, "", row.play)
			for _, st := range r.Steps {
				if st.Reading != nil {
					t.Logf("%-40s %.4g %s: %.3f, %.2f of %.2f bits", st.Text, st.Reading.Value, st.Reading.Text, st.Belief[slices.Index(ids(r.Candidates), row.id)], st.GainBits, st.BestBits)
				}
			}
			require.GreaterOrEqual(t, believed(r, row.id), 0.9)
		})
	}
}
