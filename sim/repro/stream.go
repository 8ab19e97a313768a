package repro

import "math"

// Stream is a named, seeded random stream. It is plain data: a copy goes on
// from the same place by itself. The zero value is not usable.
//
// Method: xoshiro256** (Blackman & Vigna, ACM Trans. Math. Softw. 47 (2021) 36),
// its state filled by splitmix64 from the seed and the name.
type Stream struct {
	S [4]uint64 // state of the generator, never all 0; written by Uint64 only
}

// NewStream returns the stream of that name under that seed. Streams of
// different names are independent for all practical purposes.
func NewStream(seed uint64, name string) Stream {
	h := NewHash()
	h.Uint64(seed)
	h.String(name)
	x := h.Sum()
	var s Stream
	for i := range s.S {
		s.S[i] = splitmix(&x)
	}
	return s
}

// splitmix advances x and returns the next number of splitmix64 (Steele, Lea &
// Flood, OOPSLA 2014).
func splitmix(x *uint64) uint64 {
	*x += 0x9e3779b97f4a7c15
	z := *x
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Uint64 returns the next 64 random bits.
func (r *Stream) Uint64() uint64 {
	s := &r.S
	u := s[1] * 5
	u = (u<<7 | u>>57) * 9
	t := s[1] << 17
	s[2] ^= s[0]
	s[3] ^= s[1]
	s[1] ^= s[2]
	s[0] ^= s[3]
	s[2] ^= t
	s[3] = s[3]<<45 | s[3]>>19
	return u
}

// Float64 returns a number evenly spread over 0 ≤ x < 1, a multiple of 2^-53.
func (r *Stream) Float64() float64 { return float64(float64(r.Uint64()>>11) * 0x1p-53) }

// Normal returns a normal deviate of mean 0 and standard deviation 1, by
// Marsaglia's polar method (SIAM Rev. 6 (1964) 260). The second deviate of each
// pair is let go, so that the state stays the generator's alone.
func (r *Stream) Normal() float64 {
	for {
		u := float64(2*r.Float64()) - 1
		v := float64(2*r.Float64()) - 1
		q := float64(u*u) + float64(v*v)
		if q > 0 && q < 1 {
			return float64(u * math.Sqrt(-2*Log(q)/q))
		}
	}
}
