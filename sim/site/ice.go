package site

import (
	"math"

	"brinebench/sim/repro"
	"brinebench/sim/water"
)

// Line is a tube through the cold: a drain line, a brine line, a supply.
type Line struct {
	BoreM    float64 // inside diameter, m, above 0
	LengthM  float64 // in the cold, m, above 0
	FilmWM2K float64 // heat transfer coefficient from its inner wall to the air, wall and insulation included, W/(m²·K), above 0; bare and still 5 to 10, in the wind 20 to 30
}

// Ice is what stands in a line: plain data.
type Ice struct {
	TempC    float64 // temperature of what is liquid, °C; at its freezing point while there is ice; written by Step
	Fraction float64 // share of the water that is ice, 0 none .. 1 frozen solid; written by Step
}

// Exposure is what a line meets in a step.
type Exposure struct {
	AirC      float64 // around the line, °C
	FreezingC float64 // at which what stands in it begins to freeze, °C: see water.FreezingPoint, for brine at the strength of what is still liquid
	FlowM3S   float64 // through the line, either way, m³/s
	WaterC    float64 // temperature of what flows in, °C
}

const (
	densityKgM3 = 1000.0                                // of water, in round figures
	heatJM3K    = float64(densityKgM3 * water.HeatJKgK) // heat capacity of water
	fusionJM3   = float64(densityKgM3 * water.FusionJKg)
)

// Step moves the ice of a line on by dtS seconds of steady exposure. Steps of any
// length add up to the same.
//
// Liquid, the line is one stirred volume between air and inflow. Ice grows inwards
// from the wall, as in Plank's formula (1913) for a cylinder: heat passes through
// it and the film as if it stood still (quasi-steady, Stefan 1891). It melts by
// what a flow brings and by warm air, both at the rate that a bare wall has; a flow
// that does not keep the wall from freezing slows the growth in proportion. Left
// out: the heat of what is colder than its freezing point, and that of ice.
func (l *Line) Step(s *Ice, x Exposure, dtS float64) {
	x.FlowM3S = math.Abs(x.FlowM3S)
	x.WaterC = math.Max(x.WaterC, x.FreezingC) // ice in what flows in is not this line's
	left := dtS
	if s.Fraction > 0 {
		left = l.freeze(s, x, left)
	}
	if left > 0 {
		left = l.cool(s, x, left)
		l.freeze(s, x, left)
	}
}

// cool moves a line without ice on, at most to the moment at which it begins to
// freeze, and returns the time left.
func (l *Line) cool(s *Ice, x Exposure, dtS float64) (leftS float64) {
	air := 4 * l.FilmWM2K / (heatJM3K * l.BoreM) // per second
	inflow := x.FlowM3S / l.volumeM3()
	rate := air + inflow
	end := (float64(air*x.AirC) + float64(inflow*x.WaterC)) / rate
	if end < x.FreezingC {
		until := 0.0
		if s.TempC > x.FreezingC {
			until = repro.Log((s.TempC-end)/(x.FreezingC-end)) / rate
		}
		if until < dtS {
			s.TempC = x.FreezingC
			return dtS - until
		}
	}
	s.TempC = Follow(s.TempC, end, 1/rate, dtS)
	return 0
}

// freeze moves the ice on and returns the time left when it is gone.
func (l *Line) freeze(s *Ice, x Exposure, dtS float64) (leftS float64) {
	if dtS <= 0 {
		return 0
	}
	s.TempC = x.FreezingC
	rate := 4*l.FilmWM2K*(x.FreezingC-x.AirC)/(fusionJM3*l.BoreM) - l.meltPerS(x)
	if rate > 0 {
		biot := l.FilmWM2K * l.BoreM / (2 * water.IceWMK)
		s.Fraction = frozen(biot, progress(biot, s.Fraction)+float64(rate*dtS), s.Fraction)
		return 0
	}
	until := dtS
	if melt := float64(-rate * dtS); melt > s.Fraction {
		until = s.Fraction / -rate
		s.Fraction = 0
	} else {
		s.Fraction -= melt
	}
	return dtS - until
}

// progress is how far the freezing of a line has come when a fraction of it is
// ice: the time taken over that in which its wall, had it stayed bare, would have
// drawn the heat of all. It is the integral over the fraction f of
// 1 − Bi/2·ln(1−f), the resistance of film and ice over that of the film.
func progress(biot, f float64) float64 {
	if f >= 1 {
		return 1 + float64(biot/2)
	}
	return f + float64(biot/2*(f+float64((1-f)*repro.Log(1-f))))
}

// frozen is the inverse of progress, above a fraction known to be below: Newton's
// method, which from above comes down without passing, between bounds.
func frozen(biot, target, low float64) float64 {
	if target >= progress(biot, 1) {
		return 1
	}
	f, high := low, 1.0
	for range 100 {
		over := progress(biot, f) - target
		if over > 0 {
			high = f
		} else {
			low = f
		}
		next := f - over/(1-float64(biot/2*repro.Log(1-f)))
		if !(next >= low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-f) <= 1e-16 {
			break
		}
		f = next
	}
	return f
}

// meltPerS returns the share of the line that a flow melts per second: by what
// heat reaches the wall of a tube at the freezing point all along. Nusselt number
// 3.66 in laminar flow, Dittus and Boelter (1930) above Re 2300.
func (l *Line) meltPerS(x Exposure) float64 {
	capacity := float64(heatJM3K * x.FlowM3S) // W/K
	if capacity <= 0 || x.WaterC <= x.FreezingC {
		return 0
	}
	viscosity := water.Viscosity(math.Max(x.WaterC, 0))
	reynolds := 4 * densityKgM3 * x.FlowM3S / (math.Pi * l.BoreM * viscosity)
	prandtl := viscosity * water.HeatJKgK / water.ConductivityWMK
	nusselt := 3.66
	if reynolds > 2300 {
		nusselt = 0.023 * repro.Pow(reynolds, 0.8) * repro.Pow(prandtl, 0.4)
	}
	units := nusselt * math.Pi * water.ConductivityWMK * l.LengthM / capacity
	heat := float64(capacity * (x.WaterC - x.FreezingC) * (1 - repro.Exp(-units)))
	return heat / float64(fusionJM3*l.volumeM3())
}

func (l *Line) volumeM3() float64 { return float64(math.Pi / 4 * l.BoreM * l.BoreM * l.LengthM) }
