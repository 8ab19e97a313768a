package hydraulic

import "math"

// AtmospherePa is the standard atmosphere, Pa (ISO 2533).
const AtmospherePa = 101325.0

// Well is a pump in a well that fills a pressure tank under a pressure switch.
// All pressures are gauge, at the tank.
type Well struct {
	ShutoffPa   float64 // what the pump gives at no flow, less the lift from the water in the well; above CutOutPa
	PumpB       float64 // by how much that falls per square of the flow, drop pipe included, Pa·s²/m⁶, above 0
	TankM3      float64 // volume of the tank's air when it holds no water, m³, above 0
	PrechargePa float64 // its pressure then
	CutInPa     float64 // pressure at which the switch starts the pump
	CutOutPa    float64 // and at which it stops it, above CutInPa
	Swift       bool    // one Runge-Kutta step may last as long as wellPart lets it, for units that nobody watches
}

// WellState is what a well keeps from step to step: plain data.
type WellState struct {
	WaterM3  float64 // water in the tank, m³, 0..TankM3; written by Step
	Running  bool    // the switch is made; written by Step
	Starts   int     // of the pump so far; written by Step
	PumpedM3 float64 // out of the well so far, m³; written by Step
	ShortM3  float64 // asked for but not there so far, as the tank was empty, m³; written by Step
}

// PumpB returns Well.PumpB of a pump that gives shutoffPa at rest and atPa, less,
// at flowM3S.
func PumpB(shutoffPa, atPa, flowM3S float64) float64 { return (shutoffPa - atPa) / (flowM3S * flowM3S) }

// PressurePa returns the pressure of a tank that holds waterM3: Boyle's law on its
// cushion. An empty tank stands at its precharge.
func (w *Well) PressurePa(waterM3 float64) float64 {
	return (w.PrechargePa+AtmospherePa)*w.TankM3/(w.TankM3-max(waterM3, 0)) - AtmospherePa
}

// WaterM3 returns what a tank holds at a pressure, 0 below its precharge.
func (w *Well) WaterM3(pa float64) float64 {
	return max(0, w.TankM3*(1-(w.PrechargePa+AtmospherePa)/(pa+AtmospherePa)))
}

// PumpM3S returns the flow of the running pump against a pressure.
func (w *Well) PumpM3S(pa float64) float64 {
	return math.Sqrt(max(w.ShutoffPa-pa, 0) / w.PumpB)
}

// Law returns the law of the pump as a link from a fixed node at 0 Pa to the
// tank's node; at rest its foot valve holds but for a leak.
func (w *Well) Law(running bool, leakCvGPM, rhoKgM3 float64) Law {
	law := CheckLaw(w.PumpB, leakCvGPM, rhoKgM3)
	if running {
		law.RisePa = w.ShutoffPa
	}
	return law
}

const (
	wellStep = 0.25  // longest stretch of one Runge-Kutta step of a well that is watched, s
	wellPart = 0.01  // greatest part of the tank that one may fill or empty
	wellTime = 1e-10 // a switching moment is found within this, s
)

// Step runs a well for dt seconds while drawM3S is drawn from the tank. The switch
// works at its exact moments, whatever the step.
func (w *Well) Step(s *WellState, dt, drawM3S float64) {
	stride := wellPart * w.TankM3 / (drawM3S + w.PumpM3S(-AtmospherePa))
	if !w.Swift {
		stride = min(stride, wellStep)
	}
	for dt > 0 {
		w.throw(s)
		if !s.Running {
			dt = w.rest(s, dt, stride, drawM3S)
		}
		h := min(dt, stride)
		end := w.after(s, h, drawM3S)
		if w.passed(s, end) {
			h, end = w.moment(s, h, drawM3S)
		}
		if s.Running {
			s.PumpedM3 += end - s.WaterM3 + float64(drawM3S*h)
		}
		s.ShortM3 += max(-end, 0)
		s.WaterM3 = max(end, 0)
		dt -= h
	}
	w.throw(s)
}

// rest lets the tank empty in whole strides of Step as long as it stands clear of the
// pressure that starts the pump, and returns what is left of dt. The bits are those of Step
// without it, which looks at the switch after every stride.
func (w *Well) rest(s *WellState, dt, stride, drawM3S float64) float64 {
	const clearPa = 1
	least, drop := w.WaterM3(w.CutInPa+clearPa), float64(drawM3S*stride)
	water := s.WaterM3
	for dt > stride && water-drop > least {
		water -= drop
		dt -= stride
	}
	s.WaterM3 = water
	return dt
}

// throw sets the switch by the pressure.
func (w *Well) throw(s *WellState) {
	pa := w.PressurePa(s.WaterM3)
	switch {
	case !s.Running && pa <= w.CutInPa+switchPa:
		s.Running = true
		s.Starts++
	case s.Running && pa >= w.CutOutPa-switchPa:
		s.Running = false
	}
}

const switchPa = 1e-3 // play of the switch, Pa, so that the moment found is past it

// passed tells whether the switch works before the tank holds end.
func (w *Well) passed(s *WellState, end float64) bool {
	pa := w.PressurePa(end)
	return s.Running && pa > w.CutOutPa || !s.Running && pa < w.CutInPa && s.WaterM3 > 0
}

// moment finds when the switch works within h seconds, and the water then.
func (w *Well) moment(s *WellState, h, drawM3S float64) (seconds, water float64) {
	low, high := 0.0, h
	for high-low > wellTime {
		mid := (low + high) / 2
		if w.passed(s, w.after(s, mid, drawM3S)) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, w.after(s, high, drawM3S)
}

// after returns the water in the tank h seconds on, by the classical Runge-Kutta
// method; negative for what an empty tank owes.
func (w *Well) after(s *WellState, h, drawM3S float64) float64 {
	if !s.Running {
		return s.WaterM3 - float64(drawM3S*h)
	}
	rate := func(water float64) float64 { return w.PumpM3S(w.PressurePa(water)) - drawM3S }
	a := rate(s.WaterM3)
	b := rate(s.WaterM3 + float64(h/2*a))
	c := rate(s.WaterM3 + float64(h/2*b))
	d := rate(s.WaterM3 + float64(h*c))
	return s.WaterM3 + float64(h/6*(a+float64(2*b)+float64(2*c)+d))
}
