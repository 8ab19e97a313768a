package hydraulic

import (
	"math"

	"brinebench/sim/repro"
)

const (
	laminarRe   = 2000.0 // Hagen-Poiseuille below
	turbulentRe = 4000.0 // Colebrook above
)

// Friction returns the Darcy friction factor at a Reynolds number above 0 in a
// pipe of the given roughness over diameter: 64/Re below 2000, Colebrook's
// (J. ICE 11, 1939, 133) above 4000, and between them the cubic that joins
// both in value and slope of the loss.
func Friction(reynolds, relRough float64) float64 {
	loss, _ := frictionLoss(reynolds, relRough)
	return loss / float64(reynolds*reynolds)
}

// frictionLoss returns f·Re² and its derivative by Re.
func frictionLoss(re, rough float64) (loss, slope float64) {
	switch {
	case re <= laminarRe:
		return float64(64 * re), 64
	case re >= turbulentRe:
		return turbulentLoss(re, rough)
	}
	end, endSlope := turbulentLoss(turbulentRe, rough)
	const width = turbulentRe - laminarRe
	t := (re - laminarRe) / width
	// Hermite cubic: with end slopes below three times the chord it is monotone.
	rise := end - float64(64*laminarRe)
	c2 := float64(3*rise) - float64(width*(128+endSlope))
	c3 := float64(width*(64+endSlope)) - float64(2*rise)
	loss = 64*laminarRe + float64(t*(64*width+float64(t*(c2+float64(t*c3)))))
	return loss, (64*width + float64(t*(float64(2*c2)+float64(3*t*c3)))) / width
}

// turbulentLoss solves Colebrook's x = −2·log₁₀(rough/3.7 + 2.51x/Re), x = 1/√f,
// by Halley's method, of third order, and returns f·Re² and its derivative.
func turbulentLoss(re, rough float64) (loss, slope float64) {
	const c = 2 / math.Ln10
	k := 2.51 / re
	x := roughLog(rough/3.7+float64(7*k)) * -c
	var u float64
	for range 20 {
		arg := rough/3.7 + float64(k*x)
		u = c * k / arg
		dx := (x + float64(c*repro.Log(arg))) / (1 + u)
		dx /= 1 + float64(u*u*dx)/(2*c*(1+u))
		x -= dx
		if math.Abs(dx) <= 1e-5*x { // and so the next below rounding
			break
		}
	}
	y := re / x
	return float64(y * y), 2 * y / x / (1 + u)
}

// roughLog returns the natural logarithm of a normal positive number to 0.03: the
// exponent and the mantissa, taken as a straight line, give that to base 2.
func roughLog(x float64) float64 {
	return (float64(float64(int64(math.Float64bits(x)))*0x1p-52) - 1022.957) * math.Ln2
}

// pipe is the friction of a pipe and its minor loss.
func (l *Law) pipe(q float64) (pa, slope float64) {
	if l.BR > 0 {
		pa, slope = l.twoWay(q)
	} else {
		pa, slope = passage(q, l.A, l.B)
	}
	f, df := frictionLoss(l.PipeRe*math.Abs(q), l.RelRough)
	perRe := l.PipeB / l.PipeRe
	pa += float64(math.Copysign(f, q) * perRe / l.PipeRe)
	return pa, slope + float64(df*perRe)
}
