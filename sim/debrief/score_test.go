package debrief

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/adviser"
	"brinebench/sim/signature"
)

// TestATestThatIsNearlyTheBestCountsInFull holds economy to the share from which a test is as
// good as the best, and to proportion below it, by minutes.
func TestATestThatIsNearlyTheBestCountsInFull(t *testing.T) {
	step := func(ratio, minutes float64) Step {
		return Step{Step: adviser.Step{Ratio: ratio, Counts: true}, Minutes: minutes}
	}
	for _, row := range []struct {
		situation string
		steps     []Step
		points    float64
	}{
		{"the best each time", []Step{step(1, 3)}, 15},
		{"as good as the best", []Step{step(asGood, 3)}, 15},
		{"half as good as that", []Step{step(asGood/2, 3)}, 7.5},
		{"a long one that is worth nothing", []Step{step(1, 1), step(0, 3)}, 15.0 / 4},
		{"little promised and much told", []Step{{Step: adviser.Step{Ratio: 0.1, Told: 1, Counts: true}, Minutes: 3}}, 15 * hunch},
		{"little promised and some told", []Step{{Step: adviser.Step{Ratio: 0, Told: asGood / 2, Counts: true}, Minutes: 3}}, 7.5},
		{"more promised than told", []Step{{Step: adviser.Step{Ratio: asGood, Told: 0.1, Counts: true}, Minutes: 3}}, 15},
		{"one that was no test", []Step{step(-1, 60), step(asGood/2, 3)}, 7.5},
	} {
		v := &verdict{tests: len(row.steps), known: len(row.steps) - 1, support: 1, top: 1}
		require.InDelta(t, row.points, v.economy(&Result{Steps: row.steps}).Got, 1e-9, row.situation)
	}
}

// TestWhatWasSavedCountsAsFarAsTheVerdictIsSupported ends a search that was well begun at
// different degrees of support.
func TestWhatWasSavedCountsAsFarAsTheVerdictIsSupported(t *testing.T) {
	steps := []Step{{Step: adviser.Step{Ratio: 1, Counts: true}, Minutes: 3}}
	for support, points := range map[float64]float64{1: 15, speaks: 15, speaks / 2: 7.5, 0: 0} {
		v := &verdict{tests: 1, support: support, top: 1}
		require.InDelta(t, points, v.economy(&Result{Steps: steps}).Got, 1e-9, "support %v", support)
	}
}

// TestConfidenceIsHeldToTheReadings names one cause at different confidences: nothing earns
// more than what the readings say, and luck earns nothing.
func TestConfidenceIsHeldToTheReadings(t *testing.T) {
	causes := make([]float64, len(signature.Causes()))
	causes[0] = 0.3
	earns := func(sure float64) float64 {
		n := naming{ids: signature.Causes()[:1], sure: sure, causes: causes}
		points, _ := n.confidence(&Result{Steps: []Step{{}}, True: signature.Causes()[:1]})
		return points
	}
	for _, sure := range []float64{0, 0.1, 0.29, 0.31, 0.6, 0.9, 1} {
		require.Greater(t, earns(0.3), earns(sure), "%v", sure)
	}
	require.InDelta(t, 10*(1-0.3*0.04-0.7*0.64), earns(0.8), 1e-9)
}
