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

	require.Len(t, demo.Would, len(demo.Reasons))
	told := 0
	for i, st := range r.Steps {
		switch {
		case st.Reading == nil:
			require.Empty(t, st.Would, st.Text)
			require.Empty(t, demo.Would[i], st.Text)
		case len(st.Would) > 0:
			require.Equal(t, "nozzle-plugged", st.Would[0].If[0].ID, "what was wrong, first")
			var all []string
			for _, w := range st.Would {
				for _, f := range w.If {
					require.NotContains(t, all, f.ID, "told once")
					all = append(all, f.ID)
				}
			}
			if told == 0 {
				require.Contains(t, all, sim.NoFault, "a sound unit, while it is thought of")
			}
			for _, id := range st.For[:min(1, len(st.For))] {
				require.Contains(t, all, id, "what it raised most: %s", st.Text)
			}
			require.Equal(t, st.Reading.Instrument, st.Would[0].Shown[0].Instrument)
			told++
		}
	}
	require.Greater(t, told, 2)

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
