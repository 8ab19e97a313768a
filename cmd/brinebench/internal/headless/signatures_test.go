package headless

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write testdata/signatures anew")

const (
	signatures  = "../../../../testdata/signatures/README.md"
	millHouse   = "../../../../scenarios/hard-water-at-the-mill-house.json"
	namingBegin = "## What is confused"
)

// TestSignaturesAreAsKept makes the tables anew. All of them take minutes; without
// BRINEBENCH_FULL only those that need no trials are compared.
func TestSignaturesAreAsKept(t *testing.T) {
	full := *update || os.Getenv("BRINEBENCH_FULL") != ""
	args := []string{millHouse, "--trials", "1"}
	if full {
		args = args[:1]
	}
	var out strings.Builder
	require.NoError(t, Signatures(args, &out))
	if *update {
		require.NoError(t, os.WriteFile(signatures, []byte(out.String()), 0o644))
	}
	data, err := os.ReadFile(signatures)
	require.NoError(t, err)
	kept, got := string(data), out.String()
	if !full {
		kept, _, _ = strings.Cut(kept, namingBegin)
		got, _, _ = strings.Cut(got, namingBegin)
	}
	require.Equal(t, kept, got, "if it was meant to change: go test ./cmd/brinebench/internal/headless -run Signatures -update")
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
