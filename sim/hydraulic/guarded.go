package hydraulic

import "math"

const (
	descentSteps = 200  // Newton steps of one monotone problem
	mostSteps    = 5000 // in all
)

// guarded solves from rest where plain Newton has failed. With the gain of the
// jet held, the flows minimise a strictly convex content, which Newton with a
// line search cannot miss; the gain is then found within a bracket. Without a
// jet there is only the first part.
func (w *solver) guarded() bool {
	for i := range w.ducts {
		w.ducts[i].q, w.ducts[i].dq = 0, 0
	}
	for k := range w.rows {
		w.rows[k].dp = 0
	}
	for k := range w.rows[:w.free] {
		w.rows[k].p = 0
	}
	w.move(0)
	w.held = true
	ok := w.bracketGain()
	w.held = false
	good, _ := w.evaluate()
	return good && ok
}

// bracketGain finds the gain at which its condition holds: that is not negative
// where the gain is 0, and falls below 0 as the gain rises.
func (w *solver) bracketGain() bool {
	if w.jet < 0 {
		return w.descend()
	}
	at := func(gain float64) float64 {
		w.setGain(gain)
		w.descend()
		w.evaluateGain()
		return w.gainMiss
	}
	low, high := 0.0, 0.0
	fLow := at(0)
	fHigh := fLow
	for reach := 1000.0; fHigh > 0 && reach < 1e12; reach *= 4 {
		low, fLow = high, fHigh
		high = reach
		fHigh = at(high)
	}
	for side := 0; w.steps < mostSteps; {
		mid := falsePosition(low, high, fLow, fHigh)
		f := at(mid)
		if math.Abs(f) <= closePa+float64(rounding*math.Abs(mid)) {
			return true
		}
		if f > 0 { // an end that stays twice counts half the next time (the Illinois rule)
			if side > 0 {
				fHigh /= 2
			}
			low, fLow, side = mid, f, 1
		} else {
			if side < 0 {
				fLow /= 2
			}
			high, fHigh, side = mid, f, -1
		}
	}
	return false
}

// falsePosition returns where the chord crosses zero, kept inside the bracket.
func falsePosition(low, high, fLow, fHigh float64) float64 {
	width := high - low
	part := 0.5
	if fLow > fHigh {
		part = min(max(fLow/(fLow-fHigh), 0.01), 0.99)
	}
	return low + float64(part*width)
}

// descend solves the network with the gain held.
func (w *solver) descend() bool {
	for k := range descentSteps {
		if good, _ := w.evaluate(); good {
			return true
		}
		w.step()
		t := 1.0
		if k > 0 { // the first step makes the flows continuous, which the search needs
			t = w.search()
		}
		w.move(t)
	}
	good, _ := w.evaluate()
	return good
}

// search returns a part of the step in (0, 1] at which the content's derivative
// along it is small against that at the start.
func (w *solver) search() float64 {
	start := w.derivative(0)
	end := w.derivative(1)
	if start >= 0 || end <= -0.5*start {
		return 1
	}
	low, high := 0.0, 1.0
	for range 60 {
		mid := (low + high) / 2
		d := w.derivative(mid)
		if math.Abs(d) <= -0.3*start {
			return mid
		}
		if d < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// derivative of the content along the step, at part t of it. The pressures of
// free nodes cancel.
func (w *solver) derivative(t float64) float64 {
	sum := 0.0
	for i := range w.ducts {
		d := &w.ducts[i]
		pa, _ := w.laws[i].Loss(d.q + float64(t*d.dq))
		sum += float64(d.dq * (pa - w.drive(i)))
	}
	return sum
}
