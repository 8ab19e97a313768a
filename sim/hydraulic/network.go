// Package hydraulic finds the flows and pressures of a network of passages at
// one moment: gauge pressures in Pa, flows in m³/s.
//
// The method is Newton on link flows with elimination to the nodes (the global
// gradient method of Todini & Pilati, 1988). The jet pump adds one unknown, the
// pressure its mixing tube gains; with that held the network is monotone and its
// nodal matrix is the conductance matrix of a resistor network.
package hydraulic

import (
	"errors"
	"fmt"
)

// Ends says which nodes a link joins. A jet pump is three links that meet in its
// throat node: nozzle (… → throat), suction (… → throat) and the mixing tube with
// Jet true (throat → discharge), which names the other two.
type Ends struct {
	From, To int

	Jet             bool // the mixing tube of a jet pump, its law of Kind Jet; at most one in a network
	Nozzle, Suction int  // Jet only: indices of the nozzle's and the suction's link
}

// State holds the unknowns of a network: plain data, and the start of the next
// solve. Anything finite will do as a start.
type State struct {
	Q []float64 // flow of each link, from → to, m³/s; written by Solve
	P []float64 // gauge pressure of each node, Pa; fixed nodes are written by the caller, the others by Solve
}

// Status tells how a solve ended.
type Status uint8

// The ends of a solve.
const (
	Solved  Status = iota // every residual is within tolerance
	Invalid               // a law, demand or fixed pressure is out of range or not finite; State is untouched
	Stalled               // tolerance not reached; State holds the best found, finite
)

// String returns the status as a report writes it.
func (s Status) String() string {
	switch s {
	case Solved:
		return "solved"
	case Invalid:
		return "invalid"
	}
	return "stalled"
}

// Result is the outcome of a solve.
type Result struct {
	Status      Status
	Iterations  int     // linear solves
	ResidualM3S float64 // greatest error of continuity at a free node, m³/s
	ResidualPa  float64 // greatest error of a link's law, Pa
}

// Network is the constant part: which links join which nodes, and the order in
// which the nodes are eliminated. It may be shared.
type Network struct {
	links []Ends
	fixed []bool
	jet   int   // index of the jet's link, −1 for none
	node  []int // of each row: its node; the free ones first, in order of elimination, then the fixed ones
	free  int   // how many rows are free
	ties  []tie // of each link
	plan  plan
}

// tie says where a link stands in the linear system: the rows of its ends, which of
// them is eliminated first, and the spoke that keeps its conductance.
type tie struct{ from, to, first, spoke int32 }

// NewNetwork prepares a network of the given number of nodes; fixed says which
// have a given pressure. All faults of the input are collected in the error: a
// bad index, a link from a node to itself, a part without a fixed node, more than
// one jet, a jet whose nozzle and suction do not lead to its throat. A network
// whose elimination would take more than a million products is refused too.
func NewNetwork(nodes int, fixed []bool, links []Ends) (*Network, error) {
	n := &Network{links: append([]Ends(nil), links...), fixed: append([]bool(nil), fixed...), jet: -1}
	if err := n.check(nodes); err != nil {
		return nil, err
	}
	for i, l := range n.links {
		if l.Jet {
			n.jet = i
		}
	}
	if !n.order() {
		return nil, fmt.Errorf("hydraulic: %d links between %d nodes are too closely meshed to solve", len(links), nodes)
	}
	return n, nil
}

// NewState returns a state at rest.
func (n *Network) NewState() State {
	return State{Q: make([]float64, len(n.links)), P: make([]float64, len(n.fixed))}
}

// check collects the faults of the input.
func (n *Network) check(nodes int) error {
	if len(n.fixed) != nodes || nodes < 1 {
		return fmt.Errorf("hydraulic: %d nodes, but fixed is given for %d", nodes, len(n.fixed))
	}
	var errs []error
	fail := func(format string, args ...any) { errs = append(errs, fmt.Errorf("hydraulic: "+format, args...)) }
	jets := 0
	for i, l := range n.links {
		if l.From < 0 || l.From >= nodes || l.To < 0 || l.To >= nodes {
			fail("link %d: from %d to %d: no such node", i, l.From, l.To)
		} else if l.From == l.To {
			fail("link %d: from node %d to itself", i, l.From)
		}
		if l.Jet {
			jets++
			n.checkFeed(fail, i, "nozzle", l.Nozzle)
			n.checkFeed(fail, i, "suction", l.Suction)
		}
	}
	if jets > 1 {
		fail("%d jet pumps: one at most", jets)
	}
	if len(errs) == 0 {
		n.checkIslands(fail)
	}
	return errors.Join(errs...)
}

// checkFeed refuses a nozzle or suction that is no link into the jet's throat.
func (n *Network) checkFeed(fail func(string, ...any), jet int, what string, feed int) {
	if feed < 0 || feed >= len(n.links) || feed == jet {
		fail("link %d: %s %d: no such link", jet, what, feed)
	} else if n.links[feed].To != n.links[jet].From {
		fail("link %d: %s %d does not lead to its throat, node %d", jet, what, feed, n.links[jet].From)
	}
}

// checkIslands refuses nodes that no path joins to a fixed node.
func (n *Network) checkIslands(fail func(string, ...any)) {
	reached := append([]bool(nil), n.fixed...)
	for grown := true; grown; {
		grown = false
		for _, l := range n.links {
			if reached[l.From] != reached[l.To] {
				reached[l.From], reached[l.To], grown = true, true, true
			}
		}
	}
	for i, ok := range reached {
		if !ok {
			fail("node %d: no path to a fixed node", i)
		}
	}
}
