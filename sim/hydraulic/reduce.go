package hydraulic

import (
	"cmp"
	"math"
	"slices"
)

const (
	reducedPa    = 0.01 // a reducer holds its pressure within this, Pa, and a part of what it takes away
	reducedPart  = 1e-12
	newtonRounds = 60    // Newton steps on the reducers together
	mostFollowed = 20000 // linear solves in all
	mostSweeps   = 3     // of the reducers one by one
	leastWay     = 1e-9  // shortest way tried, of that from open to set
	leastPivot   = 1e-9
)

// Reducer is a pressure reducing valve on a link: it throttles so that the
// pressure at the link's To is SetPa at most, stands open below that, and its
// link's law, of Kind Check, keeps it shut against reverse flow.
type Reducer struct {
	Link  int     // leads to a free node
	SetPa float64 // gauge pressure at the link's To, Pa
}

// SolveReduced is Solve for a network with reducers, two at one link at most one.
// A reducer takes away the pressure T ≥ 0; with E the pressure that the link
// would deliver open, at its present flow, the solution has T = max(0, E − SetPa)
// at every reducer. Newton steps on all T together find it, each from exact
// derivatives and held to progress; where they stop, the set pressures are
// approached from open reducers in as many steps as it takes. Of reducers into one node those
// set lower are shut as soon as one set higher throttles: they aim lower by what
// it takes away, which keeps two that are set nearly alike from sharing a flow
// that the equations would not tell how. Reducers in series, side by side or
// against one another are all allowed. It allocates.
func (n *Network) SolveReduced(laws []Law, demand []float64, s *State, reducers []Reducer) Result {
	if len(reducers) == 0 {
		return n.Solve(laws, demand, s)
	}
	r := &reduction{
		net: n, open: laws, laws: append([]Law(nil), laws...), demand: demand, s: s,
		reducers: slices.SortedStableFunc(slices.Values(reducers), func(a, b Reducer) int { return cmp.Compare(b.SetPa, a.SetPa) }),
		taken:    make([]float64, len(reducers)), miss: make([]float64, len(reducers)), above: make([][]int, len(reducers)),
		over: make([]float64, len(reducers)), aim: make([]float64, len(reducers)),
	}
	for _, x := range reducers {
		if x.Link < 0 || x.Link >= len(n.links) {
			panic("hydraulic: SolveReduced: a reducer on no link")
		}
		if laws[x.Link].Kind != Check || !finite(x.SetPa) || n.fixed[n.links[x.Link].To] {
			return Result{Status: Invalid}
		}
	}
	r.rank()
	if !r.follow() && r.result.Status != Invalid {
		r.result.Status = Stalled
	}
	return r.result
}

// reduction is the work of one SolveReduced.
type reduction struct {
	net      *Network
	open     []Law // as given
	laws     []Law // with what the reducers take
	demand   []float64
	s        *State
	reducers []Reducer

	taken  []float64 // pressure that each reducer takes away, Pa
	miss   []float64 // error of each reducer's condition, Pa
	over   []float64 // what each delivers too much when all are open, Pa
	aim    []float64 // what each is to hold at present, Pa
	above  [][]int   // of each reducer: those set higher into the same node
	result Result    // of the last solve
	steps  int       // linear solves of all
}

// rank finds for each reducer those set higher into its node, which stand before
// it in the list; of equals the first.
func (r *reduction) rank() {
	for i, x := range r.reducers {
		for k, y := range r.reducers[:i] {
			if r.net.links[x.Link].To == r.net.links[y.Link].To {
				r.above[i] = append(r.above[i], k)
			}
		}
	}
}

// settle solves the network with the given pressures taken away and finds the
// errors of the conditions; it returns the greatest against its tolerance.
func (r *reduction) settle(taken []float64) float64 {
	copy(r.taken, taken)
	for i, x := range r.reducers {
		r.laws[x.Link].RisePa = r.open[x.Link].RisePa - taken[i]
	}
	r.result = r.net.Solve(r.laws, r.demand, r.s)
	r.steps += r.result.Iterations
	r.result.Iterations = r.steps
	worst := 0.0
	for i := range r.reducers {
		r.miss[i] = r.taken[i] - max(0, r.excess(i))
		worst = max(worst, math.Abs(r.miss[i])/(reducedPa+float64(reducedPart*r.taken[i])))
	}
	if r.result.Status != Solved {
		return math.Inf(1)
	}
	return worst
}

// excess is how much more than its aim a reducer would deliver open.
func (r *reduction) excess(i int) float64 {
	link := r.reducers[i].Link
	if r.s.Q[link] > 0 {
		return r.s.P[r.net.links[link].To] + r.taken[i] - r.aimed(i)
	}
	return r.upstream(i) - r.aimed(i)
}

// aimed is what a reducer is to hold at present: lower by what those above it
// take.
func (r *reduction) aimed(i int) float64 {
	aim := r.aim[i]
	for _, k := range r.above[i] {
		aim -= r.taken[k]
	}
	return aim
}

// upstream is what a reducer would deliver at rest.
func (r *reduction) upstream(i int) float64 {
	link := r.reducers[i].Link
	return r.s.P[r.net.links[link].From] + r.open[link].RisePa
}

// newton steps until every condition holds: with steps held to progress, and
// where one brings none, as across a kink, with a fixed part of each.
func (r *reduction) newton() bool {
	start := append([]float64(nil), r.taken...)
	for _, part := range []float64{0, 1, 0.5, 0.2} {
		if r.iterate(part) {
			return true
		}
		r.settle(start)
	}
	return false
}

// iterate is Newton's method with a fixed part of each step; 0 for the greatest
// part that brings progress.
func (r *reduction) iterate(part float64) bool {
	worst := r.settle(r.taken)
	for range newtonRounds {
		if worst <= 1 {
			return true
		}
		start, d, most := append([]float64(nil), r.taken...), r.direction(), r.limits()
		if part > 0 {
			worst = r.settle(r.trial(start, d, most, part))
			continue
		}
		better := worst
		for t := 1.0; t > 0.01 && better >= worst; t /= 2 {
			better = r.settle(r.trial(start, d, most, t))
		}
		if better >= worst {
			return false
		}
		worst = better
	}
	return worst <= 1
}

// limits are what shuts each reducer, with some room: no step need go beyond, as
// one from a flow that hardly matters would.
func (r *reduction) limits() []float64 {
	room := 0.0
	for _, miss := range r.miss {
		room = max(room, 4*math.Abs(miss))
	}
	most := make([]float64, len(r.taken))
	for i := range most {
		most[i] = r.upstream(i) - r.aim[i] + room
	}
	return most
}

// trial is a part of a step within the limits; those set higher come first.
func (r *reduction) trial(start, d, most []float64, part float64) []float64 {
	taken := make([]float64, len(start))
	for i := range taken {
		limit := most[i]
		for _, k := range r.above[i] {
			limit += taken[k]
		}
		taken[i] = max(0, min(start[i]+float64(part*d[i]), limit))
	}
	return taken
}

// direction is the Newton step of the pressures taken away.
func (r *reduction) direction() []float64 {
	k := len(r.reducers)
	m := make([][]float64, k) // derivatives of the conditions, and the errors
	for i := range m {
		m[i] = make([]float64, k+1)
		m[i][i] = 1
		m[i][k] = -r.miss[i]
	}
	for i := range r.reducers {
		if r.excess(i) > 0 {
			for _, k := range r.above[i] {
				m[i][k]--
			}
		}
	}
	probe := r.net.probe(r.laws, r.demand, r.s)
	for j := range r.reducers {
		dp := probe.rise(r.reducers[j].Link)
		for i, x := range r.reducers {
			if r.excess(i) <= 0 {
				continue
			}
			ends := r.net.links[x.Link]
			switch {
			case r.s.Q[x.Link] <= 0:
				m[i][j] -= dp[ends.From]
			case i == j:
				m[i][j] = -dp[ends.To]
			default:
				m[i][j] -= dp[ends.To]
			}
		}
	}
	return eliminate(m)
}

// follow takes the set pressures from part 1, where no reducer throttles, to part
// 0, their own: the solution is unique at every part and moves continuously, so
// that a Newton iteration that fails succeeds over a shorter way. The way is
// bracketed between the last part solved and the part aimed at.
func (r *reduction) follow() bool {
	r.begin()
	good := append([]float64(nil), r.taken...)
	at, step := 1.0, 1.0
	for r.steps < mostFollowed && step > leastWay {
		aim := max(0, at-step)
		r.aimAt(aim)
		if r.newton() || r.sweeps() {
			copy(good, r.taken)
			if at = aim; at == 0 {
				return true
			}
			step *= 2
			continue
		}
		if r.result.Status == Invalid {
			return false
		}
		copy(r.taken, good)
		step /= 4
	}
	return false
}

// sweeps brackets each reducer's own condition with the others held, then steps
// together again.
func (r *reduction) sweeps() bool {
	for range mostSweeps {
		for i := range r.reducers {
			r.bracket(i)
		}
		if r.newton() {
			return true
		}
	}
	return false
}

// bracket finds what a reducer has to take with the others held: its condition
// rises with that.
func (r *reduction) bracket(i int) {
	trial := append([]float64(nil), r.taken...)
	at := func(taken float64) float64 {
		trial[i] = taken
		r.settle(trial)
		return r.miss[i]
	}
	low, fLow := 0.0, at(0)
	if fLow >= 0 {
		return
	}
	high := max(0, r.upstream(i)-r.aimed(i)) + 1
	fHigh := at(high)
	for side, rounds := 0, 0; fHigh > 0 && rounds < 100; rounds++ {
		mid := falsePosition(low, high, -fLow, -fHigh)
		f := at(mid)
		if math.Abs(f) <= 0.1*reducedPa || high-low <= float64(1e-13*high) {
			return
		}
		if f < 0 {
			if side < 0 {
				fHigh /= 2
			}
			low, fLow, side = mid, f, -1
		} else {
			if side > 0 {
				fLow /= 2
			}
			high, fHigh, side = mid, f, 1
		}
	}
}

// begin solves the network with all reducers open and notes by how much each
// delivers too much.
func (r *reduction) begin() {
	clear(r.taken)
	r.aimAt(0)
	r.settle(r.taken)
	for i, x := range r.reducers {
		r.over[i] = max(0, r.s.P[r.net.links[x.Link].To]-x.SetPa)
	}
}

// aimAt sets the pressures aimed at.
func (r *reduction) aimAt(part float64) {
	for i, x := range r.reducers {
		r.aim[i] = x.SetPa + float64(part*r.over[i])
	}
}

// probe is a network factored at a solution.
type probe struct {
	*solver
}

func (n *Network) probe(laws []Law, demand []float64, s *State) probe {
	w := &solver{Network: n, laws: laws, demand: demand, held: true}
	w.fit()
	w.load(s)
	w.move(0)
	w.evaluate()
	assemble(w.ducts, w.ties, w.rows, w.spokes)
	w.plan.factor(w.spokes, w.rows)
	return probe{w}
}

// rise returns by how much the pressure of each node rises per pressure taken
// away at a link.
func (p probe) rise(link int) []float64 {
	for k := range p.rows {
		p.rows[k].perGain = 0
	}
	p.push(link)
	p.holdFixed()
	p.plan.solve(p.spokes, p.rows)
	rise := make([]float64, len(p.rows))
	for k, v := range p.node {
		rise[v] = -p.rows[k].perGain
	}
	return rise
}

// eliminate solves a small system with its right side in the last column. Where
// two reducers hold one node a pivot vanishes: that unknown then stays.
func eliminate(m [][]float64) []float64 {
	k := len(m)
	for c := range k {
		best := c
		for r := c + 1; r < k; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		m[c], m[best] = m[best], m[c]
		if math.Abs(m[c][c]) < leastPivot {
			clear(m[c])
			m[c][c] = 1
			continue
		}
		for r := c + 1; r < k; r++ {
			part := m[r][c] / m[c][c]
			for j := c; j <= k; j++ {
				m[r][j] -= float64(part * m[c][j])
			}
		}
	}
	x := make([]float64, k)
	for c := k - 1; c >= 0; c-- {
		sum := m[c][k]
		for j := c + 1; j < k; j++ {
			sum -= float64(m[c][j] * x[j])
		}
		x[c] = sum / m[c][c]
	}
	return x
}
