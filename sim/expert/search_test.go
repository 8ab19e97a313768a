package expert

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

func TestOneVerdictOnTopOfAnotherIsTold(t *testing.T) {
	for _, row := range []struct{ situation, a, b, on, under string }{
		{"two causes", "screen-plugged", "nozzle-plugged", "", ""},
		{"one beside the other", "screen-plugged", "nozzle-plugged+screen-plugged", "nozzle-plugged", "screen-plugged"},
		{"the likelier one is both", "nozzle-plugged+screen-plugged", "nozzle-plugged", "screen-plugged", "nozzle-plugged"},
		{"two beside one", "a+b+c", "b", "a+c", "b"},
		{"pairs that share one", "a+b", "a+c", "", ""},
		{"a pair and another cause", "a+b", "c", "", ""},
	} {
		on, under := besides(row.a, row.b)
		require.Equal(t, [2]string{row.on, row.under}, [2]string{on, under}, row.situation)
	}
}

// TestWhatLiesInTheHouseHasATestThatShowsIt asks that of every such cause.
func TestWhatLiesInTheHouseHasATestThatShowsIt(t *testing.T) {
	houses := 0
	for _, f := range fault.Catalogue() {
		if f.Where == plant.PartHouse {
			houses++
			_, ok := instrument.Find(seenBy[f.ID])
			require.True(t, ok, f.ID)
		}
	}
	require.Len(t, seenBy, houses)
}
