package hydraulic

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

// randomNetwork draws a tree of 4..18 nodes with further links across it, half
// of the time with a jet pump whose three ends lie anywhere.
func randomNetwork(t *testing.T, r *repro.Stream) *Network {
	pick := func(n int) int { return int(r.Float64() * float64(n)) }
	nodes := 4 + pick(15)
	fixed := make([]bool, nodes)
	fixed[0] = true
	var links []Ends
	for v := 1; v < nodes; v++ {
		fixed[v] = r.Float64() < 0.2
		links = append(links, Ends{From: pick(v), To: v})
	}
	for range pick(12) {
		if a, b := pick(nodes), pick(nodes); a != b {
			links = append(links, Ends{From: a, To: b})
		}
	}
	if r.Float64() < 0.5 {
		entry := 1 + pick(nodes-1)
		other := func() int { return (entry + 1 + pick(nodes-1)) % nodes }
		k := len(links)
		links = append(links, Ends{From: other(), To: entry}, Ends{From: other(), To: entry},
			Ends{From: entry, To: other(), Jet: true, Nozzle: k, Suction: k + 1})
	}
	n, err := NewNetwork(nodes, fixed, links)
	require.NoError(t, err)
	return n
}

func TestRandomNetworksAreAllSolved(t *testing.T) {
	var kinds []Law
	for _, name := range slices.Sorted(maps.Keys(sampleLaws)) {
		if l := sampleLaws[name]; l.Kind != Jet && l.B+l.PipeB > 0 {
			kinds = append(kinds, l)
		}
	}
	r := repro.NewStream(1, "networks")
	for range 5000 {
		n := randomNetwork(t, &r)
		laws := make([]Law, len(n.links))
		for i := range laws {
			laws[i] = kinds[int(r.Float64()*float64(len(kinds)))]
			if r.Float64() < 0.5 {
				laws[i].RisePa = 1e5 * (r.Float64() - 0.5)
			}
		}
		if n.jet >= 0 {
			e := n.links[n.jet]
			laws[e.Nozzle], laws[e.Suction], laws[n.jet] = NewInjector(0.0009+0.0007*r.Float64(), 0.0017, r.Float64(), max(0.05, r.Float64()), 0, rho).Laws(vapourPa)
		}
		rest, stirred := n.NewState(), n.NewState()
		for v, fixed := range n.fixed {
			if fixed {
				rest.P[v] = 1e6 * r.Float64() * r.Float64()
				stirred.P[v] = rest.P[v]
			}
		}
		for i := range stirred.Q {
			stirred.Q[i] = 1e-3 * (r.Float64() - 0.5)
		}
		require.Equal(t, Solved, n.Solve(laws, nil, &rest).Status)
		require.Equal(t, Solved, n.Solve(laws, nil, &stirred).Status)
		requireSolved(t, n, laws, nil, &rest)
		for i := range rest.Q {
			require.InDelta(t, rest.Q[i], stirred.Q[i], 2e-9+1e-6*math.Abs(rest.Q[i]), "the same flow from any start")
		}
		demand := make([]float64, len(n.fixed))
		demand[len(demand)-1] = 1e-4 // behind shut seats this takes pressures beyond all reason
		require.Equal(t, Solved, n.Solve(laws, demand, &rest).Status)
	}
}
