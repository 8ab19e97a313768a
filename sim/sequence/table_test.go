package sequence_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/sequence"
	"brinebench/sim/unit"
)

var update = flag.Bool("update", false, "write the tables of testdata/sequence anew")

// keep holds a table of testdata/sequence to what came out.
func keep(t *testing.T, name, table string) {
	t.Helper()
	file := "../../testdata/sequence/" + strings.ReplaceAll(name, " ", "-") + ".md"
	if *update {
		require.NoError(t, os.MkdirAll("../../testdata/sequence", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(table), 0o644))
	}
	kept, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(kept), table, "if it was meant to change: go test ./sim/sequence -update")
}

// trial is a wrong setting beside the right one, with what the model says of it.
type trial struct {
	right, got    sequence.Trial
	told, reasons []string
}

func settingsTable(trials []trial) string {
	var b strings.Builder
	b.WriteString("# Twelve wrong settings of the seats\n\nTen minutes each, a bath tap running in the house, in the position and beside the right setting (in brackets); " +
		"a 9 in tank at 16 gpg, 58 psi, 12 °C. What a technician would expect follows from which places each seat joins (common practice, no source). " +
		"The model says what its plant did; the reason is what the passages alone say. Written by `go test ./sim/sequence -update`.\n\n" +
		"| position | setting | a technician expects | the model says | the reason |\n|---|---|---|---|---|\n")
	for i, r := range wrongSettings {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", r.stop, r.wrong, r.technician, strings.Join(trials[i].told, " "), strings.Join(trials[i].reasons, "; "))
	}
	b.WriteString("\n## What was measured\n\n| position | setting | house, gpm | hardness, gpg | chloride, g/L | drain, gpm | bed, gpm down | brine tank gives, gal |\n|---|---|---|---|---|---|---|---|\n")
	for i, r := range wrongSettings {
		pair := func(of func(t *sequence.Trial) float64, digits int) string {
			return fmt.Sprintf("%.*f (%.*f)", digits, of(&trials[i].got), digits, of(&trials[i].right))
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s |\n", r.stop, r.wrong,
			pair(func(t *sequence.Trial) float64 { return settled(t.HouseM3S / unit.GPM) }, 1), pair(func(t *sequence.Trial) float64 { return t.HardMolM3 / unit.GPG }, 1),
			pair(func(t *sequence.Trial) float64 { return t.SaltKgM3 }, 2), pair(func(t *sequence.Trial) float64 { return settled(t.DrainM3S / unit.GPM) }, 1),
			pair(func(t *sequence.Trial) float64 { return settled(t.BedM3S / unit.GPM) }, 1), pair(func(t *sequence.Trial) float64 { return settled(t.DrawnM3 / unit.USGallon) }, 1))
	}
	return b.String()
}

// settled leaves out what is too little to be shown, with its sign.
func settled(x float64) float64 {
	if x < 0.05 && x > -0.05 {
		return 0
	}
	return x
}

// program is one that was lived, with what a technician would expect of it.
type program struct {
	name, technician string
	sequence.Outcome
}

func programsTable(list []program) string {
	var b strings.Builder
	b.WriteString("# Programs on a spent bed\n\n1 ft³ of resin in a 9 in tank at 16 gpg, 58 psi, 12 °C, dose 6 lb; run to 1 gpg, regenerated once, and run to 1 gpg again. " +
		"Published for 6 lb: 20 kilograin (12VAC5-590-900 D, for warm water). Written by `go test ./sim/sequence -update`.\n\n" +
		"| program | regained, kgr | salt, lb | kgr per lb | water, gal | away, min | chloride at first, g/L | hard at first, gal | salt dissolved for the next, lb |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|\n")
	for _, p := range list {
		fmt.Fprintf(&b, "| %s | %.1f | %.1f | %.1f | %.0f | %.0f | %.2f | %.1f | %.1f |\n", p.name, p.RegainedEq/kilograin, p.SaltKg/unit.Pound,
			p.EqPerKg()/kilograin*unit.Pound, p.WaterM3/unit.USGallon, p.AwayS/unit.Minute, p.ChlorideKgM3, p.FirstHardM3/unit.USGallon, p.BrineKg/unit.Pound)
	}
	b.WriteString("\n## What a technician would expect\n\nCommon practice, no source.\n\n")
	for _, p := range list {
		fmt.Fprintf(&b, "- **%s.** %s\n", p.name, p.technician)
	}
	return b.String()
}
