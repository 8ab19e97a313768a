package hydraulic

import "math"

const (
	reducedPa    = 1e-4 // a reducer holds its pressure within this, Pa, and a part of what it takes away
	reducedPart  = 1e-12
	newtonRounds = 60  // Newton steps on the reducers together
	sweepRounds  = 200 // sweeps over the reducers one by one
	leastPivot   = 1e-9
)

// Reducer is a pressure reducing valve on a link: it throttles so that the
// pressure at the link's To is SetPa at most, stands open below that, and its
// link's law, of Kind Check, keeps it shut against reverse flow.
type Reducer struct {
	Link  int
	SetPa float64 // gauge pressure at the link's To, Pa
}

// SolveReduced is Solve for a network with reducers, two at one link at most one.
// A reducer takes away the pressure T ≥ 0; with E the pressure that the link
// would deliver open, at its present flow, the solution has T = max(0, E − SetPa)
// at every reducer. Newton steps on all T together find it, each from exact
// derivatives and held to progress; where they stop, each T is bracketed in turn,
// over and over: its own condition rises with it. Reducers in series, side by
// side or against one another are all allowed. It allocates.
func (n *Network) SolveReduced(laws []Law, demand []float64, s *State, reducers []Reducer) Result {
	if len(reducers) == 0 {
		return n.Solve(laws, demand, s)
	}
	r := &reduction{
		net: n, open: laws, laws: append([]Law(nil), laws...), demand: demand, s: s, reducers: reducers,
		taken: make([]float64, len(reducers)), miss: make([]float64, len(reducers)),
	}
	for _, x := range reducers {
		if x.Link < 0 || x.Link >= len(n.links) {
			panic("hydraulic: SolveReduced: a reducer on no link")
		}
		if laws[x.Link].Kind != Check || !finite(x.SetPa) {
			return Result{Status: Invalid}
		}
	}
	for range sweepRounds {
		if r.settle(r.taken); r.result.Status == Invalid || r.newton() {
			return r.result
		}
		r.sweep()
	}
	r.result.Status = Stalled
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
	result Result    // of the last solve
	steps  int       // linear solves of all
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

// excess is how much more than its set pressure a reducer would deliver open.
func (r *reduction) excess(i int) float64 {
	x := &r.reducers[i]
	e := &r.net.links[x.Link]
	if r.s.Q[x.Link] > 0 {
		return r.s.P[e.To] + r.taken[i] - x.SetPa
	}
	return r.s.P[e.From] + r.open[x.Link].RisePa - x.SetPa
}

// newton steps until every condition holds; false when a step brings nothing.
func (r *reduction) newton() bool {
	worst := r.settle(r.taken)
	trial := make([]float64, len(r.taken))
	for range newtonRounds {
		if worst <= 1 {
			return true
		}
		d := r.direction()
		start := append([]float64(nil), r.taken...)
		better := worst
		for t := 1.0; t > 0.01 && better >= worst; t /= 2 {
			for i := range trial {
				trial[i] = max(0, start[i]+float64(t*d[i]))
			}
			better = r.settle(trial)
		}
		if better >= worst {
			r.settle(start)
			return false
		}
		worst = better
	}
	return worst <= 1
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
	probe := r.net.probe(r.laws, r.demand, r.s)
	for j := range r.reducers {
		dp := probe.rise(r.reducers[j].Link)
		for i, x := range r.reducers {
			if r.excess(i) <= 0 {
				continue
			}
			row := r.net.row[x.Link]
			switch {
			case r.s.Q[x.Link] <= 0:
				m[i][j] -= dp[row[0]]
			case i == j:
				m[i][j] = -dp[row[1]]
			default:
				m[i][j] -= dp[row[1]]
			}
		}
	}
	return eliminate(m)
}

// sweep brackets each reducer's own condition with the others held.
func (r *reduction) sweep() {
	for i := range r.reducers {
		r.bracket(i)
	}
}

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
	high, fHigh := -fLow, at(-fLow)
	for tries := 0; fHigh < 0 && tries < 60; tries++ {
		low, fLow = high, fHigh
		high *= 2
		fHigh = at(high)
	}
	for side, rounds := 0, 0; rounds < 60; rounds++ {
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

// probe is a network factored at a solution.
type probe struct {
	*solver
}

func (n *Network) probe(laws []Law, demand []float64, s *State) probe {
	links, rows := len(n.links), len(n.node)+1
	w := &solver{
		Network: n, laws: laws, demand: demand, q: s.Q, p: s.P,
		g: make([]float64, links), miss: make([]float64, links), dq: make([]float64, links),
		dp: make([]float64, rows), perGain: make([]float64, rows), ground: make([]float64, rows), pivot: make([]float64, rows),
		cond: make([]float64, n.plan.slots), held: true,
	}
	w.evaluate()
	w.assemble()
	w.plan.factor(w.cond, w.ground, w.pivot)
	return probe{w}
}

// rise returns by how much the pressure of each row rises per pressure taken
// away at a link.
func (p probe) rise(link int) []float64 {
	clear(p.perGain)
	row := p.row[link]
	p.perGain[row[0]] += p.g[link]
	p.perGain[row[1]] -= p.g[link]
	p.perGain[len(p.node)] = 0
	p.plan.solve(p.cond, p.pivot, p.perGain)
	return p.perGain
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
