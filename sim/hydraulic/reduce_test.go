package hydraulic

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

// reduced is the law of a reducer's link: an open one that loses 1 bar at 1 L/s,
// shut against reverse flow.
var reduced = Law{Kind: Check, B: 1e11, BR: 1e24}

// requireReduced checks every reducer: at its pressure, or open below it, or shut
// against a pressure above it.
func requireReduced(t *testing.T, n *Network, laws []Law, s *State, reducers []Reducer) (active, open, shut int) {
	t.Helper()
	for i, x := range reducers {
		e := n.links[x.Link]
		q, up, down := s.Q[x.Link], s.P[e.From]+laws[x.Link].RisePa, s.P[e.To]
		loss := plainLoss(&laws[x.Link], max(q, 0))
		switch {
		case q <= 1e-9:
			shut++
			require.Greater(t, q, -1e-8, "reducer %d against reverse flow", i)
			require.LessOrEqual(t, min(up, x.SetPa)-down, 0.1, "reducer %d is shut with room for flow", i)
		case up-loss > x.SetPa+0.1:
			active++
			require.InDelta(t, x.SetPa, down, 0.02, "reducer %d", i)
		default:
			open++
			require.InDelta(t, up-loss, down, 0.1, "reducer %d stands open", i)
		}
	}
	return active, open, shut
}

func TestReducerHoldsItsPressure(t *testing.T) {
	n, err := NewNetwork(4, []bool{true, false, false, true}, []Ends{{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 3}})
	require.NoError(t, err)
	pipe := Law{B: 2e11}
	laws := []Law{pipe, reduced, pipe}
	for _, row := range []struct {
		situation         string
		supply, set, back float64
		want              float64
	}{
		{"throttling", 6e5, 2e5, 0, 2e5},
		{"open, as the supply is weak", 3e5, 2e5, 0, 3e5 * 2 / 5},
		{"just reached", 5e5, 2e5, 0, 2e5},
		{"shut against a pressure above its own", 6e5, 2e5, 3e5, 3e5},
		{"shut, but no pump", 1e5, 2e5, 3e5, 3e5},
		{"set at nothing", 6e5, 0, 0, 0},
	} {
		s := n.NewState()
		s.P[0], s.P[3] = row.supply, row.back
		reducers := []Reducer{{1, row.set}}
		require.Equal(t, Solved, n.SolveReduced(laws, nil, &s, reducers).Status, row.situation)
		require.InDelta(t, row.want, s.P[2], 0.05, row.situation)
		requireReduced(t, n, laws, &s, reducers)
		require.InDelta(t, math.Copysign(math.Sqrt(math.Abs(s.P[2]-row.back)/2e11), s.P[2]-row.back), s.Q[2], 1e-6)
	}
}

func TestReducersInSeriesAndSideBySide(t *testing.T) {
	// street − a − b − tap, and c from street beside both.
	n, err := NewNetwork(6, []bool{true, false, false, false, true, false}, []Ends{
		{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 3}, {From: 1, To: 3}, {From: 3, To: 4}, {From: 3, To: 5},
	})
	require.NoError(t, err)
	laws := []Law{{B: 1e10}, reduced, reduced, reduced, {B: 2e11}, {B: 1e10}}
	for _, row := range []struct {
		situation string
		a, b, c   float64
		want      float64
	}{
		{"each lower than the last", 4e5, 2e5, 1e5, 2e5},
		{"the first decides, as it is lower", 2e5, 4e5, 1e5, 2e5},
		{"the one beside them decides", 4e5, 2e5, 3e5, 3e5},
		{"equal ones share", 4e5, 2e5, 2e5, 2e5},
		{"all equal", 2e5, 2e5, 2e5, 2e5},
	} {
		s := n.NewState()
		s.P[0] = 6e5
		reducers := []Reducer{{1, row.a}, {2, row.b}, {3, row.c}}
		require.Equal(t, Solved, n.SolveReduced(laws, nil, &s, reducers).Status, row.situation)
		require.LessOrEqual(t, s.P[3], row.want+0.02, row.situation)
		require.Greater(t, s.P[3], 0.6*row.want, row.situation)
		requireReduced(t, n, laws, &s, reducers)
	}
}

// Random networks in which a third of all links are reducers: in series, in rings,
// against one another. One tangle in two thousand is not solved, and told so.
func TestReducersAnywhereHoldOrAreToldAsStalled(t *testing.T) {
	r := repro.NewStream(1, "reducers")
	pick := func(k int) int { return int(r.Float64() * float64(k)) }
	var active, open, shut, most, stalled int
	for range 4000 {
		size := 4 + pick(12)
		fixed := make([]bool, size)
		fixed[0] = true
		fixed[size-1] = true
		fixed[pick(size)], fixed[pick(size)] = true, true
		var links []Ends
		var laws []Law
		var reducers []Reducer
		add := func(a, b int) {
			if a == b {
				return
			}
			law := Law{B: CvB(0.5+10*r.Float64(), rho), RisePa: 2e4 * (r.Float64() - 0.5)}
			switch u := r.Float64(); {
			case u < 0.35 && !fixed[b]:
				law = reduced
				law.B = CvB(0.5+10*r.Float64(), rho)
				law.RisePa = 2e4 * (r.Float64() - 0.5)
				reducers = append(reducers, Reducer{len(links), 3e5 * r.Float64()})
			case u < 0.45:
				law = FlowControlLaw(M3SPerGPM*(0.1+r.Float64()), 1e4)
			case u < 0.6:
				law = PipeLaw(10, 0.015, 1e-5, 2, rho, 0.001)
			}
			links, laws = append(links, Ends{From: a, To: b}), append(laws, law)
		}
		for v := 1; v < size; v++ {
			add(max(0, v-1-pick(3)), v)
		}
		for range pick(2 * size) {
			add(pick(size), pick(size))
		}
		n, err := NewNetwork(size, fixed, links)
		require.NoError(t, err)
		s := n.NewState()
		for v, f := range fixed {
			if f {
				s.P[v] = 4e5 * max(0, r.Float64()-0.6) // mostly open to the air
			}
		}
		s.P[0] = 3e5 + 7e5*r.Float64()
		result := n.SolveReduced(laws, nil, &s, reducers)
		if result.Status != Solved {
			stalled++
			continue
		}
		a, o, c := requireReduced(t, n, laws, &s, reducers)
		active, open, shut = active+a, open+o, shut+c
		most = max(most, result.Iterations)
	}
	require.Positive(t, min(active, open, shut))
	require.LessOrEqual(t, stalled, 4, "tangles of reducers that are told as stalled")
	t.Logf("%d throttling, %d open, %d shut; %d linear solves at most; %d stalled", active, open, shut, most, stalled)
}

func TestReducersRefuseWhatTheyCannotHold(t *testing.T) {
	n, err := NewNetwork(2, []bool{true, false}, []Ends{{From: 0, To: 1}})
	require.NoError(t, err)
	s := n.NewState()
	require.Equal(t, Invalid, n.SolveReduced([]Law{{B: 1}}, nil, &s, []Reducer{{0, 1e5}}).Status, "not a check")
	require.Equal(t, Invalid, n.SolveReduced([]Law{reduced}, nil, &s, []Reducer{{0, math.NaN()}}).Status)
	back, err := NewNetwork(2, []bool{true, false}, []Ends{{From: 1, To: 0}})
	require.NoError(t, err)
	require.Equal(t, Invalid, back.SolveReduced([]Law{reduced}, nil, &s, []Reducer{{0, 1e5}}).Status, "into a fixed node")
	require.Equal(t, Invalid, n.SolveReduced([]Law{{Kind: Check, B: -1}}, nil, &s, []Reducer{{0, 1e5}}).Status)
	require.Panics(t, func() { n.SolveReduced([]Law{reduced}, nil, &s, []Reducer{{3, 1e5}}) })
}
