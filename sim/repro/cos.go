package repro

import "math"

// CosTurns returns the cosine of x whole turns, cos(2πx), within 5e-16, for |x| up
// to 2⁵²; exactly 1, 0, −1, 0 at the quarters. NaN of NaN and of an infinity.
//
// Method: x is folded into the first eighth of a turn, exactly; the rest takes the
// polynomials of the Cephes library's sin.c (Moshier 1989).
func CosTurns(x float64) float64 {
	x = math.Abs(x)
	x -= math.Floor(x)
	if x > 0.5 {
		x = 1 - x
	}
	sign := 1.0
	if x > 0.25 {
		x, sign = 0.5-x, -1
	}
	if x > 0.125 {
		return float64(sign * sinEighth(float64(2*math.Pi*(0.25-x))))
	}
	return float64(sign * cosEighth(float64(2*math.Pi*x)))
}

// cosEighth returns the cosine of y from 0 to π/4.
func cosEighth(y float64) float64 {
	z := float64(y * y)
	p := 2.08757008419747316778e-9 - float64(z*1.13585365213876817300e-11)
	p = -2.75573141792967388112e-7 + float64(z*p)
	p = 2.48015872888517045348e-5 + float64(z*p)
	p = -1.38888888888730564116e-3 + float64(z*p)
	p = 4.16666666666665929218e-2 + float64(z*p)
	return 1 - float64(0.5*z) + float64(z*z*p)
}

// sinEighth returns the sine of y from 0 to π/4.
func sinEighth(y float64) float64 {
	z := float64(y * y)
	p := -2.50507477628578072866e-8 + float64(z*1.58962301576546568060e-10)
	p = 2.75573136213857245213e-6 + float64(z*p)
	p = -1.98412698295895385996e-4 + float64(z*p)
	p = 8.33333333332211858878e-3 + float64(z*p)
	p = -1.66666666666666307295e-1 + float64(z*p)
	return y + float64(y*z*p)
}
