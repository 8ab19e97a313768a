package headless

import (
	"fmt"
	"math"

	"brinebench/sim/hydraulic"
)

// pipework is a network of passages between points of given head, as "network"
// reads it.
type pipework struct {
	GMS2     float64 // gravity, m/s²
	RhoKgM3  float64
	MuPaS    float64
	Nodes    []point
	Passages []passage
}

// point is a node: of given head, or at an elevation and with a demand.
type point struct {
	ID         string
	Fixed      bool    // has a head
	HeadM      float64 // of a fixed node
	ElevationM float64 // of the others
	DemandLS   float64 // water taken out
}

// passage is a link; which fields count depends on its kind.
type passage struct {
	ID         string
	Kind       kind
	From, To   int // indices of nodes; an orifice has no To
	LengthM    float64
	DiameterM  float64
	RoughnessM float64
	K          float64 // velocity heads
	Check      bool
	Cd         float64
	FlowLS     float64
	PressureM  float64
}

type kind string

const (
	pipeKind      kind = "pipe"
	minorKind     kind = "minor"
	orificeKind   kind = "orifice"
	regulatorKind kind = "regulator"
	reducerKind   kind = "reducer"
)

const (
	shutHeadM = 100.0 // head at which a shut check leaks leakM3S
	leakM3S   = 1e-12
	mostLeak  = 1e-9 // reverse flow of a check, m³/s, that only an impossible demand forces
	overSet   = 1e-7 // part of its set flow by which a regulator's flow rises over the whole span of heads
	underSet  = 1e-6 // part of its set flow at which it begins below that, so that no pressure brings it above
)

// solve finds heads and flows.
func (c *pipework) solve() (networkAnswer, error) {
	n, laws, err := c.network()
	if err != nil {
		return networkAnswer{}, err
	}
	s := n.NewState()
	demand := make([]float64, len(s.P))
	weight := c.RhoKgM3 * c.GMS2
	for i, v := range c.Nodes {
		if v.Fixed {
			s.P[i] = weight * v.HeadM
		}
		demand[i] = v.DemandLS / 1000
	}
	result := n.SolveReduced(laws, demand, &s, c.reducers())
	answer := networkAnswer{
		Status: result.Status.String(), Nodes: map[string]headShown{}, Links: map[string]flowShown{},
	}
	if result.Status == hydraulic.Solved && !c.met(s.Q) {
		answer.Status = "unmet"
	}
	for i, v := range c.Nodes {
		answer.Nodes[v.ID] = headShown{s.P[i]/weight + v.ElevationM}
	}
	for i, l := range c.Passages {
		answer.Links[l.ID] = flowShown{1000 * s.Q[i]}
	}
	return answer, nil
}

// network turns nodes and links into the engine's: pressures are above those of
// water at elevation 0, each orifice leads to a node of its own in the air.
func (c *pipework) network() (*hydraulic.Network, []hydraulic.Law, error) {
	var fixed []bool
	var elevation []float64
	for _, v := range c.Nodes {
		fixed, elevation = append(fixed, v.Fixed), append(elevation, v.ElevationM)
	}
	var ends []hydraulic.Ends
	var laws []hydraulic.Law
	span := c.spanPa()
	for i := range c.Passages {
		l := &c.Passages[i]
		e := hydraulic.Ends{From: l.From, To: l.To}
		if l.Kind == orificeKind {
			e.To = len(fixed)
			fixed, elevation = append(fixed, true), append(elevation, elevation[e.From])
		}
		law := c.law(l, span)
		law.RisePa = c.RhoKgM3 * c.GMS2 * (elevation[e.From] - elevation[e.To])
		ends, laws = append(ends, e), append(laws, law)
	}
	n, err := hydraulic.NewNetwork(len(fixed), fixed, ends)
	return n, laws, err
}

// law returns the law of a link without its elevation.
func (c *pipework) law(l *passage, spanPa float64) hydraulic.Law {
	shut := shutHeadM * c.RhoKgM3 * c.GMS2 / (leakM3S * leakM3S)
	b := hydraulic.MinorB(l.K, l.DiameterM, c.RhoKgM3)
	switch l.Kind {
	case pipeKind:
		law := hydraulic.PipeLaw(l.LengthM, l.DiameterM, l.RoughnessM, l.K, c.RhoKgM3, c.MuPaS)
		if l.Check {
			law.BR = shut
		}
		return law
	case orificeKind: // draws no air in
		return hydraulic.Law{Kind: hydraulic.Check, B: hydraulic.OrificeB(l.Cd, l.DiameterM, c.RhoKgM3), BR: shut}
	case regulatorKind:
		set := l.FlowLS / 1000
		over := overSet * set
		return hydraulic.Law{
			Kind: hydraulic.Regulator, B: b, BR: b, SetM3S: set * (1 - underSet), SteepB: spanPa / (over * over),
		}
	case reducerKind:
		return hydraulic.Law{Kind: hydraulic.Check, B: b, BR: shut}
	}
	if l.Check {
		return hydraulic.Law{Kind: hydraulic.Check, B: b, BR: shut}
	}
	return hydraulic.Law{B: b}
}

// reducers lists the reducers with the pressures they hold.
func (c *pipework) reducers() []hydraulic.Reducer {
	var list []hydraulic.Reducer
	for i, l := range c.Passages {
		if l.Kind == reducerKind {
			list = append(list, hydraulic.Reducer{Link: i, SetPa: c.RhoKgM3 * c.GMS2 * l.PressureM})
		}
	}
	return list
}

// spanPa is a pressure difference that no link of the network exceeds when every
// demand can be met.
func (c *pipework) spanPa() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range c.Nodes {
		low, high = min(low, v.HeadM+v.ElevationM), max(high, v.HeadM+v.ElevationM)
	}
	return (high - low + 10) * c.RhoKgM3 * c.GMS2
}

// met tells whether no regulator is forced above its flow and nothing shut is
// forced open, as where a demand has no other way.
func (c *pipework) met(q []float64) bool {
	for i, l := range c.Passages {
		oneWay := l.Check || l.Kind == orificeKind || l.Kind == reducerKind
		if oneWay && q[i] < -mostLeak || l.Kind == regulatorKind && q[i] > l.FlowLS/1000 {
			return false
		}
	}
	return true
}

// islands names the nodes that no link joins to a node of given head.
func (c *pipework) islands() []string {
	near := make([][]int, len(c.Nodes))
	for _, l := range c.Passages {
		if l.Kind != orificeKind {
			near[l.From], near[l.To] = append(near[l.From], l.To), append(near[l.To], l.From)
		}
	}
	reached := make([]bool, len(c.Nodes))
	var queue []int
	for i, v := range c.Nodes {
		if v.Fixed {
			reached[i], queue = true, append(queue, i)
		}
	}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, u := range near[v] {
			if !reached[u] {
				reached[u], queue = true, append(queue, u)
			}
		}
	}
	var faults []string
	for i, ok := range reached {
		if !ok {
			faults = append(faults, fmt.Sprintf("nodes[%d]: %q: no link leads from it to a node with head_m", i, c.Nodes[i].ID))
		}
	}
	return faults
}
