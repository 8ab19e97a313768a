package repro

import "math"

// Log returns the natural logarithm of x, within 1 unit in the last place:
// -Inf at 0, NaN below 0.
//
// Method: x = 2^k·m with √½ ≤ m < √2, then the polynomial in s = f/(2+f),
// f = m-1, of FreeBSD's msun e_log.c (Sun Microsystems 1993).
func Log(x float64) float64 {
	if y, special := logSpecial(x); special {
		return y
	}
	const (
		l1 = 6.666666666666735130e-01
		l2 = 3.999999999940941908e-01
		l3 = 2.857142874366239149e-01
		l4 = 2.222219843214978396e-01
		l5 = 1.818357216161805012e-01
		l6 = 1.531383769920937332e-01
		l7 = 1.479819860511658591e-01
	)
	m, e := split(x)
	f, k := m-1, float64(e)
	s := f / (2 + f)
	z := float64(s * s)
	w := float64(z * z)
	even := l4 + float64(w*l6)
	even = float64(w * (l2 + float64(w*even)))
	odd := l5 + float64(w*l7)
	odd = l3 + float64(w*odd)
	odd = float64(z * (l1 + float64(w*odd)))
	half := float64(float64(0.5*f) * f)
	tail := float64(s*(half+(odd+even))) + float64(k*ln2Lo)
	return float64(k*ln2Hi) - ((half - tail) - f)
}

// Log10 returns the decimal logarithm of x, within 1 unit in the last place and
// exact at the powers of ten: -Inf at 0, NaN below 0.
func Log10(x float64) float64 {
	if y, special := logSpecial(x); special {
		return y
	}
	l := logPair(x).times(pair{4.34294481903251816668e-01, 1.09831965021676508e-17})
	return l.hi + l.lo
}

// logSpecial answers for the arguments that have no ordinary logarithm.
func logSpecial(x float64) (y float64, special bool) {
	switch {
	case x != x || x > math.MaxFloat64:
		return x, true
	case x < 0:
		return math.NaN(), true
	case x == 0:
		return math.Inf(-1), true
	}
	return 0, false
}

// split writes a positive finite x as m·2^k with √½ ≤ m < √2.
func split(x float64) (m float64, k int) {
	const smallestNormal = 0x1p-1022
	if x < smallestNormal {
		x, k = x*0x1p54, -54
	}
	bits := math.Float64bits(x)
	k += int(bits>>52) - 1023
	m = math.Float64frombits(bits&(1<<52-1) | 1023<<52)
	if m >= math.Sqrt2 {
		m, k = m/2, k+1
	}
	return m, k
}
