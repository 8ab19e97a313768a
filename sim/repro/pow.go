package repro

import "math"

// Pow returns x to the power y, within 1 unit in the last place. Powers of 0,
// of infinities and of negative x (whole y only, else NaN) follow C99.
//
// Method: exp(y·ln x) with ln x and the product held as unevaluated sums of two
// doubles (Dekker, Numer. Math. 18 (1971) 224), good for some 100 bits.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case x != x || y != y:
		return math.NaN()
	case x == 0 || math.Abs(x) > math.MaxFloat64 || math.Abs(y) > math.MaxFloat64:
		return powLimit(x, y)
	case x > 0:
		return powPositive(x, y)
	case y != math.Floor(y):
		return math.NaN()
	}
	if odd(y) {
		return -powPositive(-x, y)
	}
	return powPositive(-x, y)
}

// powPositive returns x^y for finite x > 0 and finite y.
func powPositive(x, y float64) float64 {
	l := logPair(x)
	// Far outside the range of a double; keeps the exact product from overflowing.
	switch rough := float64(l.hi * y); {
	case rough > 800:
		return math.Inf(1)
	case rough < -800:
		return 0
	}
	p := exactProduct(l.hi, y)
	p = quickSum(p.hi, p.lo+float64(l.lo*y))
	k := math.Floor(float64(invLn2*p.hi) + 0.5)
	r := p.hi - float64(k*ln2Hi)
	// Two small parts: the tail of ln 2 in double, and the tail of the product.
	lo := float64(k*ln2Lo) - p.lo
	e := expReduced(r, lo)
	if k > 1024 {
		return math.Inf(1)
	}
	if k < -1080 {
		return 0
	}
	return scale(e, int(k))
}

// powLimit returns x^y where x is 0 or infinite, or y is infinite.
func powLimit(x, y float64) float64 {
	a := math.Abs(x)
	if math.Abs(y) > math.MaxFloat64 {
		switch {
		case a == 1:
			return 1
		case (a > 1) == (y > 0):
			return math.Inf(1)
		}
		return 0
	}
	r := 0.0
	if (a > 1) == (y > 0) {
		r = math.Inf(1)
	}
	if math.Signbit(x) && y == math.Floor(y) && odd(y) {
		return -r
	}
	return r
}

// odd reports whether a whole y is odd.
func odd(y float64) bool { return y-float64(2*math.Floor(y/2)) == 1 }

// pair is the unevaluated sum hi+lo of two doubles, |lo| no more than half a
// unit in the last place of hi.
type pair struct{ hi, lo float64 }

// quickSum returns a+b exactly, for |a| ≥ |b| or a = 0.
func quickSum(a, b float64) pair {
	s := a + b
	return pair{s, b - (s - a)}
}

// exactProduct returns a·b exactly, barring overflow and underflow.
func exactProduct(a, b float64) pair {
	p := float64(a * b)
	ah, al := halves(a)
	bh, bl := halves(b)
	e := float64(ah*bh) - p
	e += float64(ah * bl)
	e += float64(al * bh)
	e += float64(al * bl)
	return pair{p, e}
}

// halves splits a into two numbers of 26 bits each, which multiply exactly.
func halves(a float64) (hi, lo float64) {
	if math.Abs(a) > 0x1p990 {
		hi, lo = halves(a * 0x1p-54)
		return hi * 0x1p54, lo * 0x1p54
	}
	c := float64(0x1p27*a) + a
	hi = c - (c - a)
	return hi, a - hi
}

func (a pair) plus(b pair) pair {
	s := a.hi + b.hi
	v := s - a.hi
	e := (a.hi - (s - v)) + (b.hi - v)
	return quickSum(s, e+(a.lo+b.lo))
}

func (a pair) times(b pair) pair {
	p := exactProduct(a.hi, b.hi)
	return quickSum(p.hi, p.lo+(float64(a.hi*b.lo)+float64(a.lo*b.hi)))
}

// logPair returns ln x of a positive finite x to some 66 bits:
// ln m = 2s + 2s³(1/3 + s²/5 + …), s = (m-1)/(m+1).
func logPair(x float64) pair {
	m, e := split(x)
	f := m - 1 // exact
	d := quickSum(2, f)
	// s = f/d, with one correction by the exact remainder.
	sh := f / d.hi
	q := exactProduct(sh, d.hi)
	s := quickSum(sh, ((f-q.hi)-q.lo-float64(sh*d.lo))/d.hi)
	z := s.times(s)
	series := pair{1.0 / 3, 1.85037170770859413132e-17}.plus(quickSum(float64(z.hi*logTail(z.hi)), 0))
	cube := s.times(z).times(series)
	l := s.plus(cube)
	l = pair{float64(2 * l.hi), float64(2 * l.lo)}
	k := float64(e)
	// k·ln2Hi is exact; what ln2Hi+ln2Lo lacks of ln 2 is below 2^-86.
	return pair{float64(k * ln2Hi), 0}.plus(exactProduct(k, ln2Lo)).plus(l)
}

// logTail returns 1/5 + z/7 + z²/9 + … for 0 ≤ z ≤ 0.03.
func logTail(z float64) float64 {
	const terms = 11
	t := 0.0
	for n := terms; n >= 0; n-- {
		t = 1/float64(2*n+5) + float64(z*t)
	}
	return t
}
