package call_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// visit opens a call on the mill's unit with the given condition.
func visit(t *testing.T, cond plant.Condition) *call.Call {
	t.Helper()
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	f, err := scenario.Decode("mill", data)
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	return call.New(m, m.Start(cond), 11)
}

// do carries an act out to its end and returns its entry.
func do(t *testing.T, c *call.Call, a call.Act) call.Entry {
	t.Helper()
	require.NoError(t, c.Do(a), "%+v", a)
	n := len(c.Journal) - 1
	for c.Busy {
		c.Tick()
	}
	return c.Journal[n]
}

func wait(c *call.Call, minutes float64) {
	for end := c.Minutes() + minutes; c.Minutes() < end; {
		c.Tick()
	}
}

func TestAnActTakesItsMinutesAndNoOtherMeanwhile(t *testing.T) {
	c := visit(t, plant.Healthy())
	require.NoError(t, c.Do(call.Act{Kind: call.Test, ID: "hardness-house"}))
	require.ErrorIs(t, c.Do(call.Act{Kind: call.Test, ID: "salt-look"}), call.ErrBusy)
	for c.Busy {
		c.Tick()
	}
	in, _ := instrument.Find("hardness-house")
	require.Equal(t, in.Minutes, c.Minutes())
	e := c.Journal[0]
	require.Equal(t, int64(0), e.Tick)
	require.Equal(t, c.Ticks, e.EndTick)
	require.NotNil(t, e.Reading)
	require.Zero(t, c.Plant.HouseTap, "the tap is shut again after the sample")
}

func TestWaterIsLetInAtOnceOrLittleByLittle(t *testing.T) {
	for slowly, minutes := range map[float64]float64{0: 0.5, 1: 3} {
		c := visit(t, plant.Healthy())
		do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"})
		before := c.Minutes()
		e := do(t, c, call.Act{Kind: call.Bypass, ID: "service", Value: slowly})
		require.InDelta(t, minutes, c.Minutes()-before, 1e-9)
		require.Equal(t, plant.BypassService, c.Plant.Bypass)
		require.Equal(t, slowly > 0, strings.Contains(e.Text, "little by little"), e.Text)
	}
}

func TestImpossibleActsLeaveNoTrace(t *testing.T) {
	c := visit(t, plant.Healthy())
	for _, row := range []struct {
		situation string
		act       call.Act
		want      string
	}{
		{"no such act", call.Act{Kind: "dance"}, "kind"},
		{"no such test", call.Act{Kind: call.Test, ID: "tarot"}, "id"},
		{"a look is no test", call.Act{Kind: call.Test, ID: "look-injector"}, "id"},
		{"no such part", call.Act{Kind: call.Open, Part: "flux"}, "part"},
		{"cannot be opened", call.Act{Kind: call.Open, Part: plant.PartAirGap}, "part"},
		{"not open", call.Act{Kind: call.Refit, Part: plant.PartInjector}, "part"},
		{"closed", call.Act{Kind: call.Clean, Part: plant.PartInjector}, "part"},
		{"no such position", call.Act{Kind: call.Bypass, ID: "half"}, "id"},
		{"out of the way slowly", call.Act{Kind: call.Bypass, ID: "bypass", Value: 1}, "value"},
		{"slowly, where it is", call.Act{Kind: call.Bypass, ID: "service", Value: 1}, "already"},
		{"tap twice open", call.Act{Kind: call.HouseTap, Value: 2}, "value"},
		{"no such fault", call.Act{Kind: call.Diagnose, ID: "gremlins"}, "id"},
		{"more than sure", call.Act{Kind: call.Diagnose, ID: call.NoFault, Value: 1.5}, "value"},
	} {
		hash := c.Hash()
		require.ErrorContains(t, c.Do(row.act), row.want, row.situation)
		require.Equal(t, hash, c.Hash(), row.situation)
	}
}

func TestUnsafeActsAreStoppedAndExplained(t *testing.T) {
	isolate := []call.Act{{Kind: call.Bypass, ID: "bypass"}, {Kind: call.Advance}}
	for _, row := range []struct {
		situation string
		before    []call.Act
		act       call.Act
		want      string
	}{
		{"injector under pressure", nil, call.Act{Kind: call.Open, Part: plant.PartInjector}, "under 58 psi"},
		{"bypassed, pressure still trapped", isolate[:1], call.Act{Kind: call.Open, Part: plant.PartInjector}, "Bypass and let the pressure off"},
		{"relieved, plug still in", isolate, call.Act{Kind: call.Open, Part: plant.PartInjector}, "plugged in"},
		{"cover off under pressure", nil, call.Act{Kind: call.Open, Part: plant.PartSeats}, "under 58 psi"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			c := visit(t, plant.Healthy())
			for _, a := range row.before {
				do(t, c, a)
				wait(c, 1)
			}
			e := do(t, c, row.act)
			require.True(t, e.Unsafe)
			require.Contains(t, e.Text, row.want)
			require.Empty(t, c.Opened, "nothing was opened")
		})
	}
}

// opened returns a call with the injector out, reached the safe way.
func opened(t *testing.T, cond plant.Condition) *call.Call {
	t.Helper()
	c := visit(t, cond)
	do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"})
	do(t, c, call.Act{Kind: call.Advance})
	wait(c, 1)
	do(t, c, call.Act{Kind: call.Power, Value: 0})
	e := do(t, c, call.Act{Kind: call.Open, Part: plant.PartInjector})
	require.False(t, e.Unsafe, e.Text)
	require.True(t, c.IsOpen(plant.PartInjector))
	return c
}

func TestWaterIsNotLetOntoAnOpenPart(t *testing.T) {
	c := opened(t, plant.Healthy())
	require.True(t, do(t, c, call.Act{Kind: call.Bypass, ID: "service"}).Unsafe)
	require.Equal(t, plant.BypassBypass, c.Plant.Bypass)
	require.True(t, do(t, c, call.Act{Kind: call.Power, Value: 1}).Unsafe, "the motor could turn")
	require.False(t, c.Plant.Powered)
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Finish}), "still open")
	do(t, c, call.Act{Kind: call.Refit, Part: plant.PartInjector})
	require.False(t, do(t, c, call.Act{Kind: call.Bypass, ID: "service"}).Unsafe)
}

func TestAnOpenPartLetsAirIn(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"})
	do(t, c, call.Act{Kind: call.Advance})
	wait(c, 1)
	do(t, c, call.Act{Kind: call.Advance}) // brine draw
	wait(c, 5)
	do(t, c, call.Act{Kind: call.Power, Value: 0})
	gauge := func() float64 { return c.Model().PressurePa(c.Plant, plant.ValveIn) / unit.PSI }
	require.Less(t, gauge(), -1.0)
	do(t, c, call.Act{Kind: call.Open, Part: plant.PartDrainCtl})
	wait(c, 1)
	require.InDelta(t, 0, gauge(), 0.1)
	do(t, c, call.Act{Kind: call.Refit, Part: plant.PartDrainCtl})
	do(t, c, call.Act{Kind: call.Bypass, ID: "service"})
	require.Greater(t, gauge(), 30.0)
}

func TestSafeActsAreNotStopped(t *testing.T) {
	c := visit(t, plant.Healthy())
	require.False(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartFloat}).Unsafe)
	require.False(t, do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"}).Unsafe, "an open float lets no water out")
	do(t, c, call.Act{Kind: call.Advance})
	wait(c, 1)
	do(t, c, call.Act{Kind: call.Power, Value: 0})
	require.False(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartInjector}).Unsafe)
	require.False(t, do(t, c, call.Act{Kind: call.ShutOff, Value: 0}).Unsafe, "nothing changes")
}

func TestTheDrainHoseMayRunIntoABucket(t *testing.T) {
	bad := plant.Healthy()
	bad.DrainLineOpen = 0.01
	c := visit(t, bad)
	require.False(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartDrainLine}).Unsafe)
	require.False(t, do(t, c, call.Act{Kind: call.Advance}).Unsafe)
	wait(c, 1)
	r := do(t, c, call.Act{Kind: call.Test, ID: "drain-flow"}).Reading
	require.Greater(t, r.Value, 2*unit.GPM, "the flow control is sound")
	do(t, c, call.Act{Kind: call.Refit, Part: plant.PartDrainLine})
	require.Less(t, do(t, c, call.Act{Kind: call.Test, ID: "drain-flow"}).Reading.Value, 0.6*unit.GPM)
	require.True(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartDrainLine}).Unsafe, "not while water runs through it")
}

func TestTheDrumIsNotDrivenOntoAnOpenPart(t *testing.T) {
	for _, part := range []plant.Part{plant.PartDrainCtl, plant.PartBrineLine, plant.PartRefillCtl} {
		c := visit(t, plant.Healthy())
		do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"})
		do(t, c, call.Act{Kind: call.Power, Value: 0})
		require.False(t, do(t, c, call.Act{Kind: call.Open, Part: part}).Unsafe, part)
		do(t, c, call.Act{Kind: call.Power, Value: 1})
		e := do(t, c, call.Act{Kind: call.StartRegen})
		require.True(t, e.Unsafe, part)
		require.Contains(t, e.Text, "is open")
	}
}

func TestMotorAndDrumAreNotTouchedPluggedIn(t *testing.T) {
	for _, part := range []plant.Part{plant.PartMotor, plant.PartDrum} {
		c := visit(t, plant.Healthy())
		require.Contains(t, do(t, c, call.Act{Kind: call.Open, Part: part}).Text, "Unplug it first", part)
		do(t, c, call.Act{Kind: call.Power, Value: 0})
		require.False(t, do(t, c, call.Act{Kind: call.Open, Part: part}).Unsafe, part)
		require.True(t, do(t, c, call.Act{Kind: call.Power, Value: 1}).Unsafe, "with hands in it")
	}
}

func TestADriveIsPutTogetherWithTheDrumAtHome(t *testing.T) {
	bad := plant.Healthy()
	bad.GearStripped = 1
	c := visit(t, bad)
	do(t, c, call.Act{Kind: call.Advance})
	wait(c, 1) // the controller believes in backwash, the drum stands at service
	require.NotZero(t, c.Plant.Control.Station)
	require.Zero(t, c.Plant.Control.DrumDeg)
	do(t, c, call.Act{Kind: call.Power, Value: 0})
	do(t, c, call.Act{Kind: call.Open, Part: plant.PartMotor})
	require.True(t, do(t, c, call.Act{Kind: call.Replace, Part: plant.PartMotor}).Mended)
	wait(c, 1)
	require.Zero(t, c.Plant.Control.Station)
}

func TestAClockThatIsWrongIsSetByTheWatch(t *testing.T) {
	c := visit(t, plant.Healthy())
	require.True(t, do(t, c, call.Act{Kind: call.Adjust, Part: plant.PartController}).Needless)
	do(t, c, call.Act{Kind: call.Power})
	do(t, c, call.Act{Kind: call.Power, Value: 1})
	require.False(t, do(t, c, call.Act{Kind: call.Adjust, Part: plant.PartController}).Needless, "the plug was out")
	c.Plant.Control.ClockS -= 3 * 3600 // a power cut
	require.True(t, do(t, c, call.Act{Kind: call.Adjust, Part: plant.PartController}).Mended)
	require.InDelta(t, 0, c.Model().ClockFastS(c.Plant), 400, "but for the minutes of the work")
}

func TestAFrozenLineIsThawedWithCare(t *testing.T) {
	bad := plant.Healthy()
	bad.BrineIce = 0.99
	c := visit(t, bad)
	require.Contains(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartBrineLine}).Text, "never with a flame")
	require.True(t, do(t, c, call.Act{Kind: call.Clean, Part: plant.PartBrineLine}).Mended)
}

func TestNoPartIsOpenedWhileTheClockDrivesOn(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Bypass, ID: "bypass"})
	do(t, c, call.Act{Kind: call.StartRegen})
	wait(c, 1)
	require.Contains(t, do(t, c, call.Act{Kind: call.Open, Part: plant.PartDrainCtl}).Text, "regeneration is running")
}

func TestPipesAreNotTakenOffTheBypassUnderStreetPressure(t *testing.T) {
	crossed, ajar := plant.Healthy(), plant.Healthy()
	crossed.LinesCrossed, ajar.BypassAjar = 1, 0.5
	for name, x := range map[string]struct {
		cond   plant.Condition
		kind   call.Kind
		unsafe bool
	}{
		"a new one":     {plant.Healthy(), call.Replace, true},
		"pipes crossed": {crossed, call.Adjust, true},
		"its stop set":  {ajar, call.Adjust, false},
	} {
		c := visit(t, x.cond)
		do(t, c, call.Act{Kind: call.Open, Part: plant.PartBypass})
		require.Equal(t, x.unsafe, do(t, c, call.Act{Kind: x.kind, Part: plant.PartBypass}).Unsafe, name)
		do(t, c, call.Act{Kind: call.ShutOff, Value: 1})
		do(t, c, call.Act{Kind: call.RawTap, Value: 1})
		wait(c, 2)
		require.False(t, do(t, c, call.Act{Kind: x.kind, Part: plant.PartBypass}).Unsafe, name)
	}
}

func TestBrineAtTheHouseTapIsEnteredOnce(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.StartRegen})
	wait(c, 1)
	do(t, c, call.Act{Kind: call.Advance})
	wait(c, 9) // brine stands in the bed
	for range 3 {
		do(t, c, call.Act{Kind: call.Advance})
		wait(c, 0.5)
	}
	acts := len(c.Journal)
	do(t, c, call.Act{Kind: call.HouseTap, Value: 0.5})
	wait(c, 3)
	mishaps := 0
	for _, e := range c.Journal[acts:] {
		if e.Action.Kind == call.Mishap {
			mishaps++
			require.True(t, e.Unsafe)
		}
	}
	require.Equal(t, 1, mishaps)
}

func TestATestWithoutWaterSaysSo(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.ShutOff, Value: 1})
	wait(c, 1)
	r := do(t, c, call.Act{Kind: call.Test, ID: "hardness-raw"}).Reading
	require.Equal(t, instrument.NothingRuns, r.Text)
	require.Equal(t, instrument.Sighting, r.Unit)
}

func TestARegenerationIsNotStartedTwice(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.StartRegen})
	wait(c, 1)
	require.ErrorContains(t, c.Do(call.Act{Kind: call.StartRegen}), "already")
}

func TestCleaningMendsWhatIsDirtyAndOnlyThat(t *testing.T) {
	bad := plant.Healthy()
	bad.NozzleOpen = 0.04
	c := opened(t, bad)
	require.Equal(t, "nozzle blocked with grit", c.Journal[len(c.Journal)-1].Reading.Text)
	require.True(t, do(t, c, call.Act{Kind: call.Clean, Part: plant.PartInjector}).Mended)
	require.Equal(t, plant.Healthy(), c.Plant.Cond)
	require.False(t, do(t, c, call.Act{Kind: call.Clean, Part: plant.PartInjector}).Mended, "nothing left to clean")
}

func TestFillingUpSaltCuresOnlyItsAbsence(t *testing.T) {
	bad := plant.Healthy()
	bad.SaltLeft = 0
	c := visit(t, bad)
	require.True(t, do(t, c, call.Act{Kind: call.Replace, Part: plant.PartSalt}).Mended)
	require.InDelta(t, 200*unit.Pound, c.Plant.Tank.SolidMol*0.058443, 1e-6)
	require.False(t, do(t, c, call.Act{Kind: call.Replace, Part: plant.PartSalt}).Mended)
}

func TestReadingsRepeatWithTheSeedAndDifferWithout(t *testing.T) {
	reading := func(id string, seed uint64) float64 {
		c := visit(t, plant.Healthy())
		c.Seed = seed
		return do(t, c, call.Act{Kind: call.Test, ID: id}).Reading.Value
	}
	differs := func(id string) (different bool) {
		for seed := range uint64(20) {
			different = different || reading(id, seed) != reading(id, 3)
		}
		return different
	}
	require.Equal(t, reading("brine-level", 3), reading("brine-level", 3))
	require.True(t, differs("brine-level"))
	require.False(t, differs("pressure-in"), "its dial hangs there for all to see")
}

func TestWhoRemembersErrsAlikeWheneverAsked(t *testing.T) {
	asked := func(minutes float64) *call.Reading {
		c := visit(t, plant.Healthy())
		c.Plant.Ledger.SaltDissolvedMol, c.Plant.TimeS = 500, 14*unit.Day
		wait(c, minutes)
		return do(t, c, call.Act{Kind: call.Test, ID: "ask-salt"}).Reading
	}
	require.Positive(t, asked(0).Value)
	require.Equal(t, asked(0).Value, asked(7).Value)
}

func TestTapeAndWatchTellTheMeanOfTheirTime(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.StartRegen})
	wait(c, 1)
	do(t, c, call.Act{Kind: call.Advance})
	for c.Plant.Control.Moving {
		c.Tick()
	}
	wait(c, 1)
	whole := do(t, c, call.Act{Kind: call.Test, ID: "brine-draw"}).Reading.Value
	for !c.Plant.Tank.AirCheckSeated {
		c.Plant.Tank.WaterKg *= 0.98 // until there is little left to draw
		wait(c, 0.05)
		if c.Model().Tank(c.Plant).LevelM < c.Model().Config().Brine.AirCheckM+0.012 {
			break
		}
	}
	in, _ := instrument.Find("brine-draw")
	part := do(t, c, call.Act{Kind: call.Test, ID: "brine-draw"}).Reading.Value
	require.True(t, c.Plant.Tank.AirCheckSeated, "it ended while the watch ran")
	require.Greater(t, part, 3*in.Sigma(0))
	require.Less(t, part, 0.8*whole)
}

func TestUnpluggedControllerDoesNotTurn(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Power, Value: 0})
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Advance}), "unplugged")
}

func TestAFinishedCallTakesNoMoreActs(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Finish})
	require.True(t, c.Finished)
	require.ErrorIs(t, c.Do(call.Act{Kind: call.Test, ID: "salt-look"}), call.ErrFinished)
}

func TestEventsCountWhatOneWaitsFor(t *testing.T) {
	c := visit(t, plant.Healthy())
	before := c.Events
	do(t, c, call.Act{Kind: call.StartRegen})
	wait(c, 1)
	require.Equal(t, before+3, c.Events, "act done, drum leaves, drum arrives")
}

// TestADrawThatShowsIsWaitedFor: who runs to the next event is not carried past the only
// moment at which a draw can be proved.
func TestADrawThatShowsIsWaitedFor(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.StartRegen})
	brine := func() bool {
		s := &c.Plant.Control
		return !s.Moving && c.Model().Config().Program.Stops[s.Station].ID == "brine"
	}
	for !brine() {
		c.Tick()
	}
	at, arrived, level := c.Events, c.Minutes(), c.Model().Tank(c.Plant).LevelM
	for c.Events == at {
		c.Tick()
	}
	require.InDelta(t, 3, c.Minutes()-arrived, 0.02)
	require.True(t, brine())
	require.False(t, c.Plant.Tank.AirCheckSeated, "it draws still")
	require.Greater(t, level-c.Model().Tank(c.Plant).LevelM, 0.006, "a quarter of an inch, which a tape shows")
	for at = c.Events; c.Events == at; {
		c.Tick()
	}
	require.True(t, c.Plant.Tank.AirCheckSeated, "the next is the draw's end")
}

func TestRunToEndsWhereTicksEnd(t *testing.T) {
	slow, quick := visit(t, plant.Healthy()), visit(t, plant.Healthy())
	for _, c := range []*call.Call{slow, quick} {
		require.NoError(t, c.Do(call.Act{Kind: call.StartRegen}))
	}
	const end = 40 * 240
	for slow.Ticks < end {
		slow.Tick()
	}
	quick.RunTo(end)
	require.Equal(t, slow.Ticks, quick.Ticks)
	require.Equal(t, slow.Plant.Control.Station, quick.Plant.Control.Station)
	require.InDelta(t, slow.Plant.Ledger.DrawnM3, quick.Plant.Ledger.DrawnM3, 0.02*slow.Plant.Ledger.DrawnM3)
}

func TestEveryPartAndInstrumentHasItsWords(t *testing.T) {
	for _, p := range call.Parts() {
		require.NotEmpty(t, p.Name, p.ID)
		require.NotEmpty(t, p.What, p.ID)
		if p.CanOpen {
			require.Positive(t, p.Minutes.Open, p.ID)
			_, ok := instrument.LookAt(p.ID)
			require.True(t, ok, "%s: opened, something is seen", p.ID)
		}
		if p.Wet {
			require.NotEmpty(t, p.Cautions, p.ID)
		}
	}
	for _, in := range instrument.All() {
		_, ok := call.Part(in.Where)
		require.True(t, ok, in.ID)
	}
}

func TestADarkControllerStartsNothing(t *testing.T) {
	c := plant.Healthy()
	c.CurrentLost = 1
	k := visit(t, c)
	require.False(t, k.Plant.Lit())
	require.True(t, k.Plant.Powered, "the plug is in")
	for _, kind := range []call.Kind{call.StartRegen, call.Advance} {
		require.ErrorContains(t, k.Do(call.Act{Kind: kind}), "dark")
	}
	do := func(a call.Act) call.Entry {
		require.NoError(t, k.Do(a))
		k.RunTo(k.BusyUntil)
		return k.Journal[len(k.Journal)-1]
	}
	controller := call.Act{Kind: call.Replace, Part: plant.PartController}
	require.True(t, do(controller).Unsafe, "mains behind the cover")
	do(call.Act{Kind: call.Power, Value: 0})
	do(controller)
	do(call.Act{Kind: call.Power, Value: 1})
	require.False(t, k.Plant.Lit(), "it is not the controller's fault")
	require.True(t, do(call.Act{Kind: call.Replace, Part: plant.PartPlugIn}).Mended)
	require.True(t, k.Plant.Lit())
	require.NoError(t, k.Do(call.Act{Kind: call.StartRegen}))
}

// TestAValveThatIsOffIsNotTakenOffAgain opens what stands under the valve one after the
// other, and puts it back.
func TestAValveThatIsOffIsNotTakenOffAgain(t *testing.T) {
	of := func(id plant.Part, opened ...plant.Part) [2]float64 {
		p, ok := call.Part(id)
		require.True(t, ok)
		open, refit := call.OpenMinutes(p, opened)
		return [2]float64{open, refit}
	}
	for _, row := range []struct {
		situation string
		got, want [2]float64
	}{
		{"the upper distributor alone", of(plant.PartUpperDist), [2]float64{20, 15}},
		{"the riser's foot, the valve off: the tank is emptied all the same", of(plant.PartLowerDist, plant.PartUpperDist), [2]float64{40, 45}},
		{"the riser's head, its foot in hand", of(plant.PartRiser, plant.PartUpperDist, plant.PartLowerDist), [2]float64{2, 2}},
		{"the resin, the valve off", of(plant.PartBed, plant.PartUpperDist), [2]float64{5, 5}},
		{"the upper distributor, the valve off", of(plant.PartUpperDist, plant.PartBed), [2]float64{2, 2}},
		{"the injector, the valve off", of(plant.PartInjector, plant.PartBed), [2]float64{6, 4}},
		{"a part that is open itself", of(plant.PartBed, plant.PartBed), [2]float64{25, 20}},
	} {
		require.Equal(t, row.want, row.got, row.situation)
	}
}

// TestWhatWasPutRightInTheHouseIsSaid puts right what the household has wrong, and once more.
func TestWhatWasPutRightInTheHouseIsSaid(t *testing.T) {
	bad := plant.Healthy()
	bad.KitchenRaw = 1
	c := visit(t, bad)
	mend := call.Act{Kind: call.Adjust, Part: plant.PartHouse}
	first := do(t, c, mend)
	require.True(t, first.Mended)
	require.Contains(t, first.Text, "a plumber has joined its pipe")
	again := do(t, c, mend)
	require.True(t, again.Needless)
	require.Contains(t, again.Text, "nothing to put right")
}

// TestATankThatIsEmptyIsNotEmptiedAgain fits a new riser with its foot in place and out.
func TestATankThatIsEmptyIsNotEmptiedAgain(t *testing.T) {
	riser, _ := call.Part(plant.PartRiser)
	bed, _ := call.Part(plant.PartBed)
	require.Equal(t, 95.0, call.ReplaceMinutes(riser, []plant.Part{plant.PartRiser}))
	require.Equal(t, 15.0, call.ReplaceMinutes(riser, []plant.Part{plant.PartRiser, plant.PartLowerDist}))
	require.Equal(t, bed.Minutes.Replace, call.ReplaceMinutes(bed, []plant.Part{plant.PartLowerDist}))
}
