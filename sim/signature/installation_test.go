package signature_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

const mill = "hard-water-at-the-mill-house.json"

// installation is a scenario and its plant.
func installation(tb testing.TB, name string) (*scenario.File, *plant.Model) {
	tb.Helper()
	data, err := scenarios.FS.ReadFile(name)
	require.NoError(tb, err)
	f, err := scenario.Decode(name, data)
	require.NoError(tb, err)
	m, err := plant.New(f.Config())
	require.NoError(tb, err)
	return f, m
}
