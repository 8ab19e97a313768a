package repro

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

const prec = 300

// bigExp sums the series of e^x after halving x 40 times: the definition, to far
// more bits than a double has.
func bigExp(x *big.Float) *big.Float {
	r := new(big.Float).SetPrec(prec).SetMantExp(x, -40)
	sum := big.NewFloat(1).SetPrec(prec)
	term := big.NewFloat(1).SetPrec(prec)
	for n := 1; n < 40; n++ {
		term.Mul(term, r)
		term.Quo(term, new(big.Float).SetPrec(prec).SetInt64(int64(n)))
		sum.Add(sum, term)
	}
	for range 40 {
		sum.Mul(sum, sum)
	}
	return sum
}

// bigLog sharpens math.Log by Newton's method on bigExp.
func bigLog(x float64) *big.Float {
	y := new(big.Float).SetPrec(prec).SetFloat64(math.Log(x))
	for range 3 {
		e := bigExp(new(big.Float).SetPrec(prec).Neg(y))
		e.Mul(e, new(big.Float).SetPrec(prec).SetFloat64(x))
		e.Sub(e, big.NewFloat(1))
		// y += (e - e²/2 + …); three rounds with the first term are ample.
		y.Add(y, e)
	}
	return y
}

// ulps returns |got-want| in units in the last place of want.
func ulps(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	unit := math.Nextafter(math.Abs(w), math.Inf(1)) - math.Abs(w)
	d := new(big.Float).SetPrec(prec).Sub(new(big.Float).SetPrec(prec).SetFloat64(got), want)
	f, _ := d.Float64()
	return math.Abs(f) / unit
}

func between(r *Stream, lo, hi float64) float64 { return lo + float64(r.Float64()*(hi-lo)) }

func TestElementaryFunctionsAreWithinOneUlp(t *testing.T) {
	r := NewStream(1, "ulp")
	worst := map[string]float64{}
	note := func(name string, got float64, want *big.Float, args ...float64) {
		u := ulps(got, want)
		worst[name] = max(worst[name], u)
		require.LessOrEqual(t, u, 1.0, "%s%v", name, args)
	}
	ln10 := bigLog(10)
	for i := range 3000 {
		x := between(&r, -745, 709)
		if i%2 == 0 {
			x = between(&r, -3, 3)
		}
		note("Exp", Exp(x), bigExp(new(big.Float).SetPrec(prec).SetFloat64(x)), x)

		a := math.Ldexp(between(&r, 1, 2), int(r.Uint64()%2046)-1022)
		if i%2 == 0 {
			a = between(&r, 0.3, 3)
		}
		l := bigLog(a)
		note("Log", Log(a), l, a)
		note("Log10", Log10(a), new(big.Float).SetPrec(prec).Quo(l, ln10), a)

		y := between(&r, -700, 700) / Log(a)
		if i%3 == 0 {
			a, y = between(&r, 0.001, 10), between(&r, -6, 6)
			l = bigLog(a)
		}
		yl := new(big.Float).SetPrec(prec).Mul(l, new(big.Float).SetPrec(prec).SetFloat64(y))
		note("Pow", Pow(a, y), bigExp(yl), a, y)
	}
	t.Logf("worst ulp: %v", worst)
}

func TestElementaryFunctionsAtTheirLimits(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"Exp(0)", Exp(0), 1},
		{"Exp(-Inf)", Exp(-inf), 0},
		{"Exp(Inf)", Exp(inf), inf},
		{"Exp above the largest double", Exp(709.79), inf},
		{"Exp of the largest argument", Exp(expMax), 1.7976931348622732e+308},
		{"Exp of a subnormal result", Exp(-744), 1e-323},
		{"Exp(NaN)", Exp(nan), nan},
		{"Log(1)", Log(1), 0},
		{"Log(0)", Log(0), -inf},
		{"Log(-1)", Log(-1), nan},
		{"Log(Inf)", Log(inf), inf},
		{"Log of the smallest double", Log(5e-324), -744.4400719213812},
		{"Log10(1000)", Log10(1000), 3},
		{"Log10(1e-7)", Log10(1e-7), -7},
		{"Log10(1e300)", Log10(1e300), 300},
		{"Pow(0,2)", Pow(0, 2), 0},
		{"Pow(0,-2)", Pow(0, -2), inf},
		{"Pow(-0,3)", Pow(math.Copysign(0, -1), 3), math.Copysign(0, -1)},
		{"Pow(0,0)", Pow(0, 0), 1},
		{"Pow(-8,3)", Pow(-8, 3), -512},
		{"Pow(-2,-2)", Pow(-2, -2), 0.25},
		{"Pow(-8,1/3)", Pow(-8, 1.0/3), nan},
		{"Pow(3,5)", Pow(3, 5), 243},
		{"Pow(4,0.5)", Pow(4, 0.5), 2},
		{"Pow(2,1023)", Pow(2, 1023), 0x1p1023},
		{"Pow(2,1024)", Pow(2, 1024), inf},
		{"Pow(2,-1074)", Pow(2, -1074), 5e-324},
		{"Pow(2,-1080)", Pow(2, -1080), 0},
		{"Pow(2,Inf)", Pow(2, inf), inf},
		{"Pow(0.5,Inf)", Pow(0.5, inf), 0},
		{"Pow(Inf,-1)", Pow(inf, -1), 0},
		{"Pow(-Inf,3)", Pow(-inf, 3), -inf},
		{"Pow(1e300,1e300)", Pow(1e300, 1e300), inf},
	} {
		if math.IsNaN(c.want) {
			require.True(t, math.IsNaN(c.got), c.name)
			continue
		}
		require.Equal(t, math.Float64bits(c.want), math.Float64bits(c.got), "%s: got %v, want %v", c.name, c.got, c.want)
	}
}

// The bits every machine has to give.
func TestElementaryFunctionsKeepTheirBits(t *testing.T) {
	h := NewHash()
	r := NewStream(7, "bits")
	for range 20000 {
		x, y := between(&r, -30, 30), between(&r, 1e-6, 100)
		h.Float64(Exp(x))
		h.Float64(Log(y))
		h.Float64(Log10(y))
		h.Float64(Pow(y, x/10))
		h.Float64(r.Normal())
	}
	require.Equal(t, uint64(0x4ae6132a3bb16153), h.Sum(), "got %#x", h.Sum())
	for _, c := range []struct {
		name string
		got  float64
		bits uint64
	}{
		{"Exp(1)", Exp(1), 0x4005bf0a8b145769},
		{"Exp(-0.1)", Exp(-0.1), 0x3fecf46d99d52b3a},
		{"Log(2)", Log(2), 0x3fe62e42fefa39ef},
		{"Log(0.7)", Log(0.7), 0xbfd6d3c324e13f50},
		{"Log10(2)", Log10(2), 0x3fd34413509f79ff},
		{"Pow(1.7,0.3)", Pow(1.7, 0.3), 0x3ff2c2cd258622da},
		{"Pow(10,-3.5)", Pow(10, -3.5), 0x3f34b96be9c2da2c},
	} {
		if math.Float64bits(c.got) != c.bits {
			t.Errorf("%s has bits %#x", c.name, math.Float64bits(c.got))
		}
	}
}

func BenchmarkExp(b *testing.B) {
	for b.Loop() {
		Exp(1.234)
	}
}

func BenchmarkLog(b *testing.B) {
	for b.Loop() {
		Log(1.234)
	}
}

func BenchmarkPow(b *testing.B) {
	for b.Loop() {
		Pow(1.234, 4.65)
	}
}
