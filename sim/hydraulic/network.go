// Package hydraulic finds the flows and pressures of a network of links at one
// moment: gauge pressures in Pa, flows in m³/s.
package hydraulic

// Ends says which nodes a link joins. A jet pump is three links that meet in its
// throat node: nozzle (… → throat), suction (… → throat) and the mixing tube with
// Jet true (throat → discharge), which names the other two.
type Ends struct {
	From, To int

	Jet             bool // its law has Kind Jet; at most one link of a network
	Nozzle, Suction int  // Jet only: indices of the nozzle's and the suction's link
}

// State holds the unknowns of a network: plain data, and the start of the next
// solve.
type State struct {
	Q []float64 // flow of each link, from → to, m³/s; written by Solve
	P []float64 // gauge pressure of each node, Pa; fixed nodes are written by the caller, the others by Solve
}

// Status tells how a solve ended.
type Status uint8

// The ends of a solve.
const (
	Solved  Status = iota // every residual is within tolerance
	Invalid               // a law, demand or fixed pressure is negative where it must not be, or not finite; State is untouched
	Stalled               // tolerance not reached; State holds the best found, finite
)

// Result is the outcome of a solve.
type Result struct {
	Status      Status
	Iterations  int     // linear solves
	ResidualM3S float64 // greatest error of continuity of a free node, m³/s
	ResidualPa  float64 // greatest error of a link's law, Pa
}

// Network is the constant part: which links join which nodes.
type Network struct {
	links []Ends
	fixed []bool
}

// NewNetwork prepares a network of the given number of nodes; fixed says which
// have a given pressure. All faults of the input are collected in the error.
func NewNetwork(nodes int, fixed []bool, links []Ends) (*Network, error) {
	return &Network{links: links, fixed: fixed}, nil
}

// NewState returns a state at rest.
func (n *Network) NewState() State {
	return State{Q: make([]float64, len(n.links)), P: make([]float64, len(n.fixed))}
}

// Solve finds flows and pressures that satisfy every law and continuity, from
// the start that s holds. demand is taken out of each node, m³/s; nil means none.
func (n *Network) Solve(laws []Law, demand []float64, s *State) Result {
	return Result{Status: Stalled}
}
