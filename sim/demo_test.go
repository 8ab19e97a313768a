//go:build !js && !arm64

package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

// TestTheExpertIsShownAtWork demonstrates a call and judges it.
func TestTheExpertIsShownAtWork(t *testing.T) {
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(t, err)
	last := 0.0
	demo, err := sim.Demonstrate(mill, data, 5, func(done float64) {
		require.GreaterOrEqual(t, done, last)
		last = done
	})
	require.NoError(t, err)
	require.Equal(t, 1.0, last)

	r, err := sim.Judge(demo.Recording, nil)
	require.NoError(t, err)
	require.Len(t, demo.Reasons, len(r.Steps), "a reason for each act")
	for i, reason := range demo.Reasons {
		require.NotEmpty(t, reason, r.Steps[i].Text)
	}
	require.Greater(t, r.Score, 95.0)
	require.Greater(t, r.Expert.Score, 95.0, "the same expert in the debrief")
	require.NotEmpty(t, r.Better)
	require.Empty(t, r.Unsafe)
	require.Equal(t, "nozzle-plugged", r.Named.ID)

	ruledOut := 0
	for _, st := range r.Steps {
		ruledOut += len(st.Against)
		if st.Reading == nil {
			require.Empty(t, st.Against, st.Text)
			require.Empty(t, st.For, st.Text)
		}
	}
	require.Greater(t, ruledOut, 5, "causes that one reading or another all but ruled out")
}
