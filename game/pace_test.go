package game

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestChosenPaceIsKept(t *testing.T) {
	for _, pace := range Paces {
		b := newBench(&fakeSession{})
		b.SetPace(pace)
		ran := float64(b.frames(4)) * sim.TickS
		require.InDelta(t, 4*pace, ran, sim.TickS+1e-9, "pace %g", pace)
		_, behind := b.Behind()
		require.False(t, behind)
	}
}

// Between two ticks the picture lies behind the unit; one that stands does not, and goes on
// from there.
func TestWhatStandsIsThePresent(t *testing.T) {
	b := newBench(&fakeSession{})
	b.SetPace(1)
	for range 10 {
		b.Frame(0.3 * sim.TickS)
	}
	require.Less(t, b.View().TimeS, b.cur.TimeS)
	b.SetPace(0)
	b.Frame(0.1)
	require.Equal(t, b.cur.TimeS, b.View().TimeS)
	b.SetPace(1)
	b.Frame(0.3 * sim.TickS)
	require.Equal(t, b.cur.TimeS, b.View().TimeS, "it does not step back")
}

func TestATestAskedForMeanwhileWaitsForItsTurn(t *testing.T) {
	b := newBench(&fakeSession{})
	tests := []sim.Action{
		{Kind: sim.ActTest, ID: "first", Value: 2},
		{Kind: sim.ActTest, ID: "second", Value: 1},
		{Kind: sim.ActTest, ID: "third", Value: 3},
	}
	for _, a := range tests { // the last that was asked for counts
		require.NoError(t, b.Do(a))
		require.NoError(t, b.Do(tests[0]), "pressed once more: nothing comes of it")
	}
	require.Equal(t, "third", b.Next())
	require.Error(t, b.Do(sim.Action{Kind: sim.ActOpen, Value: 1}), "hands do one thing at a time")
	for b.Next() != "" {
		b.frames(0.1)
	}
	require.True(t, b.Busy())
	for b.Busy() {
		b.frames(0.1)
	}
	journal := b.s.call.Journal
	require.Len(t, journal, 2)
	require.Equal(t, []string{"first", "third"}, []string{journal[0].Action.ID, journal[1].Action.ID})
	require.Equal(t, int64(2*60/sim.TickS), journal[1].Tick, "at once when the first was done")
	require.Equal(t, int64(5*60/sim.TickS), b.s.call.BusyUntilTick)
}

func TestSlowUnitLetsGoOfDebtAndSaysSo(t *testing.T) {
	b := newBench(&fakeSession{})
	b.tickS = 0.002 // a tick costs 2 ms
	b.SetPace(600)
	for range 60 {
		before := b.nowS
		b.Frame(1.0 / 60)
		require.LessOrEqual(t, b.nowS-before, budgetS+2*b.tickS+1e-9)
		require.Less(t, b.owedS, sim.TickS)
	}
	reached, behind := b.Behind()
	require.True(t, behind)
	require.Greater(t, reached, 30.0)
	b.SetPace(1)
	require.LessOrEqual(t, b.frames(1), int64(5), "no debt of the fast pace is paid at the slow one")
}

func TestOneTimesIsNeverSaidToBeBehind(t *testing.T) {
	b := newBench(&fakeSession{})
	for range 600 {
		b.Frame(1.0 / 57)
		_, behind := b.Behind()
		require.False(t, behind)
	}
}

func TestSlowFramesAreCountedAsSlowness(t *testing.T) {
	b := newBench(&fakeSession{})
	b.SetPace(60)
	for range 20 {
		b.Frame(0.5)
	}
	reached, behind := b.Behind()
	require.True(t, behind)
	require.InDelta(t, 30, reached, 1)
}

func TestHiddenTabDoesNotLeap(t *testing.T) {
	b := newBench(&fakeSession{})
	b.Frame(3600)
	require.LessOrEqual(t, b.s.now.TimeS, maxFrameS)
}

func TestPausedUnitStandsStill(t *testing.T) {
	b := newBench(&fakeSession{})
	b.SetPace(0)
	require.Zero(t, b.frames(10))
}

func TestActIsWatchedFastThenThePaceReturns(t *testing.T) {
	for _, row := range []struct {
		name             string
		minutes, wantS   float64
		chosen, allowedS float64
	}{
		{"five-minute test at 1x", 5, 1.5, 1, 0.1},
		{"five-minute test while paused", 5, 1.5, 0, 0.1},
		{"short look", 1, 0.4, 1, 0.1},
		{"an hour's work", 60, 4, 1, 0.1},
		{"chosen pace faster than the act's", 5, 0.5, 600, 0.1},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(&fakeSession{})
			b.SetPace(row.chosen)
			require.NoError(t, b.Do(sim.Action{Kind: sim.ActTest, Value: row.minutes}))
			require.True(t, b.Busy())
			frames := 0
			for b.Busy() && frames < 1000 {
				b.Frame(1.0 / 60)
				frames++
			}
			require.InDelta(t, row.wantS, float64(frames)/60, row.allowedS)
			after := float64(b.frames(1)) * sim.TickS
			require.InDelta(t, row.chosen, after, 2*sim.TickS)
		})
	}
}

func TestSeekStopsAtTheNextEvent(t *testing.T) {
	s := &fakeSession{eventEvery: 10_000}
	s.now.Face.Powered = true
	b := newBench(s)
	b.SetPace(0)
	b.Seek()
	b.frames(60)
	require.Equal(t, int64(10_000), b.s.now.Tick)
	require.False(t, b.Seeking())
}

func TestSeekDoesNotLeaveTheEventBehind(t *testing.T) {
	b := newBench(&fakeSession{eventEvery: 10_000})
	b.SetPace(600)
	b.Seek()
	b.frames(2)
	require.Equal(t, 1.0, b.Pace())
	require.Less(t, b.s.now.Tick, int64(10_000+3/sim.TickS))
}

func TestBackInServiceTimeFliesNoMore(t *testing.T) {
	s := &fakeSession{}
	s.setup.Stations = []sim.Station{{ID: "service", Name: "Service"}, {ID: "refill", Name: "Refill"}}
	s.now.Controller.Station = 1
	b := newBench(s)
	s.onTick = func(s *fakeSession) {
		if s.now.Tick == 1000 {
			s.now.Controller.Station = 0
		}
	}
	b.SetPace(600)
	b.frames(1)
	require.Equal(t, 1.0, b.Pace())
	require.Equal(t, "The valve has reached service. Time runs at 1× again.", b.TakeNotices()[0].Text)
}

func TestSeekGivesUpWhenNothingHappens(t *testing.T) {
	for situation, row := range map[string]struct {
		lit  bool
		now  sim.ControllerView
		most float64
		says string
	}{
		"a regeneration under way":   {true, sim.ControllerView{Powered: true, Regenerating: true}, seekLimitS, "Nothing has happened in 2 h 00 min."},
		"in service, none due":       {true, sim.ControllerView{Powered: true, DaysToRegen: 3}, seekIdleS, "Nothing has happened in 10 min."},
		"unplugged on its way":       {false, sim.ControllerView{Regenerating: true}, seekUnlitS, "The controller has no current"},
		"plugged in to a dead plate": {false, sim.ControllerView{Powered: true, Regenerating: true}, seekUnlitS, "The controller has no current"},
	} {
		s := &fakeSession{}
		s.now.Controller, s.now.Face.Powered = row.now, row.lit
		b := newBench(s)
		b.SetPace(0)
		b.Seek()
		b.frames(20)
		require.False(t, b.Seeking(), situation)
		require.InDelta(t, row.most, b.s.now.TimeS, sim.TickS, situation)
		notices := b.TakeNotices()
		require.Contains(t, notices[len(notices)-1].Text, row.says, situation)
	}
}

func TestChoosingAPaceEndsTheSeek(t *testing.T) {
	b := newBench(&fakeSession{})
	b.Seek()
	b.frames(0.1)
	b.SetPace(0)
	require.Zero(t, b.frames(1))
}

func TestPrepareWorksInSlices(t *testing.T) {
	s := &fakeSession{history: 1000}
	b := &bench{s: s, tickS: 0.001}
	b.Game = New(s, func() float64 { b.nowS += b.tickS; return b.nowS })
	require.Equal(t, 0.5, b.Prepare(0.004))
	b.Frame(1)
	require.Zero(t, s.now.Tick, "nothing moves before the history is run")
	for b.Prepare(0.004) < 1 {
	}
	require.Positive(t, b.frames(1))
}

func TestMotionIsSmoothBetweenTicks(t *testing.T) {
	b := newBench(&fakeSession{onTick: func(s *fakeSession) { s.now.DrumDeg = math.Mod(350+float64(s.now.Tick)*4, 360) }})
	b.frames(1)
	last := b.View().DrumDeg
	for range 120 {
		b.Frame(1.0 / 60)
		step := math.Mod(b.View().DrumDeg-last+360, 360)
		require.InDelta(t, 4/sim.TickS/60, step, 1e-6)
		last = b.View().DrumDeg
	}
}
