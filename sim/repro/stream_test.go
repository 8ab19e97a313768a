package repro

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// First numbers of the authors' reference code, as other libraries' tests carry
// them; from memory.
func TestGeneratorsGiveTheirPublishedNumbers(t *testing.T) {
	r := Stream{S: [4]uint64{1, 2, 3, 4}}
	for _, want := range []uint64{11520, 0, 1509978240, 1215971899390074240} {
		require.Equal(t, want, r.Uint64())
	}
	x := uint64(1234567)
	for _, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		require.Equal(t, want, splitmix(&x))
	}
}

func TestStreamsDependOnSeedAndName(t *testing.T) {
	seen := map[uint64]bool{}
	for seed := range uint64(10) {
		for _, name := range []string{"", "household", "instrument"} {
			s := NewStream(seed, name)
			twin := s
			u := s.Uint64()
			require.Equal(t, u, twin.Uint64())
			require.False(t, seen[u])
			seen[u] = true
		}
	}
}

func TestDeviatesHaveTheirMoments(t *testing.T) {
	const n = 200000
	s := NewStream(3, "moments")
	var u1, u2, n1, n2, n4 float64
	for range n {
		u, z := s.Float64(), s.Normal()
		require.True(t, u >= 0 && u < 1)
		u1, u2 = u1+u, u2+u*u
		n1, n2, n4 = n1+z, n2+z*z, n4+z*z*z*z
	}
	// Within 5 standard errors of the mean, variance and fourth moment.
	se := 5 / math.Sqrt(n)
	require.InDelta(t, 0.5, u1/n, se*math.Sqrt(1.0/12))
	require.InDelta(t, 1.0/3, u2/n, se*math.Sqrt(4.0/45))
	require.InDelta(t, 0, n1/n, se)
	require.InDelta(t, 1, n2/n, se*math.Sqrt(2))
	require.InDelta(t, 3, n4/n, se*math.Sqrt(96))
}

func TestHashIsFNV1a(t *testing.T) {
	h, std := NewHash(), fnv.New64a()
	h.Uint64(0x0123456789abcdef)
	h.Float64(-1.5)
	h.String("seat")
	h.Bool(true)
	var b []byte
	b = binary.LittleEndian.AppendUint64(b, 0x0123456789abcdef)
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(-1.5))
	b = binary.LittleEndian.AppendUint64(b, 4)
	b = append(b, "seat\x01"...)
	_, _ = std.Write(b)
	require.Equal(t, std.Sum64(), h.Sum())
}

func TestHashTellsStatesApart(t *testing.T) {
	sum := func(put func(*Hash)) uint64 {
		h := NewHash()
		put(&h)
		return h.Sum()
	}
	seen := map[uint64]bool{}
	for _, put := range []func(*Hash){
		func(*Hash) {},
		func(h *Hash) { h.Float64(0) },
		func(h *Hash) { h.Float64(math.Copysign(0, -1)) },
		func(h *Hash) { h.Floats([]float64{1, 2}); h.Floats(nil) },
		func(h *Hash) { h.Floats([]float64{1}); h.Floats([]float64{2}) },
		func(h *Hash) { h.String("ab"); h.String("c") },
		func(h *Hash) { h.String("a"); h.String("bc") },
		func(h *Hash) { h.Bool(true) },
		func(h *Hash) { h.Bool(false) },
		func(h *Hash) { h.Int64(-1) },
		func(h *Hash) { h.Int64(1) },
	} {
		u := sum(put)
		require.False(t, seen[u])
		seen[u] = true
	}
}

func TestNothingAllocates(t *testing.T) {
	xs := []float64{1, 2, 3}
	require.Zero(t, testing.AllocsPerRun(10, func() {
		s := NewStream(1, "x")
		h := NewHash()
		h.Floats(xs)
		h.Float64(Pow(s.Float64(), 2) + Exp(s.Normal()))
	}))
}
