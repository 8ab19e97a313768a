package signature_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

const mill = "hard-water-at-the-mill-house.json"

// installation is that of a scenario, and the length of its history, s.
func installation(tb testing.TB, name string) (*plant.Model, float64) {
	tb.Helper()
	data, err := scenarios.FS.ReadFile(name)
	require.NoError(tb, err)
	f, err := scenario.Decode(name, data)
	require.NoError(tb, err)
	m, err := plant.New(f.Config())
	require.NoError(tb, err)
	return m, float64(f.HistoryDays) * unit.Day
}
