package signature

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/instrument"
)

// two is a belief in two causes with one unit each.
func two(p float64) *Belief {
	return NewBelief([]Hypothesis{{Cause: 0, Prior: p, Lo: 0, Hi: 0}, {Cause: 1, Prior: 1 - p, Lo: 1, Hi: 1}})
}

func wants(list ...instrument.Reading) Wants {
	return func(u int) (instrument.Reading, bool) { return list[u], true }
}

func find(t *testing.T, id string) *instrument.Instrument {
	t.Helper()
	in, ok := instrument.Find(id)
	require.True(t, ok)
	return in
}

var (
	clean   = instrument.Reading{Seen: "clear"}
	blocked = instrument.Reading{Seen: "blocked with grit"}
)

func TestAReadingMovesBeliefByBayesRule(t *testing.T) {
	b := two(0.25)
	b.Update(find(t, "look-screen"), clean, wants(clean, blocked))
	require.InDelta(t, 0.25/(0.25+0.75*strayLook), b.P[0], 1e-12)
	require.InDelta(t, 1, b.P[0]+b.P[1], 1e-12)
}

func TestAReadingThatAllExplainAlikeMovesNothing(t *testing.T) {
	b, gauge := two(0.3), find(t, "pressure-in")
	same := instrument.Reading{Value: 4e5}
	require.Zero(t, b.Gain(gauge, wants(same, same)))
	b.Update(gauge, instrument.Reading{Value: 3e5}, wants(same, same))
	require.InDelta(t, 0.3, b.P[0], 1e-12)
}

func TestAStrayReadingCannotSettleTheMatterAlone(t *testing.T) {
	b := two(0.5)
	b.Update(find(t, "pressure-in"), instrument.Reading{Value: 4e5}, wants(instrument.Reading{}, instrument.Reading{Value: 4e5}))
	require.Greater(t, b.P[0], 0.005, "somebody may have misread the gauge")
	require.Less(t, b.P[0], 0.02)
}

func TestATellingTestGainsNearlyTheWholeBit(t *testing.T) {
	g := two(0.5).Gain(find(t, "look-screen"), wants(clean, blocked))
	require.Greater(t, g, 0.9)
	require.LessOrEqual(t, g, 1.0)
}

func TestEntropyOfKnownDistributions(t *testing.T) {
	require.InDelta(t, 1, Entropy([]float64{0.5, 0.5}), 1e-15)
	require.InDelta(t, 2, Entropy([]float64{0.25, 0.25, 0.25, 0.25}), 1e-15)
	require.Zero(t, Entropy([]float64{1, 0, 0}))
}

func TestLikelihoodFallsWithDistanceFromWhatLiesBetweenTheSeverities(t *testing.T) {
	in := find(t, "drain-flow")
	of := func(flow float64) float64 {
		return Likelihood(in, instrument.Reading{Value: flow}, 0, 0, instrument.Reading{Value: 1e-4}, instrument.Reading{Value: 8e-5})
	}
	last := of(9e-5)
	require.Greater(t, last, 0.6)
	require.Less(t, last, 1.0, "a cause must not gain by being vague")
	require.InDelta(t, last, of(1e-4), 0.05)
	require.InDelta(t, last, of(8e-5), 0.05)
	for _, flow := range []float64{1.05e-4, 1.2e-4, 1.6e-4, 3e-4} {
		l := of(flow)
		require.Less(t, l, last)
		require.GreaterOrEqual(t, l, strayReading)
		last = l
	}
	require.Less(t, of(6e-5), 0.3)
}

func TestWhatIsSeenAtEitherSeverityFits(t *testing.T) {
	in := find(t, "drain-look")
	seen := func(text string) instrument.Reading { return instrument.Reading{Seen: text} }
	require.Equal(t, 1.0, Likelihood(in, seen("a trickle"), 0, 0, seen("a thin stream"), seen("a trickle")))
	require.Equal(t, straySighting, Likelihood(in, seen("a gush"), 0, 0, seen("a thin stream"), seen("a trickle")))
}

func TestADroppedHypothesisKeepsItsBelief(t *testing.T) {
	b := NewBelief([]Hypothesis{{0, 0.5, 0, 0, 0}, {1, 0.49995, 1, 1, 0}, {2, 0.00005, 2, 2, 0}})
	b.Drop(1e-3)
	require.False(t, b.Follows(2))
	require.True(t, b.Follows(0))
	b.Update(find(t, "look-screen"), clean, func(u int) (instrument.Reading, bool) {
		require.NotEqual(t, 2, u, "nobody asks it any more")
		return []instrument.Reading{clean, blocked}[u], true
	})
	require.InDelta(t, 0.00005, b.P[2], 1e-15)
	require.InDelta(t, 1, b.P[0]+b.P[1]+b.P[2], 1e-12)
	require.Greater(t, b.P[0], 0.98)
}

func TestAComplaintSpeaksForThoseOfWhomItIsSo(t *testing.T) {
	// The first cause is so at both of its severities, the second at one, the third at none.
	b := NewBelief([]Hypothesis{{0, 0.25, 0, 0, 0}, {1, 0.25, 1, 2, 0}, {2, 0.5, 3, 3, 0}})
	b.Hear(0.15, func(u int) bool { return u < 2 })
	all := 0.25 + 0.25*(1+strayTold)/2 + 0.5*strayTold
	require.InDelta(t, 0.25/all, b.P[0], 1e-15)
	require.InDelta(t, 0.25*(1+strayTold)/2/all, b.P[1], 1e-15)
	require.InDelta(t, 0.5*strayTold/all, b.P[2], 1e-15)
	require.InDelta(t, math.Log(0.1*strayTold)-math.Log(all), b.Weight(0.1, math.Log(strayTold)), 1e-12, "what comes to mind later hears it too")
}

func TestAReadingOfWhatChangesMeanwhileMayBeOfAnyMoment(t *testing.T) {
	in, ok := instrument.Find("hardness-drain")
	require.True(t, ok)
	b := NewBelief([]Hypothesis{{Cause: 0, Prior: 0.5, Lo: 0, Hi: 0}, {Cause: 1, Prior: 0.5, Lo: 1, Hi: 1}})
	shows := func(molM3 ...float64) Wants {
		return func(u int) (instrument.Reading, bool) { return instrument.Reading{Value: molM3[u]}, true }
	}
	// The first falls from 40 to 1 while the test is made, the second stands at 1.
	b.Update(in, instrument.Reading{Value: 9}, shows(1, 1), shows(40, 1))
	require.Greater(t, b.ByCause()[0], 0.9)
}

func TestAWellsPumpExcusesAFlowAndNotASetting(t *testing.T) {
	const swing = 0.2
	for _, row := range []struct {
		instrument string
		shown      float64 // by the library; a fifth more is read
		excused    bool
	}{
		{"drain-flow", 1.4e-4, true},
		{"pressure-running", 3.5e5, true},
		{"hardness-raw", 3, false},
		{"set-hardness", 3, false},
		{"bed-depth", 0.7, false},
	} {
		in, ok := instrument.Find(row.instrument)
		require.True(t, ok, row.instrument)
		of := func(swing float64) float64 {
			return Likelihood(in, instrument.Reading{Value: 1.2 * row.shown}, 0, swing, instrument.Reading{Value: row.shown})
		}
		if row.excused {
			require.Greater(t, of(swing), 2*of(0), row.instrument)
		} else {
			require.Equal(t, of(0), of(swing), row.instrument)
		}
	}
}
