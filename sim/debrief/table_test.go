//go:build !js && !arm64

package debrief_test

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/call"
)

var (
	update   = flag.Bool("update", false, "play all trainees and write their rows of testdata/trainees (a minute for each call)")
	only     = flag.String("calls", "", "regular expression of the calls to play; all")
	expertOn = flag.Bool("expert", false, "play the expert alone and tell what it does")
)

const tablePath = "../../testdata/trainees/README.md"

// row is how the trainees fare on one call.
type row struct {
	name            string
	scores          []float64 // by trainee
	minutes, random float64   // to the verdict: of the expert, and of random order, the median
}

func (r *row) ratio() float64 { return r.minutes / r.random }

// play has all trainees take a call.
func play(t *testing.T, name string, randoms uint64) row {
	t.Helper()
	p := open(t, name)
	r := row{name: name}
	var random []float64 // minutes of random order
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
		switch x.name {
		case "expert":
			require.Empty(t, got.Unsafe, "%s: the expert", r.name)
			r.minutes = h.verdictMinutes()
		case "random":
			random = append(random, h.verdictMinutes())
		}
	}
	for seed := range randoms - 1 {
		h := p.hand(5)
		h.wander(seed + 2)
		random = append(random, h.call.Minutes())
	}
	slices.Sort(random)
	r.random = random[randoms/2]
	return r
}

// check holds a row to what each trainee may score.
func (r *row) check(t *testing.T) {
	t.Helper()
	score := map[string]float64{}
	for i, x := range trainees {
		score[x.name] = r.scores[i]
		require.GreaterOrEqual(t, r.scores[i], x.least, "%s: %s", r.name, x.name)
		require.LessOrEqual(t, r.scores[i], x.most, "%s: %s", r.name, x.name)
	}
	require.Less(t, score["wrong and confident"], score["wrong and unsure"]-5, r.name)
}

// mostOfRandom is the most that the expert may take of the minutes of random order,
// the median over calls.
const mostOfRandom = 0.5

// TestTraineesAreRankedFairly plays ten scripted trainees on two calls; with -update
// on all or on those that -calls names, and writes each row as it is known.
func TestTraineesAreRankedFairly(t *testing.T) {
	if !*update {
		for _, name := range []string{"hard-water-at-the-mill-house", "half-soft-at-the-orchard"} {
			r := play(t, name, 3)
			r.check(t)
			require.LessOrEqual(t, r.ratio(), mostOfRandom)
		}
		return
	}
	var writing sync.Mutex
	for _, name := range chosen(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := play(t, name, 3)
			writing.Lock()
			defer writing.Unlock()
			rows := slices.DeleteFunc(readTable(t), func(x row) bool { return x.name == name })
			require.NoError(t, os.WriteFile(tablePath, []byte(table(append(rows, r))), 0o644))
			r.check(t)
		})
	}
}

// TestTheTableOfTraineesIsOfTheseCalls holds the written table to the scenarios there
// are and to what trainees may score.
func TestTheTableOfTraineesIsOfTheseCalls(t *testing.T) {
	if *update {
		t.Skip("it is being written")
	}
	rows := readTable(t)
	var names []string
	for i := range rows {
		names = append(names, rows[i].name)
		rows[i].check(t)
	}
	require.Equal(t, all(t), names, "go test ./sim/debrief -timeout 0 -run Trainees -update -calls ID")
	require.LessOrEqual(t, medianRatio(rows), mostOfRandom, "minutes of the expert over those of random order")
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

// chosen are those that -calls names.
func chosen(t *testing.T) []string {
	t.Helper()
	want := regexp.MustCompile(*only)
	return slices.DeleteFunc(all(t), func(name string) bool { return !want.MatchString(name) })
}

func medianRatio(rows []row) float64 {
	var ratios []float64
	for _, r := range rows {
		ratios = append(ratios, r.ratio())
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2]
}

// table writes rows down, and what all of them come to.
func table(rows []row) string {
	slices.SortFunc(rows, func(a, b row) int { return strings.Compare(a.name, b.name) })
	var b strings.Builder
	b.WriteString("# Ten scripted trainees over the calls\n\n" +
		"Scores out of 100, written by `go test ./sim/debrief -run Trainees -update`; who they are: `sim/debrief/trainees_test.go`.\n" +
		"The last columns are the minutes to the verdict: of the expert, of tests in random order until one cause leads as\n" +
		"it does for the expert (median of three seeds; what takes more than twenty minutes is left to the end), and their\n" +
		"ratio.\n\n| call |")
	for _, x := range trainees {
		b.WriteString(" " + x.name + " |")
	}
	b.WriteString(" expert, min | random, min | ratio |\n|---|" + strings.Repeat("---:|", len(trainees)+3) + "\n")
	for _, r := range rows {
		b.WriteString("| " + r.name + " |")
		for _, s := range r.scores {
			fmt.Fprintf(&b, " %.1f |", s)
		}
		fmt.Fprintf(&b, " %.1f | %.1f | %.2f |\n", r.minutes, r.random, r.ratio())
	}
	b.WriteString("\n| trainee | least | most | may score |\n|---|---:|---:|---:|\n")
	for i, x := range trainees {
		least, most := 100.0, 0.0
		for _, r := range rows {
			least, most = min(least, r.scores[i]), max(most, r.scores[i])
		}
		fmt.Fprintf(&b, "| %s | %.1f | %.1f | %.0f to %.0f |\n", x.name, least, most, x.least, x.most)
	}
	fmt.Fprintf(&b, "\n%d calls. Median of the ratios: %.2f; it may be %.1f. Checked too: the expert does nothing unsafe, and who is wrong and confident\n"+
		"scores at least 5 less than who is wrong and unsure.\n", len(rows), medianRatio(rows), mostOfRandom)
	return b.String()
}

// readTable reads the rows of the written table.
func readTable(t *testing.T) (rows []row) {
	t.Helper()
	data, err := os.ReadFile(tablePath)
	require.NoError(t, err)
	for line := range strings.Lines(string(data)) {
		cells := strings.Split(strings.Trim(line, "| \n"), " | ")
		if len(cells) != len(trainees)+4 || cells[0] == "call" {
			continue
		}
		r := row{name: cells[0]}
		var numbers []float64
		for _, c := range cells[1:] {
			x, err := strconv.ParseFloat(c, 64)
			require.NoError(t, err, line)
			numbers = append(numbers, x)
		}
		r.scores, r.minutes, r.random = numbers[:len(trainees)], numbers[len(trainees)], numbers[len(trainees)+1]
		rows = append(rows, r)
	}
	return rows
}

// TestExpertAlone plays the expert alone on one call, or with -expert on those that
// -calls names, tells what it did and holds it to what it must score.
func TestExpertAlone(t *testing.T) {
	calls := []string{"white-kettles-over-the-bakery"}
	if *expertOn {
		calls = chosen(t)
	}
	for _, name := range calls {
		t.Run(name, func(t *testing.T) {
			h := open(t, name).hand(5)
			h.Play()
			got := h.judged()
			for i, s := range got.Steps {
				e := s.Entry
				t.Logf("%5.1f min  %s  %s", float64(e.Tick)*call.TickS/60, e.Text, h.Run().Reasons[i])
			}
			for _, it := range got.Items {
				t.Logf("%4.1f of %2.0f  %s: %s", it.Got, it.Max, it.Name, it.Reason)
			}
			t.Logf("EXPERT %-45s %5.1f  verdict after %.0f min, done after %.0f; %v", name, got.Score, h.verdictMinutes(), h.call.Minutes(), got.True)
			require.Empty(t, got.Unsafe)
			require.GreaterOrEqual(t, got.Score, trainees[0].least)
		})
	}
}
