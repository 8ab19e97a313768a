package hydraulic

import "slices"

// plan is the order of elimination with its fill, found once and laid out flat:
// a program that a solve runs through. Eliminating a node of a resistor network
// turns the star of its conductances into a mesh between its neighbours and adds
// to their conductances to the fixed nodes: sums and products of positive numbers
// alone, so that a leak of 1e-15 beside an open passage keeps all its digits.
type plan struct {
	stars []star // one per free row, in order of elimination
	arms  []arm  // of all stars, star by star
	mesh  []mesh // the same
}

// star is one node at the moment of its elimination: where its arms and its mesh
// end in the lists; they begin where those of the star before end.
type star struct{ arms, mesh int }

// arm is a conductance from the row of a star to a row that is eliminated later.
type arm struct{ star, row int32 }

// mesh is a conductance, kept at arm, between the ends of two arms a and b of a star.
type mesh struct{ a, b, arm int32 }

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
		p.stars = append(p.stars, star{arms: len(p.arms)})
	}
	first := 0
	for k, near := range ends {
		for i, a := range near {
			for j, b := range near[:i] {
				p.mesh = append(p.mesh, mesh{a: int32(first + j), b: int32(first + i), arm: armOf[key(a, b)]})
			}
		}
		p.stars[k].mesh = len(p.mesh)
		first = p.stars[k].arms
	}
	for _, l := range n.links {
		t := tie{from: int32(row[l.From]), to: int32(row[l.To])}
		if t.spoke = int32(len(p.arms) + min(row[l.From], row[l.To], n.free)); !n.fixed[l.From] && !n.fixed[l.To] {
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
	pivot   float64 // reciprocal of the total conductance of the star
	traffic float64 // sum of the flows in and out, m³/s
}

// spoke is a conductance at work, and what part of its star's it is. An arm
// has one, and so has each free row for what joins it to the fixed nodes.
type spoke struct{ cond, share float64 }

// factor eliminates all free rows. On entry spokes hold the conductances of the
// links, then those at elimination.
func (p *plan) factor(spokes []spoke, rows []joint) {
	arms, meshes := p.arms, p.mesh
	grounds := spokes[len(arms):]
	first, m := 0, 0
	for k := range p.stars {
		s := &p.stars[k]
		ground := grounds[k].cond
		total := ground
		own, to := spokes[first:s.arms], arms[first:s.arms]
		for i := range own {
			total += own[i].cond
		}
		pivot := 1 / total
		rows[k].pivot = pivot
		for i := range to {
			share := float64(own[i].cond * pivot)
			own[i].share = share
			grounds[to[i].row].cond += float64(share * ground)
		}
		for _, x := range meshes[m:s.mesh] {
			spokes[x.arm].cond += float64(spokes[x.a].share * spokes[x.b].cond)
		}
		first, m = s.arms, s.mesh
	}
}

// solve turns the two flows put into each row, dp and perGain, into the pressures
// that they bring about.
func (p *plan) solve(spokes []spoke, rows []joint) {
	arms := p.arms
	spokes = spokes[:len(arms)]
	for i := range arms {
		share := spokes[i].share
		from, to := &rows[arms[i].star], &rows[arms[i].row]
		to.dp += float64(share * from.dp)
		to.perGain += float64(share * from.perGain)
	}
	for k := range rows[:len(p.stars)] {
		r := &rows[k]
		r.dp, r.perGain = float64(r.dp*r.pivot), float64(r.perGain*r.pivot)
	}
	for i := len(arms) - 1; i >= 0; i-- {
		share := spokes[i].share
		from, to := &rows[arms[i].star], &rows[arms[i].row]
		from.dp += float64(share * to.dp)
		from.perGain += float64(share * to.perGain)
	}
}
