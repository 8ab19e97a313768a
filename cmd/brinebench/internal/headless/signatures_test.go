package headless

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/signature"
)

var update = flag.Bool("update", false, "write testdata/signatures anew")

const (
	signatures = "../../../../testdata/signatures/"
	calls      = "../../../../scenarios/"
	millHouse  = calls + "hard-water-at-the-mill-house.json"
)

// studied are the installations that are kept, the first in full.
var studied = []string{
	millHouse, calls + "long-showers-at-the-vicarage.json",
	signatures + "frost.json", signatures + "counter-current.json", signatures + "well.json",
}

const foreword = `# Signatures

What every fault would show on some installations, which faults are confused there, and how well they are named: for the
first in full, for the others in brief. Each part is what ` + "`brinebench signatures [--brief] SCENARIO.json`" + ` writes; see
` + "`go test ./cmd/brinebench/internal/headless -run Signatures -update`" + `. Of the pairs that stay confused the first figure is
that with all instruments and parts opened, the second that of an unopened unit; so of the shares that are named.

| installation | units | confused pairs | named first, % | first or second, % |
|---|---|---|---|---|
`

// row is a study's line in the table of all.
func (s *study) row() string {
	all, shut := total(s.opened.named), total(s.unopened.named)
	return fmt.Sprintf("| %s | %d | %d, %d | %.1f, %.1f | %.1f, %.1f |\n", s.title, len(s.lib.Units), len(s.opened.pairs), len(s.unopened.pairs),
		percent(all.First, all), percent(shut.First, shut), percent(all.Second, all), percent(shut.Second, shut))
}

// readme is the whole file.
func readme(t *testing.T, of func(file string) *study) string {
	rows, parts := "", ""
	for i, file := range studied {
		s := of(file)
		var out strings.Builder
		require.NoError(t, s.write(&out, i > 0))
		rows += s.row()
		parts += "\n" + out.String()
	}
	return foreword + rows + strings.ReplaceAll(parts, "\n#", "\n##")
}

// TestSignaturesAreAsKept makes a sample of the tables anew: what a few faults move
// on each installation. All of them take many minutes, and only -update makes them.
func TestSignaturesAreAsKept(t *testing.T) {
	const again = "if it was meant to change: go test ./cmd/brinebench/internal/headless -run Signatures -update -timeout 60m"
	file := signatures + "README.md"
	if *update {
		got := readme(t, func(file string) *study {
			site, err := installationOf(file)
			require.NoError(t, err)
			return site.study(1000)
		})
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	_, kept, _ := strings.Cut(string(data), "\n##")
	for _, file := range studied {
		site, err := installationOf(file)
		require.NoError(t, err)
		_, kept, _ = strings.Cut(kept, site.file.Title)
		for _, line := range site.sample() {
			require.Contains(t, kept, line, again)
		}
	}
}

// sample are the lines of what a sample of faults moves.
func (x *installation) sample() []string {
	past, tour := signature.NewPast(x.file, x.model), x.model.Coarse()
	units := signature.Units(x.model.Config())
	lib := &signature.Library{}
	for _, u := range append(middles(units, sampled), len(units)-1) {
		lib.Units = append(lib.Units, units[u])
		lib.Signatures = append(lib.Signatures, signature.Of(tour, past.Live(&units[u])))
	}
	var out strings.Builder
	t := tables{out: &out, study: &study{lib: lib}, causes: signature.Causes()}
	t.moves(1)
	return strings.Split(strings.Split(out.String(), "```\n")[1], "\n")
}

func TestSignaturesRefuseBadArguments(t *testing.T) {
	for _, row := range []struct {
		args []string
		why  string
	}{
		{nil, "no scenario file"},
		{[]string{millHouse, "--trials", "0"}, "--trials"},
		{[]string{"missing.json"}, "missing.json"},
	} {
		var out strings.Builder
		require.ErrorContains(t, Signatures(row.args, &out), row.why)
	}
}
