//go:build !js

package study_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/study"
)

// The peer is ts-fsrs 5.4.2 from npm, the scheduler as the Open Spaced Repetition
// project publishes it for browsers, without scatter and without steps of minutes.
// It rounds what it keeps to eight decimals.

// askPeer lets the peer schedule histories of [second, grade]. It is installed
// through the ordinary npm client, at the version and of the content that the
// lock file names.
func askPeer(t *testing.T, histories [][][2]int64) [][][5]float64 {
	t.Helper()
	if os.Getenv("BRINEBENCH_FULL") == "" {
		t.Skip("skipped: make test runs this, with node and npm")
	}
	dir := filepath.Join("..", "..", "build", "peer-study")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, name := range []string{"package.json", "package-lock.json", "review.js"} {
		text, err := os.ReadFile(filepath.Join("testdata", "peer", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "ts-fsrs", "package.json")); err != nil {
		npm := exec.Command("npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund")
		npm.Dir = dir
		out, err := npm.CombinedOutput()
		require.NoError(t, err, "npm: %s", out)
	}
	text, err := json.Marshal(histories)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "histories.json")
	require.NoError(t, os.WriteFile(file, text, 0o644))
	node := exec.Command("node", "review.js", file)
	node.Dir = dir
	var complaints bytes.Buffer
	node.Stderr = &complaints
	out, err := node.Output()
	require.NoError(t, err, "node: %s", complaints.String())
	var said struct {
		Version string
		Cards   [][][5]float64
	}
	require.NoError(t, json.Unmarshal(out, &said))
	require.Equal(t, "v5.4.2 using FSRS-6.0", said.Version)
	require.Len(t, said.Cards, len(histories))
	return said.Cards
}

// scoreOf is a score that is graded so.
var scoreOf = map[study.Grade]float64{study.Again: 30, study.Hard: 60, study.Good: 80, study.Easy: 95}

// A history is of up to fifteen plays, hours, weeks or months apart.
func randomHistory(r *rand.Rand) [][2]int64 {
	second := 1767225600 + r.Int64N(86400)
	grades := []study.Grade{study.Again, study.Hard, study.Good, study.Good, study.Good, study.Easy}
	history := make([][2]int64, 1+r.IntN(15))
	for i := range history {
		history[i] = [2]int64{second, int64(grades[r.IntN(len(grades))])}
		longest := []int64{86400, 30 * 86400, 400 * 86400}[r.IntN(3)]
		second += 300 + r.Int64N(longest)
	}
	return history
}

func TestRefreshersFallOnThePeersDays(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 21))
	histories := make([][][2]int64, 500)
	for i := range histories {
		histories[i] = randomHistory(r)
	}
	plays, lapses := 0, 0
	worstS, worstD := 0.0, 0.0
	for i, theirs := range askPeer(t, histories) {
		var p study.Progress
		for j, review := range histories[i] {
			p.Add(study.Play{Call: "a", StartedS: review[0], EndedS: review[0], Score: scoreOf[study.Grade(review[1])]})
			ours, want := p.Card("a"), theirs[j]
			require.Equal(t, want[2], float64(ours.DueS), "due after review %d of %v", j, histories[i])
			require.Equal(t, want[3], float64(ours.Reps))
			require.Equal(t, want[4], float64(ours.Lapses))
			offS := math.Abs(ours.Stability-want[0]) / max(1, want[0])
			offD := math.Abs(ours.Difficulty - want[1])
			require.LessOrEqual(t, max(offS, offD), 1e-6, "review %d of %v: %v, the peer %v", j, histories[i], ours, want)
			worstS, worstD = max(worstS, offS), max(worstD, offD)
			plays++
			lapses = max(lapses, ours.Lapses)
		}
	}
	require.Greater(t, lapses, 3)
	t.Logf("%d histories, %d plays: stability within %.1g of its value or of a day, difficulty within %.1g, every due second the same",
		len(histories), plays, worstS, worstD)
}
