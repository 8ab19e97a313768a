package sequence_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/plant"
	"brinebench/sim/sequence"
	"brinebench/sim/valve"
)

// The ways by the purpose of each position, as design 2 has the seats.
func TestTheWaterIsTracedFromPassageToPassage(t *testing.T) {
	in, out := []plant.Path{plant.Supply, plant.BypassIn}, []plant.Path{plant.BypassOut, plant.House}
	join := func(parts ...[]plant.Path) (list []plant.Path) {
		for _, p := range parts {
			list = append(list, p...)
		}
		return list
	}
	bed := []plant.Path{plant.InletSeat, plant.Bed, plant.Riser}
	for _, row := range []struct {
		stop, way string
		want      []plant.Path
	}{
		{"service", "house", join(in, bed, []plant.Path{plant.OutletSeat}, out)},
		{"service", "drain", nil},
		{"backwash", "house", join(in, []plant.Path{plant.PassSeat}, out)},
		{"backwash", "drain", join(in, []plant.Path{plant.UpflowSeat, plant.Riser, plant.Bed, plant.BackwashSeat, plant.Drain})},
		{"brine", "brine", []plant.Path{plant.BrineLine, plant.BrineSeat, plant.Discharge, plant.Bed, plant.Riser, plant.RinseSeat, plant.Drain}},
		{"brine", "drain", join(in, []plant.Path{plant.MotiveSeat, plant.Discharge, plant.Bed, plant.Riser, plant.RinseSeat, plant.Drain})},
		{"fast-rinse", "drain", join(in, bed, []plant.Path{plant.RinseSeat, plant.Drain})},
		{"refill", "tank", join(in, []plant.Path{plant.InletSeat, plant.Discharge, plant.BrineSeat, plant.BrineLine})},
		{"refill", "house", join(in, bed, []plant.Path{plant.OutletSeat}, out)},
	} {
		m, s, _ := bench(t, row.stop)
		s.HouseTap = 0.35
		for range 20 {
			m.Step(s, 1)
		}
		w, ok := sequence.WayNamed(row.way)
		require.True(t, ok)
		got := sequence.Trace(m, s, w)
		require.Equal(t, row.want, got, "%s: %s", row.stop, row.way)
		require.Equal(t, len(got), sequence.Agrees(got, row.want))
		if len(got) > 2 {
			require.Equal(t, 2, sequence.Agrees(append(got[:2:2], plant.RawTap), row.want))
		}
	}
}

func TestEveryExerciseCanBeAnswered(t *testing.T) {
	seen := map[string]bool{}
	for _, id := range valve.ProgramIDs() {
		p, _ := valve.ProgramNamed(id)
		for _, kind := range sequence.Kinds() {
			for _, e := range sequence.All(kind, &p) {
				require.False(t, seen[e.ID()], e.ID())
				seen[e.ID()] = true
				_, known := sequence.WayNamed(e.Way)
				require.Equal(t, kind == sequence.Path, known, e.ID())
			}
		}
	}
	for _, id := range []string{"cycle-name-standard-service", "cycle-path-standard-brine-drain", "cycle-whole-standard", "cycle-lobes-counter-current-refill"} {
		require.True(t, seen[id], id)
	}
}
