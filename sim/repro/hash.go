package repro

import "math"

// Hash collects a 64-bit FNV-1a hash of a state, value by value in an order the
// caller keeps. Numbers count as their 8 bytes, lowest first; a double as its
// bits, so that 0 and -0 differ. It guards against differences, not attackers.
type Hash struct{ sum uint64 }

// NewHash returns the hash of nothing.
func NewHash() Hash { return Hash{0xcbf29ce484222325} }

// Sum returns the hash of all that was put in.
func (h *Hash) Sum() uint64 { return h.sum }

// Uint64 puts in x.
func (h *Hash) Uint64(x uint64) {
	s := h.sum
	for range 8 {
		s = (s ^ x&0xff) * fnvPrime
		x >>= 8
	}
	h.sum = s
}

const fnvPrime = 0x100000001b3

// Int64 puts in x.
func (h *Hash) Int64(x int64) { h.Uint64(uint64(x)) }

// Float64 puts in the bits of x.
func (h *Hash) Float64(x float64) { h.Uint64(math.Float64bits(x)) }

// Floats puts in the length of x, then its elements.
func (h *Hash) Floats(x []float64) {
	h.Uint64(uint64(len(x)))
	for _, v := range x {
		h.Float64(v)
	}
}

// Bool puts in one byte, 1 or 0.
func (h *Hash) Bool(x bool) {
	b := uint64(0)
	if x {
		b = 1
	}
	h.sum = (h.sum ^ b) * fnvPrime
}

// String puts in the length of x, then its bytes.
func (h *Hash) String(x string) {
	h.Uint64(uint64(len(x)))
	for i := range len(x) {
		h.sum = (h.sum ^ uint64(x[i])) * fnvPrime
	}
}
