package bench

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"brinebench/sim"

	"github.com/stretchr/testify/require"
)

// put opens the units that come with the program, as the page does.
func put(unit string, seed uint64) (*sim.Rig, error) {
	kind, id, _ := strings.Cut(unit, ".")
	dir := map[string]string{"call": "", "free": "bench/"}[kind]
	data, err := os.ReadFile("../../scenarios/" + dir + id + ".json")
	if err != nil {
		return nil, fmt.Errorf("units: no unit is named %q", unit)
	}
	return sim.OpenRig(id+".json", data, seed)
}

// standing is a clock that stands: every frame comes as far as it wants.
func standing() float64 { return 0 }

func begin(t testing.TB, p Plan) *Bench {
	t.Helper()
	if p.Units == nil {
		p.Units = []string{"free.standard"}
	}
	b, err := New(p, put, standing)
	require.NoError(t, err)
	b.reach(t)
	return b
}

func (b *Bench) reach(t testing.TB) {
	t.Helper()
	for range 100 {
		if b.Frame(0); b.There() {
			return
		}
	}
	t.Fatal("the moment is not reached")
}

// pass lets time of the units pass at a pace.
func (b *Bench) pass(pace, seconds float64) {
	b.SetPace(pace)
	const frameS = 1.0 / 16
	for n := int(seconds / pace / frameS); n > 0; n-- {
		b.Frame(frameS)
	}
	b.SetPace(0)
}

func (b *Bench) goTo(t testing.TB, tick int64) uint64 {
	t.Helper()
	b.GoTo(tick)
	b.reach(t)
	require.Equal(t, min(max(tick, b.FirstTick()), b.EndTick()), b.Tick())
	return b.Hash()
}

func set(t testing.TB, b *Bench, unit int, knob string, v float64) {
	t.Helper()
	require.NoError(t, b.Do(unit, knob, v))
}

// lived is a bench of a healthy and a faulty unit with three hours behind it, things
// having been set in the midst of them.
func lived(t testing.TB) *Bench {
	b := begin(t, Plan{Units: []string{"free.standard", "call.hard-water-at-the-mill-house"}, Seed: 3})
	set(t, b, 1, "fault.nozzle-plugged", 0.96)
	set(t, b, 0, "hardness", 6)
	b.pass(600, 1500)
	for u := range 2 {
		set(t, b, u, "start-regeneration", 1)
	}
	b.pass(600, 4000)
	set(t, b, 0, "supply", 250e3)
	set(t, b, 1, "drain-control", 1e-4)
	b.pass(60, 1500)
	set(t, b, 0, "house-tap", 0.5)
	b.pass(600, 3700)
	return b
}

func TestScrubbingThereAndBackAtSixHundredGivesTheSameBits(t *testing.T) {
	b := lived(t)
	end, hash := b.EndTick(), b.Hash()
	hour := b.goTo(t, end-3600*ticksPerS)
	require.NotEqual(t, hash, hour)
	b.pass(600, 3590) // forth again at 600×, on the frame's own way
	require.Less(t, b.Tick(), end)
	b.goTo(t, end)
	require.Equal(t, hash, b.Hash())
	require.Equal(t, hour, b.goTo(t, end-3600*ticksPerS))
	require.Equal(t, end, b.EndTick(), "the past has not been changed")

	fresh := begin(t, b.Plan()) // and a bench that lives it for the first time comes there too
	require.Equal(t, hour, fresh.Hash())
}

func TestEveryMomentIsShownAsItWas(t *testing.T) {
	b := begin(t, Plan{})
	was := map[int64]uint64{}
	for i := range 40 {
		if i%7 == 3 {
			set(t, b, 0, "advance", 1)
			was[b.Tick()] = b.Hash() // what a moment shows is what came of it
		}
		b.pass(60, 75)
		was[b.Tick()] = b.Hash()
	}
	for tick, hash := range was { // in any order
		require.Equal(t, hash, b.goTo(t, tick), "tick %d", tick)
	}
}

func TestTheLastTwoHoursAreLivedAgainByTheMinute(t *testing.T) {
	b := begin(t, Plan{})
	b.pass(600, 11*3600)
	ticks := b.EndTick()
	var last int64 = -1
	for _, k := range b.run.kept {
		if last >= ticks-2*3600*ticksPerS {
			require.LessOrEqual(t, k.tick-last, keepEvery)
		}
		last = k.tick
	}
	require.LessOrEqual(t, ticks-last, keepEvery)
	require.Less(t, len(b.run.kept), 300)
	require.InDelta(t, ticks-windowTicks, b.FirstTick(), float64(thinEvery), "and as far back as eight hours")
	require.NotZero(t, b.goTo(t, 0))
	require.Equal(t, b.FirstTick(), b.Tick())
}

func TestAWhatIfLeavesTheTrunkUntouched(t *testing.T) {
	b := lived(t)
	end, hash, acts := b.EndTick(), b.Hash(), len(b.run.acts)
	at := end - 5000*ticksPerS
	b.goTo(t, at)
	set(t, b, 1, "fault.nozzle-plugged", 0)
	since, on := b.WhatIf()
	require.True(t, on)
	require.Equal(t, at, since)
	require.Equal(t, at, b.EndTick(), "what comes is not known yet")
	b.pass(600, 4000)
	require.NotNil(t, b.Was(0))
	require.Equal(t, b.Was(0).Hash(), b.Unit(0).Hash(), "the unit that was left alone lives as it did")
	require.NotEqual(t, b.Was(1).Hash(), b.Unit(1).Hash())
	require.Equal(t, b.Tick(), b.Was(1).Ticks(), "in step")
	require.Greater(t, b.View(1, false).Paths[sim.PathDrain].Water.SaltMolM3+b.View(1, false).Bed.RemainingCap, b.View(1, true).Bed.RemainingCap)

	b.goTo(t, at+100) // a what-if of the what-if: what was is what was
	set(t, b, 0, "supply", 500e3)
	b.pass(600, 9000)
	require.Greater(t, b.Tick(), end)
	require.Equal(t, b.Tick(), b.Was(0).Ticks(), "what was lives on: the two are of one moment")
	lived, ok := b.Logged(1, true, 0, b.Tick())
	require.True(t, ok)
	require.InDelta(t, quantities[0].Value(b.View(1, true)), lived, 1e-3*math.Abs(lived)+1e-9, "and its charts with it")
	b.EndWhatIf(false)
	b.reach(t)
	require.Equal(t, end, b.Tick(), "what was is as it was left")
	require.Equal(t, end, b.EndTick())
	require.Equal(t, hash, b.Hash())
	require.Len(t, b.run.acts, acts)
}

// TestWhatWasIsComeBackToAfterADay: it lives on longer than moments are kept.
func TestWhatWasIsComeBackToAfterADay(t *testing.T) {
	b := begin(t, Plan{})
	b.pass(600, 1800)
	end, hash := b.EndTick(), b.Hash()
	b.goTo(t, end/2)
	b.Branch()
	b.pass(7200, 9*3600)
	require.Equal(t, b.Hash(), b.trunk.now.hash(), "nothing was set: they are one")
	b.EndWhatIf(false)
	b.reach(t)
	require.Equal(t, end, b.Tick())
	require.Equal(t, hash, b.Hash())
}

// TestOnASlowMachineWhatWasStaysInStep: time waits until both stand at the moment.
func TestOnASlowMachineWhatWasStaysInStep(t *testing.T) {
	now := 0.0
	b, err := New(Plan{Units: []string{"free.standard"}}, put, func() float64 { now += 0.02; return now })
	require.NoError(t, err)
	b.Branch()
	b.SetPace(600)
	for range 40 {
		b.Frame(0.1)
		require.Less(t, b.Tick()-b.Was(0).Ticks(), int64(10*atATime))
	}
	require.Greater(t, b.Tick(), int64(10*atATime))
}

func TestWhatWasSetLaterIsSetInAWhatIfToo(t *testing.T) {
	b := begin(t, Plan{})
	b.pass(600, 1200)
	set(t, b, 0, "hardness", 5)
	b.pass(600, 1200)
	b.goTo(t, 600*ticksPerS)
	set(t, b, 0, "supply", 300e3)
	require.NotEqual(t, 5.0, b.Unit(0).Value("hardness"))
	require.Len(t, b.Plan().Acts, 1, "what has not come yet is not in a link")
	b.pass(600, 1200)
	require.Equal(t, 5.0, b.Unit(0).Value("hardness"))
	require.Equal(t, b.Hash(), begin(t, b.Plan()).Hash())
	b.goTo(t, 900*ticksPerS)
	b.EndWhatIf(true)
	b.pass(600, 1200)
	require.NotEqual(t, 5.0, b.Unit(0).Value("hardness"), "what is kept ends where it was left")
}

func TestAWhatIfCanBeKept(t *testing.T) {
	b := begin(t, Plan{})
	b.pass(600, 1200)
	b.goTo(t, 600*ticksPerS)
	require.ErrorContains(t, b.Do(0, "supply", -1), "supply")
	_, on := b.WhatIf()
	require.False(t, on, "what is refused begins nothing")
	set(t, b, 0, "supply", 300e3)
	require.Len(t, b.Pictures(), 2, "as it is, and as it was")
	b.pass(600, 300)
	hash := b.Hash()
	b.EndWhatIf(true)
	require.Equal(t, hash, b.Hash())
	require.Len(t, b.Pictures(), 1)
	require.Equal(t, hash, begin(t, b.Plan()).Hash())
}

func TestASecondUnitHasLivedAsTheFirst(t *testing.T) {
	b := begin(t, Plan{})
	set(t, b, 0, "start-regeneration", 1)
	b.pass(600, 3000)
	set(t, b, 0, "hardness", 5)
	alone := b.Hash()
	b.Double()
	require.Equal(t, b.Unit(0).Hash(), b.Unit(1).Hash())
	require.Equal(t, b.Hash(), begin(t, b.Plan()).Hash())
	set(t, b, 1, "nozzle", 1.2e-3)
	b.pass(600, 600)
	b.goTo(t, 2000*ticksPerS)
	require.Equal(t, b.Unit(0).Hash(), b.Unit(1).Hash())
	b.goTo(t, 3000*ticksPerS)
	b.Without(1)
	require.Equal(t, alone, b.Hash())
	require.Equal(t, alone, begin(t, b.Plan()).Hash())
}

func TestUnitsBeginAnewAsTheyAreSet(t *testing.T) {
	b := lived(t)
	p := b.Anew(b.Units())
	require.Zero(t, p.Tick)
	again := begin(t, p)
	for u := range 2 {
		for _, k := range again.Unit(u).Knobs() {
			if !k.Push {
				require.Equal(t, b.Unit(u).Value(k.ID), again.Unit(u).Value(k.ID), k.ID)
			}
		}
	}
	require.Len(t, b.Anew([]string{"free.standard", "free.counter-current"}).Acts, len(p.Acts)-countUnit(p, 1))
}

// The nozzle's knob comes before the throat's and the bed's before the tank's, and
// neither goes in first when both have grown.
func TestUnitsBeginAnewWithGrownParts(t *testing.T) {
	b := begin(t, Plan{})
	throat, height := b.Unit(0).Value("throat"), b.Unit(0).Value("tank-height")
	for _, x := range []struct {
		knob  string
		value float64
	}{{"throat", 2 * throat}, {"nozzle", 1.5 * throat}, {"tank-height", 1.3 * height}, {"resin", 1.1 * height}} {
		set(t, b, 0, x.knob, x.value)
		again := begin(t, b.Anew(b.Units()))
		require.Equal(t, x.value, again.Unit(0).Value(x.knob))
	}
	l := Link{Plan: b.Short(b.Plan(), 0)}
	opened, err := Decode(l.Encode())
	require.NoError(t, err)
	require.Equal(t, 1.5*throat, begin(t, opened.Plan).Unit(0).Value("nozzle"))
}

// left is a bench with a what-if in which the nozzle, set twice, no longer fits: what
// was set between is set in time. It stands where that was lived for the first time.
func left(t testing.TB) *Bench {
	b := begin(t, Plan{})
	throat := b.Unit(0).Value("throat")
	set(t, b, 0, "throat", 2*throat)
	b.pass(60, 60)
	set(t, b, 0, "nozzle", 1.5*throat)
	set(t, b, 0, "hardness", 6)
	set(t, b, 0, "nozzle", 1.6*throat)
	at := b.Tick()
	b.goTo(t, at-100)
	set(t, b, 0, "throat", throat)
	b.pass(60, 60)
	require.Greater(t, b.Tick(), at)
	return b
}

func TestWhatCannotBeSetAgainIsLeftOutAloneAndTold(t *testing.T) {
	b := left(t)
	require.ErrorContains(t, b.Trouble(), "acts[2]: nozzle")
	require.ErrorContains(t, b.Trouble(), "acts[4]: nozzle")
	require.Len(t, b.Plan().Acts, 3)
	end, hash := b.Tick(), b.Hash()
	require.Equal(t, 6.0, b.Unit(0).Value("hardness"))
	b.goTo(t, 0)
	require.Equal(t, hash, b.goTo(t, end), "lived again it is the same")
	require.Equal(t, hash, begin(t, b.Plan()).Hash())
}

func TestTroubleIsOverOnceSomethingElseIsDone(t *testing.T) {
	for name, do := range map[string]func(b *Bench){
		"something is set":    func(b *Bench) { set(t, b, 0, "people", 1) },
		"another moment":      func(b *Bench) { b.GoTo(0) },
		"back to what was":    func(b *Bench) { b.EndWhatIf(false) },
		"what was tried kept": func(b *Bench) { b.EndWhatIf(true) },
		"another what-if":     func(b *Bench) { b.trunk = nil; b.Branch() },
	} {
		b := left(t)
		require.Error(t, b.Trouble(), name)
		do(b)
		require.NoError(t, b.Trouble(), name)
	}
}

func countUnit(p Plan, unit int) (n int) {
	for _, a := range p.Acts {
		if a.Unit == unit {
			n++
		}
	}
	return n
}

func TestTheNextEventStopsTime(t *testing.T) {
	b := begin(t, Plan{})
	set(t, b, 0, "start-regeneration", 1)
	b.Seek()
	b.reach(t)
	require.True(t, b.View(0, false).Controller.Moving)
	require.False(t, b.Seeking())
	require.Less(t, b.Tick(), 2*ticksPerS)
	require.Zero(t, b.TakeIdle())
}

func TestARunThatFindsNoEventIsToldOnce(t *testing.T) {
	b := begin(t, Plan{})
	b.Seek()
	b.reach(t)
	require.False(t, b.Seeking())
	require.InDelta(t, 6*3600, b.TakeIdle(), 1e-9)
	require.Zero(t, b.TakeIdle())
}

// slow is a clock by which every frame is over at once.
func slow() func() float64 {
	now := 0.0
	return func() float64 { now += 10; return now }
}

func TestSettingSomethingEndsTheWayToTheNextEvent(t *testing.T) {
	b, err := New(Plan{Units: []string{"free.standard"}}, put, slow())
	require.NoError(t, err)
	for name, do := range map[string]func(){
		"set":     func() { set(t, b, 0, "hardness", 6) },
		"what-if": b.Branch,
		"keep":    func() { b.EndWhatIf(true) },
	} {
		if name == "keep" {
			b.Branch()
		}
		b.Seek()
		b.Frame(0)
		require.True(t, b.Seeking(), name)
		do()
		require.False(t, b.Seeking(), name)
		require.True(t, b.There(), name)
		b.EndWhatIf(true)
	}
}

func TestAWhatIfKeptDuringAJumpEndsWhereItIs(t *testing.T) {
	b := begin(t, Plan{})
	b.Branch()
	b.pass(60, 120)
	b.goTo(t, 0)
	b.clock = slow()
	b.GoTo(b.EndTick() - 1) // the last is a moment that is kept
	b.Frame(0)
	require.False(t, b.There())
	b.EndWhatIf(true)
	require.True(t, b.There())
	require.Equal(t, b.Tick(), b.EndTick())
}

func TestALogThatBeginsLaterThanAMomentHasNothingOfIt(t *testing.T) {
	b := begin(t, Plan{})
	var l log
	for i := range int64(3) { // as after twelve hours: the first moment kept is at 14400 s, the first sample at 14404 s
		l.add(&moment{tick: 14404*ticksPerS + i*sampleTicks, rigs: b.run.now.rigs})
	}
	for s, rows := range map[int64]int{14400: 0, 14403: 0, 14404: 1, 14406: 2, 20000: 3} {
		c := l.until(s * ticksPerS)
		require.Equal(t, rows, c.rows, "%d s", s)
		require.Len(t, c.units[0], rows*len(quantities))
	}
}

func TestPositionsAreCountedFromOne(t *testing.T) {
	b := begin(t, Plan{})
	i, _ := QuantityAt("position")
	require.Equal(t, 1.0, quantities[i].Value(b.View(0, false)), "a unit in service stands in the first")
}

// The atomic weights are those of IUPAC: Na 22.98977, Cl 35.453, from memory.
func TestSaltIsWeighedAsTheEngineWeighsIt(t *testing.T) {
	i, _ := QuantityAt("salt.0")
	var v sim.View
	v.Paths[0].Water.SaltMolM3 = 1000
	require.InDelta(t, 22.98977+35.453, quantities[i].Value(&v), 1e-3)
}

func TestASlowMachineDoesNotPileTimeUp(t *testing.T) {
	now := 0.0
	b, err := New(Plan{Units: []string{"free.standard"}}, put, func() float64 { now += 0.02; return now })
	require.NoError(t, err)
	b.SetPace(600)
	for range 10 {
		b.Frame(0.1)
	}
	require.True(t, b.There())
	require.LessOrEqual(t, b.Tick(), int64(10*3*atATime))
}

// BenchmarkSpeedOfAJump jumps about in the last two hours of two units.
func BenchmarkSpeedOfAJump(b *testing.B) {
	x := lived(b)
	end := x.EndTick()
	for i := 0; b.Loop(); i++ {
		x.goTo(b, end-int64(i*7919%(7200*int(ticksPerS))))
	}
}
