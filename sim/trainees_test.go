//go:build !js && !arm64

package sim_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// TestTraineesAreRankedFairly judges scripted trainees on the first call.
func TestTraineesAreRankedFairly(t *testing.T) {
	name := func(p trainee, id string, sure float64) { p.do(sim.Action{Kind: sim.ActDiagnose, ID: id, Value: sure}) }
	isolate := func(p trainee) {
		p.do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
		p.do(sim.Action{Kind: sim.ActAdvance})
		p.wait(1)
		p.do(sim.Action{Kind: sim.ActPower, Value: 0})
	}
	finish := func(p trainee) { p.do(sim.Action{Kind: sim.ActFinish}) }
	proveAndFinish := func(p trainee) {
		p.do(sim.Action{Kind: sim.ActBypass, ID: "service"})
		p.do(sim.Action{Kind: sim.ActPower, Value: 1})
		p.do(sim.Action{Kind: sim.ActAdjust, Part: sim.PartController})
		p.wait(1)
		p.untilService()
		p.do(sim.Action{Kind: sim.ActStartRegen})
		p.wait(12)
		p.prove()
		finish(p)
	}
	players := []struct {
		name     string
		play     func(p trainee)
		min, max float64
	}{
		{"expert", trainee.expert, 85, 100},
		{"careful novice", func(p trainee) {
			for _, id := range []string{"hardness-raw", "hardness-house", "pressure-in", "salt-probe", "brine-strength"} {
				p.test(id)
			}
			p.expert()
		}, 75, 100},
		{"parts swapper", func(p trainee) {
			isolate(p)
			for _, part := range []sim.Part{sim.PartDrainCtl, sim.PartRefillCtl, sim.PartScreen, sim.PartInjector} {
				p.do(sim.Action{Kind: sim.ActOpen, Part: part})
				p.do(sim.Action{Kind: sim.ActReplace, Part: part})
				p.do(sim.Action{Kind: sim.ActRefit, Part: part})
			}
			name(p, "nozzle-plugged", 0.8)
			proveAndFinish(p)
		}, 20, 55},
		{"lucky guesser", func(p trainee) {
			name(p, "nozzle-plugged", 1)
			isolate(p)
			p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector})
			p.do(sim.Action{Kind: sim.ActClean, Part: sim.PartInjector})
			p.do(sim.Action{Kind: sim.ActRefit, Part: sim.PartInjector})
			proveAndFinish(p)
		}, 20, 60},
		{"reckless", func(p trainee) {
			for range 3 {
				require.True(p.tb, p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector}).Unsafe)
			}
			p.expert()
		}, 30, 55},
		{"idle", finish, 0, 5},
		{"wrong and confident", func(p trainee) {
			p.test("hardness-house")
			name(p, "salt-bridge", 1)
			finish(p)
		}, 0, 40},
		{"wrong and unsure", func(p trainee) {
			p.test("hardness-house")
			name(p, "salt-bridge", 0.3)
			finish(p)
		}, 0, 48},
	}
	scores := map[string]float64{}
	for _, pl := range players {
		p := trainee{t, open(t, 5)}
		pl.play(p)
		rec, err := p.s.Recording()
		require.NoError(t, err)
		r, err := sim.Judge(rec, nil)
		require.NoError(t, err)
		scores[pl.name] = r.Score
		line := ""
		for _, it := range r.Items {
			require.GreaterOrEqual(t, it.Got, 0.0)
			line += fmt.Sprintf(" %s %.1f", it.Name[:4], it.Got)
		}
		t.Logf("%-20s %5.1f %s, %.0f min", pl.name, r.Score, line, r.Minutes)
		require.GreaterOrEqual(t, r.Score, pl.min, pl.name)
		require.LessOrEqual(t, r.Score, pl.max, pl.name)
	}
	require.Less(t, scores["wrong and confident"], scores["wrong and unsure"]-5)
}
