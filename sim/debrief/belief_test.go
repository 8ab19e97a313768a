package debrief

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/instrument"
)

func two(p float64) ([]shadow, belief) {
	shadows := []shadow{{hypothesis: hypothesis{cause: 0, prior: p}}, {hypothesis: hypothesis{cause: 1, prior: 1 - p}}}
	return shadows, prior(shadows)
}

func find(t *testing.T, id string) *instrument.Instrument {
	t.Helper()
	in, ok := instrument.Find(id)
	require.True(t, ok)
	return in
}

func TestAReadingMovesBeliefByBayesRule(t *testing.T) {
	_, b := two(0.25)
	look := find(t, "look-screen")
	want := []instrument.Reading{{Seen: "clear"}, {Seen: "blocked with grit"}}
	after := b.update(look, instrument.Reading{Seen: "clear"}, func(h int) *instrument.Reading { return &want[h] })
	require.InDelta(t, 0.25/(0.25+0.75*straySighting), after[0], 1e-12)
	require.InDelta(t, 1, after[0]+after[1], 1e-12)
}

func TestAReadingThatAllExplainAlikeMovesNothing(t *testing.T) {
	shadows, b := two(0.3)
	gauge := find(t, "pressure-in")
	same := instrument.Reading{Value: 4e5}
	require.InDelta(t, 0, gain(b, shadows, gauge, func(int) instrument.Reading { return same }, 2), 1e-12)
	after := b.update(gauge, instrument.Reading{Value: 3e5}, func(int) *instrument.Reading { return &same })
	require.InDelta(t, 0.3, after[0], 1e-12)
}

func TestAStrayReadingCannotSettleTheMatterAlone(t *testing.T) {
	_, b := two(0.5)
	gauge := find(t, "pressure-in")
	want := []instrument.Reading{{Value: 0}, {Value: 4e5}}
	after := b.update(gauge, instrument.Reading{Value: 4e5}, func(h int) *instrument.Reading { return &want[h] })
	require.Greater(t, after[0], 0.005, "somebody may have misread the gauge")
	require.Less(t, after[0], 0.02)
}

func TestATellingTestGainsNearlyTheWholeBit(t *testing.T) {
	shadows, b := two(0.5)
	look := find(t, "look-screen")
	want := []instrument.Reading{{Seen: "clear"}, {Seen: "blocked with grit"}}
	g := gain(b, shadows, look, func(h int) instrument.Reading { return want[h] }, 2)
	require.Greater(t, g, 0.55)
	require.LessOrEqual(t, g, 1.0)
}

func TestEntropyOfKnownDistributions(t *testing.T) {
	require.InDelta(t, 1, entropy([]float64{0.5, 0.5}), 1e-15)
	require.InDelta(t, 2, entropy([]float64{0.25, 0.25, 0.25, 0.25}), 1e-15)
	require.Zero(t, entropy([]float64{1, 0, 0}))
}

func TestPriorsSumToOneAndCoverTheCatalogue(t *testing.T) {
	sum, seen := 0.0, map[int]bool{}
	for _, h := range hypotheses() {
		sum += h.prior
		seen[h.cause] = true
	}
	require.InDelta(t, 1, sum, 1e-12)
	require.Len(t, seen, len(causes()))
}

func TestLikelihoodFallsWithDistance(t *testing.T) {
	in := find(t, "drain-flow")
	last := 2.0
	for _, flow := range []float64{1e-4, 1.05e-4, 1.2e-4, 1.6e-4, 3e-4} {
		l := likelihood(in, instrument.Reading{Value: flow}, instrument.Reading{Value: 1e-4})
		require.Less(t, l, last)
		require.GreaterOrEqual(t, l, strayReading)
		last = l
	}
}
