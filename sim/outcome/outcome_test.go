package outcome_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/outcome"
	"brinebench/sim/repro"
	"brinebench/sim/sizing"
)

func run(tb testing.TB, j *sizing.Job, s *sizing.Sheet) outcome.Outcome {
	tb.Helper()
	o, ok, err := outcome.Run(j, s, nil)
	require.NoError(tb, err)
	require.True(tb, ok)
	require.Zero(tb, o.Unsolved)
	return o
}

func TestARunCanBeStoppedAndTellsHowFarItIs(t *testing.T) {
	j := sizing.Drawn(0)
	sol := sizing.Solve(j)
	var heard []float64
	_, ok, err := outcome.Run(j, &sol.Sheet, func(done float64) bool {
		heard = append(heard, done)
		return len(heard) < 5
	})
	require.NoError(t, err)
	require.False(t, ok)
	require.Len(t, heard, 5)
	require.IsIncreasing(t, heard)
	require.InDelta(t, 5.0/90, heard[4], 1e-12)
}

// The same unit comes to the same, to the bit, on every processor. A change that is meant
// to change it: take the new sum from the message.
func TestAnOutcomeKeepsItsBits(t *testing.T) {
	j := sizing.Drawn(5)
	sheet := sizing.Solve(j).Sheet
	o := run(t, j, &sheet)
	require.Equal(t, o, run(t, j, &sheet))
	h := repro.NewHash()
	h.Floats([]float64{o.HardM3, o.HouseM3, o.LeakMolM3, o.SaltKg, o.DrainM3, o.PeakLossPa, o.PeakLeftPa})
	require.Equal(t, uint64(0x9c8b6481fd573750), h.Sum(), "got %#x", h.Sum())
}

// Promised: two seconds in the browser; native is about a third of that time.
func BenchmarkSpeedNinetyDays(b *testing.B) {
	for _, c := range []struct {
		name string
		seed uint64
	}{{"mains", 3}, {"eight", 14}, {"well", 7}} {
		j := sizing.Drawn(c.seed)
		sol := sizing.Solve(j)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				run(b, j, &sol.Sheet)
			}
		})
	}
}
