package sim_test

import (
	"bytes"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

var update = flag.Bool("update", false, "write the recordings in testdata/replays anew")

const replays = "../testdata/replays/"

// scripts are the recorded calls that every processor must replay to the same bits.
var scripts = []struct {
	name  string
	fault string // in place of the scenario's own
	play  func(p trainee)
}{
	{"expert", "", trainee.expert},
	{"guesser", "", trainee.guesser},
	{"drain-blocked", `{"id": "drain-line-blocked", "severity": 0.99}`, func(p trainee) {
		p.test("hardness-house")
		p.do(sim.Action{Kind: sim.ActStartRegen})
		p.wait(70)
		p.do(sim.Action{Kind: sim.ActDiagnose, ID: "nozzle-plugged", Value: 0.9})
		p.do(sim.Action{Kind: sim.ActFinish})
	}},
	{"salt-bridge", `{"id": "salt-bridge", "severity": 0.95}`, func(p trainee) {
		p.test("brine-strength")
		p.test("salt-probe")
		p.do(sim.Action{Kind: sim.ActDiagnose, ID: "salt-bridge", Value: 0.9})
		p.do(sim.Action{Kind: sim.ActClean, Part: sim.PartSalt})
		p.wait(60)
		p.do(sim.Action{Kind: sim.ActStartRegen})
		p.wait(1)
		p.untilService()
		p.test("hardness-house")
		p.do(sim.Action{Kind: sim.ActFinish})
	}},
}

// millWith is the file of the first call as recordings hold it, which are older than
// its place on the ladder, with another fault if one is given.
func millWith(tb testing.TB, fault string) []byte {
	tb.Helper()
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(tb, err)
	data = regexp.MustCompile(`(?m)^ *"ladder": .*\n`).ReplaceAll(data, nil)
	if fault == "" {
		return data
	}
	const own = `{"id": "nozzle-plugged", "severity": 0.96}`
	require.Contains(tb, string(data), own)
	return []byte(strings.Replace(string(data), own, fault, 1))
}

func TestRecordingsReplayToTheirHash(t *testing.T) {
	for _, script := range scripts {
		t.Run(script.name, func(t *testing.T) {
			p := trainee{t, openFile(t, millWith(t, script.fault), 5)}
			script.play(p)
			rec, err := p.s.Recording()
			require.NoError(t, err)
			file := replays + script.name + ".msgp"
			if *update {
				require.NoError(t, os.WriteFile(file, rec, 0o644))
			}
			kept, err := os.ReadFile(file)
			require.NoError(t, err)
			require.True(t, bytes.Equal(kept, rec), "the same play gives the same recording; if the engine was meant to change: go test ./sim -update")
			again, err := sim.Replay(kept)
			require.NoError(t, err)
			require.Equal(t, p.s.Hash(), again.Hash())
			require.Equal(t, p.s.Call().Journal, again.Call().Journal)
		})
	}
}

func TestReplayNoticesAnotherPast(t *testing.T) {
	p := trainee{t, open(t, 5)}
	p.test("salt-look")
	rec, err := p.s.Recording()
	require.NoError(t, err)
	forged := []byte(strings.Replace(string(rec), `"temperature_C": 12`, `"temperature_C": 13`, 1))
	require.NotEqual(t, rec, forged)
	_, err = sim.Replay(forged)
	require.ErrorIs(t, err, sim.ErrDiverged)
}

func TestBrokenRecordingsAreRefused(t *testing.T) {
	p := trainee{t, open(t, 5)}
	p.test("salt-look")
	rec, err := p.s.Recording()
	require.NoError(t, err)
	for _, n := range []int{0, 1, 10, len(rec) / 2, len(rec) - 1} {
		_, err := sim.Replay(rec[:n])
		require.ErrorContains(t, err, "recording", "truncated to %d bytes", n)
	}
	other := []byte(strings.Replace(string(rec), sim.Engine, sim.Engine[:len(sim.Engine)-1]+"x", 1))
	_, err = sim.Replay(other)
	require.ErrorContains(t, err, "engine")
	impossible := []byte(strings.Replace(string(rec), "salt-look", "salt-lick", 1))
	_, err = sim.Replay(impossible)
	require.ErrorContains(t, err, "acts[0]: id")
	broken := []byte(strings.Replace(string(rec), `"people": 4`, `"people": x`, 1))
	_, err = sim.Replay(broken)
	require.ErrorContains(t, err, "scenario")
	require.ErrorContains(t, err, mill)
}

func TestOpenRefusesABrokenScenario(t *testing.T) {
	_, err := sim.Open("broken.json", []byte(`{"format": 1}`), 1)
	require.ErrorContains(t, err, "broken.json")
	require.ErrorContains(t, err, "unit is missing")
}

func TestTheCardOfACallTellsItsPlaceOnTheLadder(t *testing.T) {
	text := strings.Replace(string(millWith(t, "")), `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 2, "group": "hard-again"}`, 1)
	card, err := sim.Card(mill, []byte(text))
	require.NoError(t, err)
	require.Equal(t, sim.CallCard{ID: "hard-water-at-the-mill-house", Title: "Hard water at the mill house", Rung: 2, Group: "hard-again"}, card)
	_, err = sim.Card("broken.json", []byte(text[1:]))
	require.ErrorContains(t, err, "broken.json")
}

func TestTheCallShowsWhatAnExpertExpects(t *testing.T) {
	const gpg, gpm = 0.17103198, 6.30902e-5
	p := trainee{t, open(t, 5)}
	require.InDelta(t, 16*gpg, p.test("hardness-raw").Value, 1.5*gpg)
	require.InDelta(t, 16*gpg, p.test("hardness-house").Value, 1.5*gpg, "the bed is spent")
	require.Greater(t, p.test("brine-level").Value, 0.3, "refilled each time and never drawn")
	require.Equal(t, "salt loose and solid to the floor", p.test("salt-probe").Text)
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(2)
	require.InDelta(t, 2.2*gpm, p.test("drain-flow").Value, 0.3*gpm, "backwash is well")
	p.do(sim.Action{Kind: sim.ActAdvance})
	p.wait(1)
	v := p.view()
	require.Equal(t, "brine", p.s.Setup().Stations[v.Controller.Station].ID)
	require.LessOrEqual(t, v.Paths[sim.PathBrineLine].FlowM3S, 0.0, "no draw")
	require.Less(t, p.test("drain-flow").Value, 0.05*gpm)

	p.do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
	p.do(sim.Action{Kind: sim.ActPower, Value: 0})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartScreen})
	require.Less(t, p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector}).EndTick, p.s.Call().BusyUntilTick+p.view().Tick+1)
	require.Less(t, p.view().Condition.NozzleOpen, 0.1, "the picture of the pulled injector shows its plug")
	p.mend()
	p.prove()
	j := p.s.Call().Journal
	require.LessOrEqual(t, j[len(j)-1].Reading.Value, 1*gpg, "soft again")
	v = p.view()
	require.Less(t, v.Bed.Load[10], 0.3)
}

func TestTheViewHidesWhatIsClosed(t *testing.T) {
	p := trainee{t, open(t, 5)}
	require.Equal(t, 1.0, p.view().Condition.NozzleOpen, "nobody has looked yet")
}

func TestTheViewCopiesWithoutAllocating(t *testing.T) {
	s := open(t, 5)
	var v sim.View
	s.View(&v)
	require.Zero(t, testing.AllocsPerRun(50, func() { s.View(&v) }))
	require.Zero(t, testing.AllocsPerRun(500, s.Tick))
}

func TestViewedOrNotTheStateIsTheSame(t *testing.T) {
	a, b := open(t, 5), open(t, 5)
	var v sim.View
	for range 2000 {
		a.Tick()
		b.Tick()
		b.View(&v)
		b.Call()
	}
	require.Equal(t, a.Hash(), b.Hash())
}

func BenchmarkTickInBrineDraw(b *testing.B) {
	p := trainee{b, open(b, 5)}
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(12)
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		p.s.Tick()
	}
}

func BenchmarkHistory(b *testing.B) {
	for range b.N {
		open(b, 5)
	}
}

// What the technician's tap takes is no draw of the household, whatever pressure drives it.
func TestTestTapIsNotTheHouseholdsDraw(t *testing.T) {
	p := trainee{t, open(t, 5)}
	for _, tap := range []float64{0, 0.5, 1} {
		p.do(sim.Action{Kind: sim.ActHouseTap, Value: tap})
		p.wait(0.2) // the household draws nothing at that hour
		v := p.view()
		flow := v.Paths[sim.PathHouse].FlowM3S
		require.InDelta(t, 0, v.HouseDrawM3S, 2e-8, "but for a drip")
		require.Equal(t, tap > 0, flow > 5e-5, "the tap runs")
		require.Equal(t, tap > 0, v.HouseSetM3S > 5e-5, "and is set to")
	}
}
