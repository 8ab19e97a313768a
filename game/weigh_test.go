package game

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestReadingSpeaksByTheOddsItMoves(t *testing.T) {
	for name, c := range map[string]struct {
		before, after float64
		says          string
	}{
		"from unlikely to likely":    {0.1, 0.6, "for"},
		"likely and now near sure":   {0.8, 0.95, "for"},
		"as likely as it was":        {0.4, 0.45, "neither"},
		"twice the odds":             {0.2, 1.0 / 3, "neither"},
		"fallen":                     {0.5, 0.05, "against"},
		"near sure and now open":     {0.99, 0.6, "against"},
		"never came to mind":         {0, 0, "neither"},
		"sure before and after":      {1, 1, "neither"},
		"out of the question now":    {0.3, 0, "against"},
		"out of the question before": {0, 0.3, "for"},
	} {
		require.Equal(t, c.says, Speaks(c.before, c.after), name)
	}
}

func TestBeliefInACauseCountsItAmongSeveral(t *testing.T) {
	first, second := &sim.Reading{Instrument: "salt-look", Tick: 10}, &sim.Reading{Instrument: "salt-look", Tick: 90}
	r := &sim.Report{
		Candidates: []sim.FaultInfo{{ID: "riser-seal"}, {ID: "salt-absent"}, {ID: "riser-seal+salt-absent"}},
		Steps: []sim.StepReport{
			{Reading: first, Belief: []float64{0.5, 0.5, 0}},
			{Belief: []float64{0.5, 0.5, 0}},
			{Reading: second, Belief: []float64{0.25, 0.5, 0.25}},
		},
	}
	before, after, found := Moved(r, second, "salt-absent")
	require.True(t, found)
	require.Equal(t, []float64{0.5, 0.75}, []float64{before, after})
	_, _, found = Moved(r, first, "salt-absent")
	require.False(t, found, "nothing is known of the belief before the first step")
	r.Told.Belief = []float64{0.75, 0.25}
	before, after, found = Moved(r, first, "salt-absent")
	require.True(t, found, "the customer's words came before it")
	require.Equal(t, []float64{0.25, 0.5}, []float64{before, after})
	_, _, found = Moved(r, &sim.Reading{Instrument: "salt-look", Tick: 11}, "salt-absent")
	require.False(t, found)
}

func TestTurnsOfACallAreStepsOfItsDebrief(t *testing.T) {
	act := func(k sim.ActionKind) sim.Entry { return sim.Entry{Action: sim.Action{Kind: k}} }
	stopped, cleaned, adjusted := act(sim.ActClean), act(sim.ActClean), act(sim.ActAdjust)
	stopped.Unsafe, cleaned.Mended, adjusted.Needless = true, true, true
	journal := []sim.Entry{
		act(sim.ActTest), act(sim.ActMishap), act(sim.ActDiagnose), stopped, adjusted, cleaned, act(sim.ActTest), act(sim.ActDiagnose),
	}
	named, mended := Turns(&sim.Report{Steps: make([]sim.StepReport, 7)}, journal)
	require.Equal(t, []int{1, 6}, named, "a mishap is no step")
	require.Equal(t, []int{4}, mended, "neither a stopped repair nor one that changed nothing")

	set := act(sim.ActAdjust)
	set.Action.Part, set.Mended = sim.PartController, true
	r := &sim.Report{Steps: make([]sim.StepReport, 1)}
	_, mended = Turns(r, []sim.Entry{set})
	require.Empty(t, mended, "the clock, after the plug was out")
	r.True = []sim.FaultInfo{{ID: "clock-wrong", Where: sim.PartController}}
	_, mended = Turns(r, []sim.Entry{set})
	require.Equal(t, []int{0}, mended, "the clock, which was the cause")

	named, mended = Turns(&sim.Report{Steps: make([]sim.StepReport, 8)}, journal)
	require.Empty(t, append(named, mended...), "of another call")
}
