package fault_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
)

func TestEveryFaultIsAChangeOfConditionAndMendable(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range fault.Catalogue() {
		t.Run(f.ID, func(t *testing.T) {
			require.False(t, seen[f.ID], "named once")
			seen[f.ID] = true
			require.NotEmpty(t, f.Name)
			require.Positive(t, f.Prior)
			require.NotEmpty(t, f.Severities)
			c := plant.Healthy()
			f.Apply(&c, 0)
			require.Equal(t, plant.Healthy(), c, "severity 0 changes nothing")
			require.Empty(t, fault.Wrong(c))
			for _, severity := range append([]float64{1}, f.Severities...) {
				c = plant.Healthy()
				f.Apply(&c, severity)
				require.NotEqual(t, plant.Healthy(), c)
				wrong := fault.Wrong(c)
				require.Len(t, wrong, 1, "no other fault changes the same field")
				require.Equal(t, f.ID, wrong[0].ID)
				fault.Replace(&c, f.Where)
				require.Equal(t, plant.Healthy(), c, "a new part cures")
			}
		})
	}
}

func TestRepairOfAnotherPartDoesNotCure(t *testing.T) {
	for _, f := range fault.Catalogue() {
		for _, other := range fault.Catalogue() {
			if other.Where == f.Where {
				continue
			}
			c := plant.Healthy()
			f.Apply(&c, 0.7)
			bad := c
			fault.Replace(&c, other.Where)
			require.Equal(t, bad, c, "%s by a new %s", f.ID, other.Where)
		}
	}
}

func TestCleaningDoesNotMendWear(t *testing.T) {
	c := plant.Healthy()
	f, ok := fault.Find("pass-seat-leak")
	require.True(t, ok)
	f.Apply(&c, 1)
	worn := c
	fault.Clean(&c, f.Where)
	require.Equal(t, worn, c)
}

func TestUnknownFaultIsNotFound(t *testing.T) {
	_, ok := fault.Find("gremlins")
	require.False(t, ok)
}
