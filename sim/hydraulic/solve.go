package hydraulic

import "math"

const (
	closePa    = 1e-6  // a law is satisfied within this, Pa, and the rounding of its terms
	closeM3S   = 1e-24 // continuity holds within this at 10 bar, m³/s, and the rounding of flows:
	rounding   = 4e-15 // of a node's own
	crosstalk  = 1e-17 // and of the greatest flow, which shakes the pressures of others
	leastLoop  = 0.02  // least of 1 − (gain brought about by a unit of gain) that a step reckons with
	suddenPart = 0.3   // step of a flow, of the flow, from which it may be
	trustSteps = 4     // first steps in which pressures may be trusted more than flows
	quickSteps = 40    // Newton steps before the guarded method takes over

	// A network of this size is worked on the stack; a larger one allocates.
	stackLinks, stackNodes, stackSpokes = 32, 32, 64
)

// solver is the work of one solve.
type solver struct {
	*Network
	laws   []Law
	demand []float64
	ducts  []duct  // per link
	rows   []joint // per node
	spokes []spoke // per arm of the elimination, then per free row its conductance to the fixed ones, and one that counts nowhere
	odd    []int32 // the links that are not Quadratic, so many:
	odds   int
	gain   float64 // pressure gained in the mixing tube of the jet, Pa
	held   bool    // the gain is given and not to be found
	steps  int

	fullGain float64    // what the flows would gain without cavitation, Pa
	gainMiss float64    // error of the gain, Pa
	jetPull  [2]float64 // derivatives of the gain by nozzle and suction flow
	result   Result
}

// duct is a link at work.
type duct struct {
	q         float64 // flow, m³/s
	pa, slope float64 // its loss and the derivative
	rise      float64 // pressure added along it, the gain of the jet included
	miss      float64 // error of the law, Pa
	g         float64 // conductance, 1/slope
	dq        float64 // step of the flow
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
	var (
		ducts  [stackLinks]duct
		rows   [stackNodes]joint
		spokes [stackSpokes]spoke
		odd    [stackLinks]int32
	)
	w := solver{Network: n, laws: laws, demand: demand, ducts: ducts[:], rows: rows[:], spokes: spokes[:], odd: odd[:]}
	w.fit()
	w.load(s)
	w.start()
	if !w.newton(quick) && !w.guarded() {
		w.result.Status = Stalled
	}
	w.store(s)
	w.report()
	return w.result
}

// fit gives the work the size of the network.
func (w *solver) fit() {
	if links := len(w.links); links > len(w.ducts) {
		w.ducts, w.odd = make([]duct, links), make([]int32, links)
	}
	if nodes := len(w.node); nodes > len(w.rows) {
		w.rows = make([]joint, nodes)
	}
	spokes := len(w.plan.arms) + w.free + 1
	if spokes > len(w.spokes) {
		w.spokes = make([]spoke, spokes)
	}
	w.ducts, w.rows, w.spokes = w.ducts[:len(w.links)], w.rows[:len(w.node)], w.spokes[:spokes]
}

func (n *Network) mustFit(laws []Law, demand []float64, s *State) {
	if len(laws) != len(n.links) || len(s.Q) != len(n.links) || len(s.P) != len(n.fixed) ||
		demand != nil && len(demand) != len(n.fixed) {
		panic("hydraulic: Solve: laws, demand or state do not fit the network")
	}
}

// valid tells whether every number given is finite and in range.
func (n *Network) valid(laws []Law, demand []float64, s *State) bool {
	if !allValid(laws) {
		return false
	}
	for i := range laws {
		if (laws[i].Kind == Jet) != (i == n.jet) {
			return false
		}
	}
	var sum float64
	for _, v := range n.node[n.free:] {
		sum += s.P[v]
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
	w.sanitise(100 * most)
	w.move(0)
	w.restrain(most)
	if w.jet >= 0 {
		w.setGain(w.ducts[w.jet].pa - w.drive(w.jet))
	}
}

// restart gives link i a flow that loses about target Pa.
func (w *solver) restart(i int, target float64) {
	d, l := &w.ducts[i], &w.laws[i]
	d.q = l.guess(d.q, d.pa, target)
	d.pa, d.slope = l.Loss(d.q)
}

// setGain sets what the mixing tube gains.
func (w *solver) setGain(pa float64) {
	w.gain = pa
	w.ducts[w.jet].rise = w.laws[w.jet].RisePa + pa
}

// newton takes full steps until every residual is within tolerance, most at most.
func (w *solver) newton(most int) bool {
	for {
		good, sum := w.evaluate()
		if good {
			return true
		}
		if w.steps >= most || !finite(sum) {
			return false
		}
		calm := w.step()
		w.move(1)
		if !calm && w.steps <= trustSteps {
			w.trustPressures()
		}
	}
}

// move takes a part of the step and finds what every link loses at its new flow.
func (w *solver) move(part float64) {
	movePressures(w.rows, part)
	moveFlows(w.ducts, w.laws, part)
	for _, i := range w.odd[:w.odds] {
		d := &w.ducts[i]
		d.pa, d.slope = w.laws[i].Loss(d.q)
	}
}

// evaluate finds the residuals, given the losses, and tells whether all are within
// tolerance. sum is that of the errors of the laws: not finite when one is not.
func (w *solver) evaluate() (good bool, sum float64) {
	w.inflows()
	good, sum = residuals(w.ducts, w.ties, w.rows)
	if w.jet >= 0 && !w.held {
		w.evaluateGain()
		good = good && math.Abs(w.gainMiss) <= closePa+float64(rounding*math.Abs(w.gain))
	}
	return good && w.balanced(), sum
}

// step solves the linearised network for the steps of pressures, flows and gain,
// given the residuals. It tells whether every flow keeps to about its size.
func (w *solver) step() (calm bool) {
	w.steps++
	assemble(w.ducts, w.ties, w.rows, w.spokes)
	w.plan.factor(w.spokes, w.rows)
	if w.jet >= 0 {
		w.push(w.jet)
	}
	w.holdFixed()
	w.plan.solve(w.spokes, w.rows)
	if w.jet >= 0 && !w.held {
		w.stepGain()
	}
	return flowSteps(w.ducts, w.ties, w.rows)
}

// push puts into the rows what flows per pressure gained in a link.
func (w *solver) push(link int) {
	e, g := &w.ties[link], w.ducts[link].g
	w.rows[e.from].perGain, w.rows[e.to].perGain = -g, g
}

// holdFixed leaves the fixed nodes no step.
func (w *solver) holdFixed() {
	for k := range w.rows[w.free:] {
		r := &w.rows[w.free+k]
		r.dp, r.perGain = 0, 0
	}
}

// drive returns the pressure difference that link i has to lose.
func (w *solver) drive(i int) float64 {
	e := &w.ties[i]
	return w.rows[e.from].p + w.ducts[i].rise - w.rows[e.to].p
}
