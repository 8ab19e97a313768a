// Package repro holds what must give the same bits on every machine: the
// elementary functions, the random streams and the state hash.
//
// The functions of package math differ in the last bit between machines, some
// of which also fuse a*b+c into one rounding. Everything here is plain + - * /
// on rounded doubles: each product that is added is wrapped in float64(), which
// the language defines as a rounding that forbids the fusing. A product that is
// returned is wrapped too, because an inlined caller may go on to add it.
package repro

import "math"

const (
	ln2Hi  = 6.93147180369123816490e-01 // ln 2, its low 32 bits clear, so that k·ln2Hi is exact
	ln2Lo  = 1.90821492927058770002e-10 // the rest of ln 2
	invLn2 = 1.44269504088896338700e+00

	expMax = 7.09782712893383973096e+02  // above it Exp overflows
	expMin = -7.45133219101941108420e+02 // below it Exp is 0
)

// Exp returns e to the power x, within 1 unit in the last place, for any x;
// NaN only of NaN.
//
// Method: the argument is reduced by a multiple of ln 2, the remainder takes
// the rational approximation of FreeBSD's msun e_exp.c (Sun Microsystems 1993).
func Exp(x float64) float64 {
	switch {
	case x != x:
		return x
	case x > expMax:
		return math.Inf(1)
	case x < expMin:
		return 0
	}
	k := math.Floor(float64(invLn2*x) + 0.5)
	hi := x - float64(k*ln2Hi)
	lo := float64(k * ln2Lo)
	return scale(expReduced(hi, lo), int(k))
}

// expReduced returns exp(hi-lo) for |hi-lo| ≤ 0.35.
func expReduced(hi, lo float64) float64 {
	const (
		p1 = 1.66666666666666019037e-01
		p2 = -2.77777777770155933842e-03
		p3 = 6.61375632143793436117e-05
		p4 = -1.65339022054652515390e-06
		p5 = 4.13813679705723846039e-08
	)
	r := hi - lo
	t := float64(r * r)
	p := p4 + float64(t*p5)
	p = p3 + float64(t*p)
	p = p2 + float64(t*p)
	p = p1 + float64(t*p)
	c := r - float64(t*p)
	s := quickSum(1, hi)
	return s.hi + (s.lo + (float64(r*c)/(2-c) - lo))
}

// scale returns y·2^k for y near 1, rounding once where the result is subnormal.
func scale(y float64, k int) float64 {
	switch {
	case k > 1023:
		return float64(y * 2 * pow2(k-1))
	case k < -1021:
		return float64(y * pow2(k+64) * pow2(-64))
	}
	return float64(y * pow2(k))
}

// pow2 returns 2^k for -1022 ≤ k ≤ 1023.
func pow2(k int) float64 { return math.Float64frombits(uint64(k+1023) << 52) }
