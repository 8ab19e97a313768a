package hydraulic

import "math"

const (
	closePa    = 1e-6  // a law is satisfied within this, Pa, and the rounding of its terms
	closeM3S   = 1e-24 // continuity holds within this at 10 bar, m³/s, and the rounding of flows:
	rounding   = 4e-15 // of a node's own
	crosstalk  = 1e-17 // and of the greatest flow, which shakes the pressures of others
	leastLoop  = 0.02  // least of 1 − (gain brought about by a unit of gain) that a step reckons with
	trustSteps = 4     // first steps in which pressures may be trusted more than flows
	quickSteps = 40    // Newton steps before the guarded method takes over
	stackSize  = 768   // numbers kept on the stack; a larger network allocates
)

// solver is the work of one solve.
type solver struct {
	*Network
	laws   []Law
	demand []float64
	q, p   []float64 // the state, in place
	level  float64   // greatest pressure, Pa
	rush   float64   // greatest flow, m³/s
	gain   float64   // pressure gained in the mixing tube of the jet, Pa
	held   bool      // the gain is given and not to be found
	steps  int

	// Per link: conductance, error of the law and step of the flow.
	g, miss, dq []float64
	// Per row: net inflow (then the step of the pressure), effect of the gain on
	// the pressure, elimination. The row of the fixed nodes is 0 in the first two.
	dp, perGain, ground, pivot []float64
	cond                       []float64 // per slot

	fullGain float64    // what the flows would gain without cavitation, Pa
	gainMiss float64    // error of the gain, Pa
	jetPull  [2]float64 // derivatives of the gain by nozzle and suction flow
	result   Result
}

// Solve finds flows and pressures that satisfy every law and continuity, from
// the start that s holds; it allocates nothing for networks of common size.
// laws has one law per link. demand is taken out of each node, m³/s; nil means
// none, that of fixed nodes has no effect. Flows satisfy continuity to rounding
// and laws within 1e-6 Pa unless the result says otherwise. Wrong lengths panic.
func (n *Network) Solve(laws []Law, demand []float64, s *State) Result {
	return n.solve(laws, demand, s, quickSteps)
}

// solve is Solve with a given number of steps before the guarded method.
func (n *Network) solve(laws []Law, demand []float64, s *State, quick int) Result {
	n.mustFit(laws, demand, s)
	if !n.valid(laws, demand, s) {
		return Result{Status: Invalid}
	}
	var stack [stackSize]float64
	buf := stack[:]
	if size := 3*len(n.links) + 4*(len(n.node)+1) + n.plan.slots; size > len(buf) {
		buf = make([]float64, size)
	}
	take := func(k int) []float64 {
		part := buf[:k:k]
		buf = buf[k:]
		return part
	}
	links, rows := len(n.links), len(n.node)+1
	w := solver{
		Network: n, laws: laws, demand: demand, q: s.Q, p: s.P,
		g: take(links), miss: take(links), dq: take(links),
		dp: take(rows), perGain: take(rows), ground: take(rows), pivot: take(rows),
		cond: take(n.plan.slots),
	}
	w.start()
	if !w.newton(quick) && !w.guarded() {
		w.result.Status = Stalled
	}
	w.result.Iterations = w.steps
	return w.result
}

func (n *Network) mustFit(laws []Law, demand []float64, s *State) {
	if len(laws) != len(n.links) || len(s.Q) != len(n.links) || len(s.P) != len(n.fixed) ||
		demand != nil && len(demand) != len(n.fixed) {
		panic("hydraulic: Solve: laws, demand or state do not fit the network")
	}
}

// valid tells whether every number given is finite and in range.
func (n *Network) valid(laws []Law, demand []float64, s *State) bool {
	var sum float64
	for i := range laws {
		if !laws[i].valid() || (laws[i].Kind == Jet) != (i == n.jet) {
			return false
		}
	}
	for i, fixed := range n.fixed {
		if fixed {
			sum += s.P[i]
		}
	}
	for _, d := range demand {
		sum += d
	}
	return finite(sum)
}

// start makes the state a fair first guess: finite, and no link with a greater
// loss than the network can give it, as one has that was shut since. The jet's
// gain follows from the state.
func (w *solver) start() {
	most := w.reach()
	for _, v := range w.node {
		if !(math.Abs(w.p[v]) <= 100*most) {
			w.p[v] = 0
		}
	}
	for i := range w.laws {
		if !finite(w.q[i]) {
			w.q[i] = 0
		}
		limit := most
		if i == w.jet { // it loses again what it gains
			limit = 10 * most
		}
		pa, _ := w.laws[i].Loss(w.q[i])
		if math.Abs(pa) > limit {
			w.q[i] = w.laws[i].guess(w.q[i], pa, math.Copysign(limit, pa))
		}
		if i == w.jet {
			pa, _ = w.laws[i].Loss(w.q[i])
			w.gain = pa - w.drive(i)
		}
	}
}

// reach returns a pressure that no passive link of the network is likely to lose.
func (w *solver) reach() float64 {
	low, high, rise := math.Inf(1), math.Inf(-1), 0.0
	for i, fixed := range w.fixed {
		if fixed {
			low, high = min(low, w.p[i]), max(high, w.p[i])
		}
	}
	for i := range w.laws {
		rise += math.Abs(w.laws[i].RisePa)
	}
	return high - low + rise + bar10Pa/10
}

// newton takes full steps until every residual is within tolerance, most at most.
func (w *solver) newton(most int) bool {
	for {
		if w.evaluate() {
			return true
		}
		if w.steps >= most || !finite(w.result.ResidualPa) {
			return false
		}
		w.step()
		w.advance()
	}
}

// evaluate finds the residuals and tells whether all are within tolerance.
func (w *solver) evaluate() bool {
	w.result = Result{}
	w.level, w.rush = 0, 0
	good := true
	for i := range w.laws {
		e := &w.links[i]
		pa, slope := w.laws[i].Loss(w.q[i])
		from, to := w.p[e.From]+w.laws[i].RisePa, w.p[e.To]
		miss := from - to - pa
		if i == w.jet {
			miss += w.gain
		}
		w.g[i], w.miss[i] = 1/slope, miss
		w.level = max(w.level, math.Abs(from), math.Abs(to))
		w.rush = max(w.rush, math.Abs(w.q[i]))
		off := math.Abs(miss)
		w.result.ResidualPa = max(w.result.ResidualPa, off)
		size := math.Abs(from) + math.Abs(to) + math.Abs(pa) + float64(slope*math.Abs(w.q[i]))
		good = good && off <= closePa+float64(rounding*size)
	}
	if w.jet >= 0 && !w.held {
		w.evaluateGain()
		off := math.Abs(w.gainMiss)
		w.result.ResidualPa = max(w.result.ResidualPa, off)
		good = good && off <= closePa+float64(rounding*math.Abs(w.gain))
	}
	return w.balance() && good
}

// balance finds the net inflow of every free node and tells whether it is no
// more than rounding.
func (w *solver) balance() bool {
	in, size := w.dp, w.pivot
	for k, v := range w.node {
		in[k], size[k] = 0, 0
		if w.demand != nil {
			in[k], size[k] = -w.demand[v], math.Abs(w.demand[v])
		}
	}
	for i, row := range w.row {
		q := w.q[i]
		off := math.Abs(q)
		in[row[0]] -= q
		in[row[1]] += q
		size[row[0]] += off
		size[row[1]] += off
	}
	in[len(w.node)] = 0
	good := true
	noise := float64(closeM3S*(1+w.level/bar10Pa)) + float64(crosstalk*w.rush)
	for k := range w.node {
		off := math.Abs(in[k])
		w.result.ResidualM3S = max(w.result.ResidualM3S, off)
		good = good && off <= noise+float64(rounding*size[k])
	}
	return good
}

// step solves the linearised network for the steps of pressures, flows and gain,
// given the residuals.
func (w *solver) step() {
	w.steps++
	w.assemble()
	w.plan.factor(w.cond, w.ground, w.pivot)
	w.plan.solve(w.cond, w.pivot, w.dp)
	for i, row := range w.row {
		w.dq[i] = w.g[i] * (w.miss[i] + w.dp[row[0]] - w.dp[row[1]])
	}
	if w.jet >= 0 && !w.held {
		w.stepGain()
	}
}

// assemble fills the conductances and adds to the net inflow what the errors of
// the laws will let through.
func (w *solver) assemble() {
	clear(w.cond)
	clear(w.ground)
	for i, row := range w.row {
		g := w.g[i]
		flow := float64(g * w.miss[i])
		w.dp[row[0]] -= flow
		w.dp[row[1]] += flow
		if k := w.slot[i]; k >= 0 {
			w.cond[k] += g
		} else {
			w.ground[row[0]] += g
			w.ground[row[1]] += g
		}
	}
	w.dp[len(w.node)] = 0
}

// advance takes the step. Where a flow would end far beyond what its pressure
// difference can drive, as with a square law from near rest, the pressure is
// trusted instead; only in the first steps, as that upsets continuity.
func (w *solver) advance() {
	for k, v := range w.node {
		w.p[v] += w.dp[k]
	}
	for i := range w.links {
		old := w.q[i]
		w.q[i] += w.dq[i]
		if w.steps > trustSteps || math.Abs(w.dq[i]) <= 0.3*math.Abs(old) {
			continue
		}
		pa, _ := w.laws[i].Loss(w.q[i])
		if target := w.drive(i); float64(pa*target) > 0 && math.Abs(pa) > 4*math.Abs(target) {
			w.q[i] = w.laws[i].guess(w.q[i], pa, target)
		}
	}
}

// drive returns the pressure difference that link i has to lose.
func (w *solver) drive(i int) float64 {
	d := w.p[w.links[i].From] + w.laws[i].RisePa - w.p[w.links[i].To]
	if i == w.jet {
		d += w.gain
	}
	return d
}
