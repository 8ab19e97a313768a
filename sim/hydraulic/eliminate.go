package hydraulic

import "slices"

// plan is the order of elimination with its fill, found once and laid out flat:
// a program that a solve runs through. Eliminating a node of a resistor network
// turns the star of its conductances into a mesh between its neighbours and adds
// to their conductances to the fixed nodes: sums and products of positive numbers
// alone, so that a leak of 1e-15 beside an open passage keeps all its digits.
type plan struct {
	arms []arm  // of all stars, in order of elimination
	mesh []mesh // the same
	ends []int  // of each star: where its mesh ends; it begins where that of the star before ends
}

// arm is a conductance from the row of a star to a row that is eliminated later.
type arm struct{ star, row int32 }

// mesh is a conductance, kept at spoke, between the ends of two arms a and b of a
// star, or between the end of a and the fixed nodes, then b is the star's own
// conductance to them; first is the end that is eliminated before the other.
type mesh struct{ a, b, spoke, first int32 }

// mostMesh is the greatest number of products that an elimination may take: a
// network of thousands of nodes that has no parts is refused, not waited for.
const mostMesh = 1e6

// order numbers the free nodes by least degree and lays out the fill. It tells
// whether that is within mostMesh.
func (n *Network) order() bool {
	next := n.adjacency()
	row := slices.Repeat([]int{-1}, len(n.fixed))
	var ends [][]int // of each star, the nodes at its arms
	products := 0
	for v := n.least(next, row); v >= 0; v = n.least(next, row) {
		near := next[v]
		if products += len(near) * (len(near) - 1) / 2; products > mostMesh {
			return false
		}
		for i, a := range near {
			next[a] = without(next[a], v)
			for _, b := range near[:i] {
				next[a], next[b] = with(next[a], b), with(next[b], a)
			}
		}
		row[v] = len(n.node)
		n.node = append(n.node, v)
		ends = append(ends, near)
	}
	n.free = len(n.node)
	for v, fixed := range n.fixed {
		if fixed {
			row[v] = len(n.node)
			n.node = append(n.node, v)
		}
	}
	n.layOut(row, ends)
	return true
}

// layOut writes the program, given the row of each node and the ends of each star.
func (n *Network) layOut(row []int, ends [][]int) {
	p := &n.plan
	armOf := map[[2]int]int32{}
	key := func(a, b int) [2]int { return [2]int{min(row[a], row[b]), max(row[a], row[b])} }
	for k, near := range ends {
		for _, v := range near {
			armOf[key(n.node[k], v)] = int32(len(p.arms))
			p.arms = append(p.arms, arm{star: int32(k), row: int32(row[v])})
		}
	}
	ground := func(v int) int32 { return int32(len(p.arms) + row[v]) }
	for k, near := range ends {
		for _, a := range near {
			own := armOf[key(n.node[k], a)]
			p.mesh = append(p.mesh, mesh{a: own, b: ground(n.node[k]), spoke: ground(a), first: int32(row[a])})
			for _, b := range near {
				if row[a] < row[b] {
					p.mesh = append(p.mesh, mesh{a: own, b: armOf[key(n.node[k], b)], spoke: armOf[key(a, b)], first: int32(row[a])})
				}
			}
		}
		p.ends = append(p.ends, len(p.mesh))
	}
	for _, l := range n.links {
		t := tie{from: int32(row[l.From]), to: int32(row[l.To]), first: int32(min(row[l.From], row[l.To]))}
		if t.spoke = int32(len(p.arms) + min(int(t.first), n.free)); !n.fixed[l.From] && !n.fixed[l.To] {
			t.spoke = armOf[key(l.From, l.To)]
		}
		n.ties = append(n.ties, t)
	}
}

// adjacency lists the free neighbours of each free node in rising order.
func (n *Network) adjacency() [][]int {
	next := make([][]int, len(n.fixed))
	for _, l := range n.links {
		if !n.fixed[l.From] && !n.fixed[l.To] {
			next[l.From], next[l.To] = with(next[l.From], l.To), with(next[l.To], l.From)
		}
	}
	return next
}

// least returns the free node without a row that has the fewest neighbours left,
// −1 when none is left.
func (n *Network) least(next [][]int, row []int) int {
	best, fewest := -1, len(next)
	for v := range next {
		if !n.fixed[v] && row[v] < 0 && len(next[v]) < fewest {
			best, fewest = v, len(next[v])
		}
	}
	return best
}

// with adds v to a rising list, without removes it.
func with(list []int, v int) []int {
	i, found := slices.BinarySearch(list, v)
	if found {
		return list
	}
	return slices.Insert(list, i, v)
}

func without(list []int, v int) []int {
	i, found := slices.BinarySearch(list, v)
	if !found {
		return list
	}
	return slices.Delete(list, i, i+1)
}

// joint is a row at work. Of a fixed node only the pressure means something.
type joint struct {
	p       float64 // pressure, Pa
	dp      float64 // net inflow, m³/s, then the step of the pressure
	perGain float64 // inflow, then step of the pressure, per pressure gained in the jet
	total   float64 // conductance of all that joins it to rows after it
	pivot   float64 // 1/total at elimination
	traffic float64 // sum of the flows in and out, m³/s
}

// spoke is a conductance at work, and what part of its star's it is. An arm
// has one, and so has each free row for what joins it to the fixed nodes.
type spoke struct{ cond, share float64 }

// factor eliminates all free rows. On entry spokes and totals hold the
// conductances of the links, then those at elimination.
//
//go:noinline
func (p *plan) factor(spokes []spoke, rows []joint) {
	mesh, first := p.mesh, 0
	rows = rows[:len(p.ends)]
	for k, end := range p.ends {
		pivot := 1 / rows[k].total
		rows[k].pivot = pivot
		for _, x := range mesh[first:end] {
			g := float64(float64(spokes[x.a].cond*pivot) * spokes[x.b].cond)
			spokes[x.spoke].cond += g
			rows[x.first].total += g
		}
		first = end
	}
}

// solve turns the two flows put into each row, dp and perGain, into the pressures
// that they bring about.
func (p *plan) solve(spokes []spoke, rows []joint) {
	spokes = spokes[:len(p.arms)]
	forward(p.arms, spokes, rows)
	for k := range rows[:len(p.ends)] {
		r := &rows[k]
		r.dp, r.perGain = float64(r.dp*r.pivot), float64(r.perGain*r.pivot)
	}
	backward(p.arms, spokes, rows)
}

// forward passes what flows into each star on along its arms.
//
//go:noinline
func forward(arms []arm, spokes []spoke, rows []joint) {
	spokes = spokes[:len(arms)]
	for i := range arms {
		from, to := &rows[arms[i].star], &rows[arms[i].row]
		share := float64(spokes[i].cond * from.pivot)
		spokes[i].share = share
		to.dp += float64(share * from.dp)
		to.perGain += float64(share * from.perGain)
	}
}

// backward adds to the pressure of each star what stands at the ends of its arms.
//
//go:noinline
func backward(arms []arm, spokes []spoke, rows []joint) {
	spokes = spokes[:len(arms)]
	for i := len(arms) - 1; i >= 0; i-- {
		share := spokes[i].share
		from, to := &rows[arms[i].star], &rows[arms[i].row]
		from.dp += float64(share * to.dp)
		from.perGain += float64(share * to.perGain)
	}
}
