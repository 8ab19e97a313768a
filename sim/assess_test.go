//go:build !js && !arm64

package sim_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

// One assessor, for all that is done at one unit, tells of a log what Judge tells,
// whatever it has judged before.
func TestAnAssessorJudgesLikeJudge(t *testing.T) {
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(t, err)
	const seed = 5
	a, err := sim.NewAssessor(mill, data, seed, nil)
	require.NoError(t, err)
	for _, name := range []string{"guesser", "expert"} {
		recording, err := os.ReadFile(filepath.Join("..", "testdata", "replays", name+".msgp"))
		require.NoError(t, err)
		log, err := sim.LogOf(recording)
		require.NoError(t, err)
		got, err := a.Judge(&log, nil)
		require.NoError(t, err)
		if name == "expert" {
			want := judge(t, name)
			want.Better, want.Expert = nil, sim.ExpertRun{}
			require.Equal(t, want, got)
		}
		f := a.Follow()
		for i, act := range log.Acts {
			require.NoError(t, f.Do(act), i)
			require.InDelta(t, 0.5, f.Belief(), 0.5)
		}
		require.NoError(t, f.RunTo(log.Ticks))
		require.Equal(t, log.Hash, f.Session().Hash())
		if name == "expert" {
			require.Greater(t, f.Belief(), 0.9)
		}
		again, err := a.Recording(&log)
		require.NoError(t, err)
		same, err := sim.LogOf(again)
		require.NoError(t, err)
		require.Equal(t, log, same)
		_, err = sim.Replay(again)
		require.NoError(t, err)
	}
}
