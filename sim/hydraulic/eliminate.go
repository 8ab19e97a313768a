package hydraulic

import "slices"

// plan is the order of elimination with its fill, found once. Eliminating a node
// of a resistor network turns the star of its conductances into a mesh between
// its neighbours and adds to their conductances to the fixed nodes: sums and
// products of positive numbers alone, so that a leak of 1e-15 beside an open
// passage keeps all its digits.
type plan struct {
	slots int    // conductances between free nodes, with fill
	stars []star // in order of elimination
}

// star is one node at the moment of its elimination.
type star struct {
	arms []arm
	mesh []mesh
}

// arm is a conductance to a node that is eliminated later.
type arm struct{ row, slot int }

// mesh is a conductance between the ends of two arms a and b of a star.
type mesh struct{ a, b, slot int }

// mostMesh is the greatest number of products that an elimination may take: a
// network of thousands of nodes that has no parts is refused, not waited for.
const mostMesh = 1e6

// order numbers the free nodes by least degree and lays out the fill. It tells
// whether that is within mostMesh.
func (n *Network) order() bool {
	next := n.adjacency()
	slotOf := map[[2]int]int{}
	slot := func(a, b int) int {
		key := [2]int{min(a, b), max(a, b)}
		if _, ok := slotOf[key]; !ok {
			slotOf[key] = len(slotOf)
		}
		return slotOf[key]
	}
	row := slices.Repeat([]int{-1}, len(n.fixed))
	var ends [][]int
	products := 0
	for v := n.least(next, row); v >= 0; v = n.least(next, row) {
		near := next[v]
		if products += len(near) * (len(near) - 1) / 2; products > mostMesh {
			return false
		}
		var s star
		for i, a := range near {
			s.arms = append(s.arms, arm{slot: slot(v, a)})
			next[a] = without(next[a], v)
			for j, b := range near[:i] {
				s.mesh = append(s.mesh, mesh{j, i, slot(a, b)})
				next[a], next[b] = with(next[a], b), with(next[b], a)
			}
		}
		row[v] = len(n.node)
		n.node = append(n.node, v)
		n.plan.stars = append(n.plan.stars, s)
		ends = append(ends, near)
	}
	for k, near := range ends {
		for i, v := range near {
			n.plan.stars[k].arms[i].row = row[v]
		}
	}
	for v, fixed := range n.fixed {
		if fixed {
			row[v] = len(n.node)
		}
	}
	n.slot, n.row = make([]int, len(n.links)), make([][2]int, len(n.links))
	for i, l := range n.links {
		n.slot[i], n.row[i] = -1, [2]int{row[l.From], row[l.To]}
		if !n.fixed[l.From] && !n.fixed[l.To] {
			n.slot[i] = slot(l.From, l.To)
		}
	}
	n.plan.slots = len(slotOf)
	return true
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

// factor eliminates all nodes. cond holds the conductance of each slot and
// becomes that at elimination, ground that of each row to the fixed nodes;
// pivot receives the reciprocal of the total of each star.
func (p *plan) factor(cond, ground, pivot []float64) {
	for k := range p.stars {
		s := &p.stars[k]
		total := ground[k]
		for _, a := range s.arms {
			total += cond[a.slot]
		}
		part := 1 / total
		pivot[k] = part
		for _, a := range s.arms {
			ground[a.row] += float64(cond[a.slot] * part * ground[k])
		}
		for _, m := range s.mesh {
			cond[m.slot] += float64(cond[s.arms[m.a].slot] * part * cond[s.arms[m.b].slot])
		}
	}
}

// solve turns the flow b put into each row into the pressure of each row.
func (p *plan) solve(cond, pivot, b []float64) {
	for k := range p.stars {
		share := float64(b[k] * pivot[k])
		for _, a := range p.stars[k].arms {
			b[a.row] += float64(cond[a.slot] * share)
		}
	}
	for k := len(p.stars) - 1; k >= 0; k-- {
		sum := b[k]
		for _, a := range p.stars[k].arms {
			sum += float64(cond[a.slot] * b[a.row])
		}
		b[k] = sum * pivot[k]
	}
}
