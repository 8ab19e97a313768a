//go:build !js && !arm64

package adviser_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// work is somebody at work on the plainest call, followed by an adviser.
type work struct {
	t *testing.T
	*call.Call
	*adviser.Adviser
}

func read(t *testing.T, name string) *scenario.File {
	t.Helper()
	data, err := scenarios.FS.ReadFile(name + ".json")
	require.NoError(t, err)
	f, err := scenario.Decode(name, data)
	require.NoError(t, err)
	return f
}

// atTheMill opens the plainest call, with more wrong than its file says.
func atTheMill(t *testing.T, more ...scenario.Fault) work {
	t.Helper()
	f := read(t, "hard-water-at-the-mill-house")
	f.Faults = append(f.Faults, more...)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	past, endS := f.Begin(m.Coarse()), float64(f.HistoryDays)*86400
	for past.State.TimeS < endS {
		past.Step(endS)
	}
	return work{t, call.New(m, past.End(), 5), adviser.NewLibrary(f, m, nil).Follow()}
}

func (w work) do(a call.Act) adviser.Step {
	w.t.Helper()
	tick := w.Ticks
	require.NoError(w.t, w.Call.Do(a))
	w.RunTo(w.BusyUntil)
	return w.Follow(adviser.Deed{Tick: tick, Act: a}, &w.Journal[len(w.Journal)-1])
}

func (w work) wait(minutes float64) { w.RunTo(w.Ticks + int64(minutes*60/call.TickS)) }

// TestWhoAsksTwiceLearnsNothing asks the customer before and after the drum has moved,
// and sends the drum through brine draw: the shadows know that a tap would give brine.
func TestWhoAsksTwiceLearnsNothing(t *testing.T) {
	w := atTheMill(t)
	ask := call.Act{Kind: call.Test, ID: "ask-shower"}
	once := w.do(ask).Belief
	sum := 0.0
	for _, p := range once {
		sum += p
	}
	require.InDelta(t, 1, sum, 1e-9)
	w.do(call.Act{Kind: call.StartRegen})
	w.wait(2)
	require.Equal(t, once, w.do(ask).Belief)

	w.Look(w.Ticks)
	require.Less(t, w.Salty(), 0.02, "raw water past the unit")
	w.do(call.Act{Kind: call.Advance})
	w.wait(15)
	for range 3 {
		w.do(call.Act{Kind: call.Advance})
		w.wait(1)
	}
	require.False(t, w.Plant.Control.Regenerating)
	w.Look(w.Ticks)
	require.Greater(t, w.Salty(), 0.5, "drawn, and not rinsed out")
}

// TestTheAdviserHearsTheComplaint takes a call about a bill, whose cause is a toilet that
// runs on, with the complaint and without.
func TestTheAdviserHearsTheComplaint(t *testing.T) {
	f := read(t, "the-water-bill-at-the-tannery")
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	deaf := *f
	deaf.Says = nil
	heard, unheard := adviser.NewLibrary(f, m, nil), adviser.NewLibrary(&deaf, m, nil)

	told := heard.Told()
	sum := 0.0
	for _, p := range told.Belief {
		sum += p
	}
	require.InDelta(t, 1, sum, 1e-12)
	require.Equal(t, told.Belief, heard.Follow().Belief()[:len(told.Belief)])
	require.Contains(t, told.For, slices.Index(heard.Candidates(), "house-leak"))
	plugged := slices.Index(heard.Candidates(), "nozzle-plugged")
	require.Less(t, told.Belief[plugged], 0.6*unheard.Told().Belief[plugged], "which saves salt")
	require.Empty(t, unheard.Told().For)

	running := slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == "ask-running" })
	worth := func(l *adviser.Library) float64 {
		a := l.Follow()
		a.Look(0)
		return a.Options()[running].Gain
	}
	require.Greater(t, worth(heard), 2*worth(unheard))
}

// TestWhatIsHeldInTheHandIsThoughtOf finds a plugged nozzle by readings, then opens the
// seats, one of which weeps: nobody had thought of that, and no reading had brought more
// to mind.
func TestWhatIsHeldInTheHandIsThoughtOf(t *testing.T) {
	w := atTheMill(t, scenario.Fault{ID: "pass-seat-worn", Severity: 0.3, Onset: "steady"})
	w.SpendRounds()
	do := func(a call.Act) {
		w.do(a)
		w.wait(1)
	}
	do(call.Act{Kind: call.Test, ID: "brine-level"})
	do(call.Act{Kind: call.StartRegen})
	do(call.Act{Kind: call.Advance})
	do(call.Act{Kind: call.Test, ID: "brine-draw"})
	do(call.Act{Kind: call.Test, ID: "pressure-drain"})
	require.Less(t, w.Present("pass-seat-worn"), 0.001)
	do(call.Act{Kind: call.Bypass, ID: "bypass"})
	do(call.Act{Kind: call.Power})
	do(call.Act{Kind: call.Open, Part: plant.PartSeats})
	require.Contains(t, w.Journal[len(w.Journal)-1].Reading.Text, "pass seat")
	require.Greater(t, w.Present("pass-seat-worn"), 0.7)
}

// TestATestTellsWhatItWasToShow reads the draw of the mill's unit, whose nozzle is
// plugged: what comes lies where the adviser says that a plugged nozzle shows it, and
// well below what a sound unit shows.
func TestATestTellsWhatItWasToShow(t *testing.T) {
	w := atTheMill(t)
	w.do(call.Act{Kind: call.StartRegen})
	w.wait(2)
	w.do(call.Act{Kind: call.Advance})
	w.wait(3)
	flow := call.Act{Kind: call.Test, ID: "brine-draw"}
	step := w.do(flow)
	require.Equal(t, "brine-draw", step.Test)
	of := func(id string) []instrument.Reading {
		k := slices.IndexFunc(step.Would, func(w adviser.Would) bool { return w.ID == id })
		require.GreaterOrEqual(t, k, 0, id)
		return step.Would[k].Shown
	}
	in, _ := instrument.Find("brine-draw")
	got := w.Journal[len(w.Journal)-1].Reading.Value
	plugged, sound := of("nozzle-plugged"), of(call.NoFault)
	require.LessOrEqual(t, plugged[0].Value, plugged[1].Value)
	require.Less(t, plugged[1].Value, sound[0].Value)
	require.InDelta(t, got, min(max(got, plugged[0].Value), plugged[1].Value), 3*in.Sigma(got))
	require.Less(t, got, sound[0].Value-float64(3*in.Sigma(sound[0].Value)))

	require.Len(t, step.Apart, 2)
	require.NotEqual(t, of(step.Apart[0]), of(step.Apart[1]), "it was made to tell them apart")

	clock := w.do(call.Act{Kind: call.Adjust, Part: plant.PartController})
	require.Empty(t, clock.Would, "no test")
	require.Empty(t, w.do(flow).Would, "somebody has worked at the unit")
}

// TestNobodyDrivesThereAgainForTheSameReading reads the drain in backwash and comes home:
// until somebody has worked at the unit it is worth nothing to go there for it again.
func TestNobodyDrivesThereAgainForTheSameReading(t *testing.T) {
	w := atTheMill(t)
	const backwash = 1
	flow := slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == "drain-flow" })
	ahead := func() float64 { w.Look(w.Ticks); return w.Ahead(backwash)[flow].Gain }
	require.Positive(t, ahead())
	w.do(call.Act{Kind: call.StartRegen})
	w.wait(2)
	w.do(call.Act{Kind: call.Test, ID: "drain-flow"})
	for w.Plant.Control.Regenerating {
		w.do(call.Act{Kind: call.Advance})
		w.wait(2)
	}
	require.Zero(t, ahead())
	w.do(call.Act{Kind: call.Adjust, Part: plant.PartController})
	require.Positive(t, ahead(), "somebody has worked at it")
}

// TestWhatIsAskedOrSeenInPassingTakesNoKit holds what tests cost beside their minutes.
func TestWhatIsAskedOrSeenInPassingTakesNoKit(t *testing.T) {
	w := atTheMill(t)
	w.Look(w.Ticks)
	for _, o := range w.Options() {
		in := &instrument.All()[o.Index]
		require.InDelta(t, map[bool]float64{true: 0.5, false: 2}[in.Minutes == 0.5], o.Minutes-o.Work(), 1e-9, in.ID)
	}
}
