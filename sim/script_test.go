package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

const mill = "hard-water-at-the-mill-house.json"

// open opens the first call, its history run.
func open(tb testing.TB, seed uint64) *sim.Session {
	tb.Helper()
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(tb, err)
	return openFile(tb, data, seed)
}

func openFile(tb testing.TB, data []byte, seed uint64) *sim.Session {
	tb.Helper()
	s, err := sim.Open(mill, data, seed)
	require.NoError(tb, err)
	last := 0.0
	for last < 1 {
		done := s.Prepare(500)
		require.GreaterOrEqual(tb, done, last)
		last = done
	}
	return s
}

// trainee acts on a session as a script says.
type trainee struct {
	tb testing.TB
	s  *sim.Session
}

func (p trainee) do(a sim.Action) sim.Entry {
	p.tb.Helper()
	require.NoError(p.tb, p.s.Do(a), "%+v", a)
	n := len(p.s.Call().Journal) - 1
	for p.s.Call().BusyUntilTick > 0 {
		p.s.Tick()
	}
	return p.s.Call().Journal[n]
}

func (p trainee) test(id string) sim.Reading {
	p.tb.Helper()
	e := p.do(sim.Action{Kind: sim.ActTest, ID: id})
	require.NotNil(p.tb, e.Reading)
	return *e.Reading
}

func (p trainee) wait(minutes float64) {
	for range int(minutes * 60 / sim.TickS) {
		p.s.Tick()
	}
}

func (p trainee) view() (v sim.View) {
	p.s.View(&v)
	return v
}

// untilService waits for a regeneration to end.
func (p trainee) untilService() {
	for v := p.view(); v.Controller.Moving || v.Controller.Station != 0; v = p.view() {
		p.wait(1)
	}
}

// diagnose tests in a sensible order up to the pulled injector.
func (p trainee) diagnose() {
	p.test("hardness-house")
	p.test("brine-level")
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(1)
	p.do(sim.Action{Kind: sim.ActAdvance})
	p.wait(1)
	p.test("drain-look")
	p.test("drain-flow")
	p.test("brine-draw")
	p.do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
	p.test("pressure-in")
	p.do(sim.Action{Kind: sim.ActPower, Value: 0})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartScreen})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector})
}

// mend cleans and refits the injector and returns the unit to service.
func (p trainee) mend() {
	p.do(sim.Action{Kind: sim.ActClean, Part: sim.PartInjector})
	p.do(sim.Action{Kind: sim.ActRefit, Part: sim.PartInjector})
	p.do(sim.Action{Kind: sim.ActRefit, Part: sim.PartScreen})
	p.do(sim.Action{Kind: sim.ActBypass, ID: "service"})
	p.do(sim.Action{Kind: sim.ActPower, Value: 1})
	p.do(sim.Action{Kind: sim.ActAdjust, Part: sim.PartController}) // its clock has stood
}

// prove runs the cycle and shows soft water.
func (p trainee) prove() {
	p.wait(1)
	p.test("brine-draw")
	p.untilService()
	p.test("hardness-house")
}

// expert plays the whole call well.
func (p trainee) expert() {
	p.diagnose()
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: "nozzle-plugged", Value: 0.95})
	p.mend()
	p.prove()
	p.do(sim.Action{Kind: sim.ActTell, ID: "cause"})
	p.do(sim.Action{Kind: sim.ActFinish})
}

// guesser names the cause unseen and mends it.
func (p trainee) guesser() {
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: "nozzle-plugged", Value: 1})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector}) // stopped: under pressure
	p.do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
	p.do(sim.Action{Kind: sim.ActAdvance})
	p.wait(1)
	p.do(sim.Action{Kind: sim.ActPower, Value: 0})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartScreen})
	p.do(sim.Action{Kind: sim.ActClean, Part: sim.PartScreen})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector})
	p.mend()
	p.do(sim.Action{Kind: sim.ActFinish})
}
