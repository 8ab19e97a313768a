package hydraulic

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

// plainLoss is the law of each kind as the trade writes it, without the
// smoothing near rest.
func plainLoss(l *Law, q float64) float64 {
	a, b := l.A, l.B
	if q < 0 && (l.Kind == Check || l.Kind == Regulator || l.Kind == Pipe && l.BR > 0) {
		a, b = l.AR, l.BR
	}
	pa := a*q + b*q*math.Abs(q)
	switch {
	case l.Kind == Regulator && q > l.SetM3S:
		pa += l.steepB() * (q - l.SetM3S) * (q - l.SetM3S)
	case l.Kind == Bed && q < 0:
		x := -pa / l.CapPa
		pa *= (1-liftSlope)/math.Pow(1+x*x*x*x, 0.25) + liftSlope
	case l.Kind == Pipe && math.Abs(q) > 1e-100:
		pa += Friction(l.PipeRe*math.Abs(q), l.RelRough) * l.PipeB * q * math.Abs(q)
	}
	return pa + l.BasketB*q*math.Abs(q)
}

// balanceError is by how much a solution misses continuity and energy.
type balanceError struct{ gpm, psi float64 }

func (e *balanceError) add(other balanceError) {
	e.gpm, e.psi = max(e.gpm, other.gpm), max(e.psi, other.psi)
}

// smoothed is what a law may differ from the one that the trade writes: the
// smoothing near rest and the least slope, see Law.
const smoothed = 0.069

// requireSolved checks the solution against the laws as the trade writes them, to
// 1e-5 psi, and continuity to 1e-9 gpm.
func requireSolved(t *testing.T, n *Network, laws []Law, demand []float64, s *State) (worst balanceError) {
	t.Helper()
	balance := make([]float64, len(n.fixed))
	copy(balance, demand)
	for i, e := range n.links {
		balance[e.From] += s.Q[i]
		balance[e.To] -= s.Q[i]
		miss := s.P[e.From] + laws[i].RisePa - s.P[e.To] - plainLoss(&laws[i], s.Q[i])
		if i == n.jet {
			miss = jetMiss(t, n, laws, s, miss)
		}
		require.InDelta(t, 0, miss, smoothed, "energy of link %d, Pa", i)
		worst.psi = max(worst.psi, math.Abs(miss)/PaPerPsi)
	}
	for v, b := range balance {
		if !n.fixed[v] {
			require.InDelta(t, 0, b, 6.3e-14, "continuity of node %d, m³/s", v)
			worst.gpm = max(worst.gpm, math.Abs(b)/M3SPerGPM)
		}
	}
	return worst
}

// jetMiss adds the gain to the error of the mixing tube; 0 where cavitation takes
// of the gain what keeps the throat at vapour pressure.
func jetMiss(t *testing.T, n *Network, laws []Law, s *State, miss float64) float64 {
	t.Helper()
	e := n.links[n.jet]
	gain, _, _ := laws[n.jet].gain(s.Q[e.Nozzle], s.Q[e.Suction])
	v := laws[n.jet].VapourPa
	if v >= 0 || s.P[e.From] >= v+0.01 {
		return miss + gain
	}
	require.Greater(t, miss+gain, -smoothed, "cavitation takes pressure away")
	if miss < -smoothed {
		require.InDelta(t, v, s.P[e.From], 0.01, "a cavitating throat stays at vapour pressure")
	}
	return 0
}

// extremeCases is how many extreme units are solved: all in make test.
func extremeCases() int {
	if os.Getenv("BRINEBENCH_FULL") != "" {
		return 100000
	}
	return 20000
}

// None unsolved, continuity within 1e-9 gpm at every node, energy within 1e-5 psi
// on every link, cold and warm.
func TestExtremeUnitsAreAllSolved(t *testing.T) {
	cases := extremeCases()
	n := unitNetwork(t)
	r := repro.NewStream(1, "extreme")
	laws := make([]Law, numLinks)
	cold, warm := n.NewState(), n.NewState()
	var worst balanceError
	var most, total, cavitating, reversed int
	for range cases {
		randomLaws(&r, laws)
		clear(cold.Q)
		clear(cold.P)
		randomPressures(&r, cold.P)
		for v, fixed := range n.fixed {
			if fixed {
				warm.P[v] = cold.P[v]
			}
		}
		a, b := n.Solve(laws, nil, &cold), n.Solve(laws, nil, &warm)
		require.Equal(t, Solved, a.Status)
		require.Equal(t, Solved, b.Status)
		worst.add(requireSolved(t, n, laws, nil, &cold))
		worst.add(requireSolved(t, n, laws, nil, &warm))
		for i := range cold.Q {
			require.InDelta(t, cold.Q[i], warm.Q[i], 2e-9, "the same flow from rest and from another unit's flow")
		}
		most, total = max(most, a.Iterations, b.Iterations), total+a.Iterations
		if cold.P[throat] < vapourPa+0.01 {
			cavitating++
		}
		if cold.Q[suctionPort] < -1e-9 {
			reversed++
		}
	}
	require.Positive(t, cavitating)
	require.Positive(t, reversed)
	t.Logf("%d cases: none unsolved; continuity within %.2g gpm, energy within %.2g psi", cases, worst.gpm, worst.psi)
	t.Logf("linear solves from rest %.1f on average, %d at most; %d cavitating, %d reversed", float64(total)/float64(cases), most, cavitating, reversed)
}

// The guarded method alone finds the same flows as Newton.
func TestGuardedMethodSolvesExtremeUnits(t *testing.T) {
	n := unitNetwork(t)
	r := repro.NewStream(1, "guarded")
	laws := make([]Law, numLinks)
	most := 0
	for range 2000 {
		randomLaws(&r, laws)
		quick := n.NewState()
		randomPressures(&r, quick.P)
		guarded := State{Q: make([]float64, numLinks), P: append([]float64(nil), quick.P...)}
		require.Equal(t, Solved, n.Solve(laws, nil, &quick).Status)
		result := n.solve(laws, nil, &guarded, 0)
		require.Equal(t, Solved, result.Status)
		requireSolved(t, n, laws, nil, &guarded)
		for i := range quick.Q {
			require.InDelta(t, quick.Q[i], guarded.Q[i], 2e-9)
		}
		most = max(most, result.Iterations)
	}
	t.Logf("%d linear solves at most", most)
}
