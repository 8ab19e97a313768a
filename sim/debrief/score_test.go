package debrief

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/adviser"
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
		{"one that was no test", []Step{step(-1, 60), step(asGood/2, 3)}, 7.5},
	} {
		v := &verdict{tests: len(row.steps), known: len(row.steps) - 1, support: 1, top: 1}
		require.InDelta(t, row.points, v.economy(&Result{Steps: row.steps}).Got, 1e-9, row.situation)
	}
}
