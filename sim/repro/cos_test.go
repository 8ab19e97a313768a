package repro

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The standard library's cosine has its own reduction; the angle is taken within
// half a turn, where rounding it costs least.
func TestCosineIsTheStandardLibrarys(t *testing.T) {
	r := NewStream(3, "cosine")
	for range 20000 {
		x := between(&r, -0.5, 0.5)
		require.InDelta(t, math.Cos(2*math.Pi*x), CosTurns(x), 5e-16, "%v turns", x)
		whole := math.Floor(between(&r, -1e6, 1e6))
		x = math.Floor(x*0x1p20) / 0x1p20 // so that the sum is exact
		require.Equal(t, CosTurns(x), CosTurns(x+whole), "%v turns", x)
		require.Equal(t, CosTurns(x), CosTurns(-x))
	}
}

func TestCosineIsExactAtItsQuartersAndLimits(t *testing.T) {
	for x, want := range map[float64]float64{0: 1, 0.25: 0, 0.5: -1, 0.75: 0, 1: 1, 7.5: -1, 0x1p52: 1} {
		require.Equal(t, want, CosTurns(x)+0, "%v turns", x)
	}
	require.InDelta(t, 0.5, CosTurns(1.0/6), 2e-16)
	require.InDelta(t, math.Sqrt(3)/2, CosTurns(1.0/12), 2e-16)
	require.InDelta(t, math.Sqrt(2)/2, CosTurns(0.125), 2e-16)
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		require.True(t, math.IsNaN(CosTurns(x)))
	}
}

// The bits every machine has to give.
func TestCosineKeepsItsBits(t *testing.T) {
	h := NewHash()
	r := NewStream(7, "bits of the cosine")
	for range 20000 {
		h.Float64(CosTurns(between(&r, -3, 3)))
	}
	require.Equal(t, uint64(0x41a4a913140db9b8), h.Sum(), "got %#x", h.Sum())
}
