package valve

import "math"

// A travel from one stop to the next, as fractions of its angle. What shuts does
// so before anything opens, so that supply and drain never meet through two
// half-open seats; only the pass seat opens before and shuts after all others,
// so that the house is never without water. The ends are flat: a drum that
// stops a little short or long still holds its seats.
const (
	passOpens   = 0.05
	shutting    = 0.26
	shut        = 0.49
	opening     = 0.51
	opened      = 0.74
	passHasShut = 0.95
)

// Lift returns how far the lobe of a seat holds it open at a drum angle in
// degrees (any; the drum is round), 0 shut .. 1 fully open.
func (p *Program) Lift(seat Seat, deg float64) float64 {
	deg -= float64(360 * math.Floor(deg/360))
	i := len(p.Stops) - 1
	for p.Stops[i].AngleDeg > deg {
		i--
	}
	from, next, end := &p.Stops[i], &p.Stops[0], 360.0
	if i+1 < len(p.Stops) {
		next = &p.Stops[i+1]
		end = next.AngleDeg
	}
	u := (deg - from.AngleDeg) / (end - from.AngleDeg)
	switch was, will := from.Open[seat], next.Open[seat]; {
	case was && will:
		return 1
	case was && seat == Pass:
		return 1 - ramp(opened, passHasShut, u)
	case was:
		return 1 - ramp(shutting, shut, u)
	case will && seat == Pass:
		return ramp(passOpens, shutting, u)
	case will:
		return ramp(opening, opened, u)
	}
	return 0
}

// ramp rises smoothly (3x² − 2x³) from 0 at a to 1 at b.
func ramp(a, b, u float64) float64 {
	x := math.Max(0, math.Min(1, (u-a)/(b-a)))
	return float64(x * x * (3 - float64(2*x)))
}
