//go:build !js && !arm64

package debrief_test

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
)

var update = flag.Bool("update", false, "play all trainees over all calls and write testdata/trainees (minutes)")

const tablePath = "../../testdata/trainees/README.md"

// row is how the trainees fare on one call.
type row struct {
	name            string
	scores          []float64 // by trainee
	minutes, random float64   // to the verdict: of the expert, and of random order, the median
	unsafe          int       // acts of the expert
}

// play has all trainees take a call.
func play(t *testing.T, name string) row {
	t.Helper()
	randoms := 1 // of which the median counts
	if *update {
		randoms = 3
	}
	p := open(t, name)
	r := row{name: name}
	for _, x := range trainees {
		h := p.hand(5)
		x.play(h)
		require.True(t, h.call.Finished, "%s: %s", name, x.name)
		got := h.judged()
		r.scores = append(r.scores, got.Score)
		var items []string
		for _, it := range got.Items {
			require.GreaterOrEqual(t, it.Got, 0.0)
			require.LessOrEqual(t, it.Got, it.Max)
			items = append(items, fmt.Sprintf("%.1f", it.Got))
		}
		t.Logf("%-40s %-20s %5.1f  %s  %.0f min %v", name, x.name, got.Score, strings.Join(items, " "), h.call.Minutes(), got.Unsafe)
		if x.name == "expert" {
			r.minutes, r.unsafe = h.verdictMinutes(), len(got.Unsafe)
		}
	}
	var random []float64
	for seed := range uint64(randoms) {
		h := p.hand(5)
		h.wander(seed + 1)
		random = append(random, h.call.Minutes())
	}
	slices.Sort(random)
	r.random = random[randoms/2]
	return r
}

// check holds a row to what each trainee may score.
func (r *row) check(t *testing.T) {
	t.Helper()
	require.Zero(t, r.unsafe, "%s: the expert did something unsafe", r.name)
	score := map[string]float64{}
	for i, x := range trainees {
		score[x.name] = r.scores[i]
		require.GreaterOrEqual(t, r.scores[i], x.least, "%s: %s", r.name, x.name)
		require.LessOrEqual(t, r.scores[i], x.most, "%s: %s", r.name, x.name)
	}
	require.Less(t, score["wrong and confident"], score["wrong and unsure"]-5, r.name)
}

// TestTraineesAreRankedFairly plays ten scripted trainees on two calls; with -update,
// or BRINEBENCH_FULL=1, on all.
func TestTraineesAreRankedFairly(t *testing.T) {
	names := []string{"hard-water-at-the-mill-house", "half-soft-at-the-orchard"}
	if *update || os.Getenv("BRINEBENCH_FULL") != "" {
		names = all(t)
	}
	var rows []row
	for _, name := range names {
		rows = append(rows, play(t, name))
	}
	if *update {
		require.NoError(t, os.MkdirAll("../../testdata/trainees", 0o755))
		require.NoError(t, os.WriteFile(tablePath, []byte(table(rows)), 0o644))
	}
	for i := range rows {
		rows[i].check(t)
	}
	require.LessOrEqual(t, medianRatio(rows), 0.5, "minutes of the expert over those of random order")
}

// all are the scenarios, by ID.
func all(t *testing.T) (names []string) {
	t.Helper()
	entries, err := scenarios.FS.ReadDir(".")
	require.NoError(t, err)
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".json"); ok {
			names = append(names, name)
		}
	}
	return names
}

func medianRatio(rows []row) float64 {
	var ratios []float64
	for _, r := range rows {
		ratios = append(ratios, r.minutes/r.random)
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2]
}

func table(rows []row) string {
	var b strings.Builder
	b.WriteString("# Ten scripted trainees over the calls\n\n" +
		"Scores out of 100, written by `go test ./sim/debrief -run Trainees -update`; who they are: `sim/debrief/trainees_test.go`.\n" +
		"The last columns are the minutes to the verdict: of the expert, of tests in random order until one cause leads as\n" +
		"it does for the expert (median of three seeds), and their ratio.\n\n| call |")
	for _, x := range trainees {
		b.WriteString(" " + x.name + " |")
	}
	b.WriteString(" expert, min | random, min | ratio |\n|---|" + strings.Repeat("---:|", len(trainees)+3) + "\n")
	for _, r := range rows {
		b.WriteString("| " + r.name + " |")
		for _, s := range r.scores {
			fmt.Fprintf(&b, " %.0f |", s)
		}
		fmt.Fprintf(&b, " %.0f | %.0f | %.2f |\n", r.minutes, r.random, r.minutes/r.random)
	}
	fmt.Fprintf(&b, "\nMedian of the ratios: %.2f.\n", medianRatio(rows))
	return b.String()
}
