package hydraulic

import "math"

// The loops of a solve. Each is a function of its own and is not inlined, and those
// of every step have no branch but what the compiler sees through: compiled to
// WebAssembly a jump costs the more, the more stands in its function.

// load takes the state over.
//
//go:noinline
func (w *solver) load(s *State) {
	for i := range w.ducts {
		d, l := &w.ducts[i], &w.laws[i]
		d.q, d.rise = s.Q[i], l.RisePa
		if l.Kind != Quadratic {
			w.odd[w.odds] = int32(i)
			w.odds++
		}
	}
	for k, v := range w.node {
		w.rows[k].p = s.P[v]
	}
}

// store gives the state back.
//
//go:noinline
func (w *solver) store(s *State) {
	for i := range w.ducts {
		s.Q[i] = w.ducts[i].q
	}
	for k, v := range w.node[:w.free] {
		s.P[v] = w.rows[k].p
	}
}

// report tells the greatest errors.
//
//go:noinline
func (w *solver) report() {
	r := &w.result
	r.Iterations = w.steps
	r.ResidualPa = math.Abs(w.gainMiss)
	for i := range w.ducts {
		if off := math.Abs(w.ducts[i].miss); off > r.ResidualPa {
			r.ResidualPa = off
		}
	}
	for k := range w.rows[:w.free] {
		if off := math.Abs(w.rows[k].dp); off > r.ResidualM3S {
			r.ResidualM3S = off
		}
	}
}

// reach returns a pressure that no passive link of the network is likely to lose.
//
//go:noinline
func (w *solver) reach() float64 {
	low, high, rise := math.Inf(1), math.Inf(-1), 0.0
	for k := range w.rows[w.free:] {
		p := w.rows[w.free+k].p
		if p < low {
			low = p
		}
		if p > high {
			high = p
		}
	}
	for i := range w.ducts {
		rise += math.Abs(w.ducts[i].rise)
	}
	return high - low + rise + bar10Pa/10
}

// sanitise sets flows that are not finite and pressures beyond mostPa to 0.
//
//go:noinline
func (w *solver) sanitise(mostPa float64) {
	for k := range w.rows[:w.free] {
		if r := &w.rows[k]; !(math.Abs(r.p) <= mostPa) {
			r.p = 0
		}
	}
	for i := range w.ducts {
		if d := &w.ducts[i]; !finite(d.q) {
			d.q = 0
		}
	}
}

// restrain gives links that lose more than mostPa flows that lose that.
//
//go:noinline
func (w *solver) restrain(mostPa float64) {
	for i := range w.ducts {
		d, limit := &w.ducts[i], mostPa
		if i == w.jet { // it loses again what it gains
			limit = 10 * mostPa
		}
		if math.Abs(d.pa) > limit {
			w.restart(i, math.Copysign(limit, d.pa))
		}
	}
}

// trustPressures mends flows that have ended far beyond what the pressure
// difference can drive, as with a square law from near rest: there the pressure is
// trusted instead. Only in the first steps, as it upsets continuity.
//
//go:noinline
func (w *solver) trustPressures() {
	for i := range w.ducts {
		d := &w.ducts[i]
		if math.Abs(d.dq) <= suddenPart*math.Abs(d.q-d.dq) {
			continue
		}
		if target := w.drive(i); float64(d.pa*target) > 0 && math.Abs(d.pa) > 4*math.Abs(target) {
			w.restart(i, target)
		}
	}
}

// movePressures takes a part of the step of every pressure.
//
//go:noinline
func movePressures(rows []joint, part float64) {
	for k := range rows {
		r := &rows[k]
		r.p += float64(part * r.dp)
	}
}

// moveFlows takes a part of the step of every flow, and its loss as if every law
// were Quadratic; the odd ones are put right later.
//
//go:noinline
func moveFlows(ducts []duct, laws []Law, part float64) {
	laws = laws[:len(ducts)]
	for i := range ducts {
		l, d := &laws[i], &ducts[i]
		q := d.q + float64(part*d.dq)
		pa, slope := quadratic(q, l.B, float64(restPa*l.B))
		a := l.A + restSlope
		d.q, d.pa, d.slope = q, pa+float64(a*q), slope+a
	}
}

// residuals finds the errors of the laws and the net flows into each row.
//
//go:noinline
func residuals(ducts []duct, ties []tie, rows []joint) (good bool, sum float64) {
	good = true
	ties = ties[:len(ducts)]
	for i := range ducts {
		d, e := &ducts[i], &ties[i]
		q, pa := d.q, d.pa
		up, down := &rows[e.from], &rows[e.to]
		from, to := up.p+d.rise, down.p
		up.dp -= q
		down.dp += q
		miss := from - to - pa
		d.miss = miss
		off := math.Abs(miss)
		sum += off
		size := math.Abs(from) + math.Abs(to) + math.Abs(pa) + float64(d.slope*math.Abs(q))
		if !(off <= closePa+float64(rounding*size)) {
			good = false
		}
	}
	return good, sum
}

// inflows starts the sums of a step, those of flows with the demands.
//
//go:noinline
func (w *solver) inflows() {
	for k := range w.rows {
		r := &w.rows[k]
		r.dp, r.perGain, r.total = 0, 0, 0
	}
	if w.demand == nil {
		return
	}
	for k, v := range w.node {
		w.rows[k].dp = -w.demand[v]
	}
}

// balanced tells whether the net inflow of every free node is no more than
// rounding.
//
//go:noinline
func (w *solver) balanced() bool {
	level, rush := w.traffic()
	noise := float64(closeM3S*(1+level/bar10Pa)) + float64(crosstalk*rush)
	for k := range w.rows[:w.free] {
		r := &w.rows[k]
		if !(math.Abs(r.dp) <= noise+float64(rounding*r.traffic)) {
			return false
		}
	}
	return true
}

// traffic sums up what flows into and out of each row, and finds the greatest
// pressure and flow.
//
//go:noinline
func (w *solver) traffic() (level, rush float64) {
	for k, v := range w.node {
		r := &w.rows[k]
		r.traffic = 0
		if w.demand != nil {
			r.traffic = math.Abs(w.demand[v])
		}
		if p := math.Abs(r.p); p > level {
			level = p
		}
	}
	for i := range w.ducts {
		e, q := &w.ties[i], math.Abs(w.ducts[i].q)
		w.rows[e.from].traffic += q
		w.rows[e.to].traffic += q
		if q > rush {
			rush = q
		}
	}
	return level, rush
}

// assemble fills the conductances and adds to the net inflow what the errors of
// the laws will let through.
//
//go:noinline
func assemble(ducts []duct, ties []tie, rows []joint, spokes []spoke) {
	for i := range spokes {
		spokes[i].cond = 0
	}
	ties = ties[:len(ducts)]
	for i := range ducts {
		d, e := &ducts[i], &ties[i]
		g := 1 / d.slope
		d.g = g
		spokes[e.spoke].cond += g
		flow := float64(g * d.miss)
		rows[e.from].dp -= flow
		rows[e.to].dp += flow
		rows[e.first].total += g
	}
}

// flowSteps finds the steps of the flows from those of the pressures.
//
//go:noinline
func flowSteps(ducts []duct, ties []tie, rows []joint) (calm bool) {
	calm = true
	ties = ties[:len(ducts)]
	for i := range ducts {
		d, e := &ducts[i], &ties[i]
		dq := float64(d.g * (d.miss + rows[e.from].dp - rows[e.to].dp))
		d.dq = dq
		if !(math.Abs(dq) <= suddenPart*math.Abs(d.q)) {
			calm = false
		}
	}
	return calm
}
