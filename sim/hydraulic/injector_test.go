package hydraulic

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// draw solves a unit in brine draw whose brine line is open both ways and returns
// the flows of suction and drain, gpm.
func draw(t *testing.T, psi float64, change func([]Law)) (drawnGPM, drainGPM float64, s State) {
	t.Helper()
	n, laws := unitNetwork(t), drawLaws()
	laws[airCheck] = Law{B: CvB(2, rho)}
	change(laws)
	s = n.NewState()
	s.P[street] = psi * PaPerPsi
	require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
	requireSolved(t, n, laws, nil, &s)
	return s.Q[suctionPort] / M3SPerGPM, s.Q[drainPipe] / M3SPerGPM, s
}

func healthy([]Law) {}

// The figures of the design of the bench.
func TestInjectorDrawsItsRate(t *testing.T) {
	drawn, total, s := draw(t, 55, healthy)
	require.InDelta(t, 0.22, drawn, 0.015)
	require.InDelta(t, 0.51, total, 0.015)
	require.Less(t, s.P[throat], 0.0, "the throat is under vacuum")
	require.Greater(t, s.P[bedTop], 0.0)
}

func TestDrawFallsWithSupplyPressure(t *testing.T) {
	last := -1.0
	for psi := 2.0; psi <= 150; psi += 2 {
		drawn, _, s := draw(t, psi, healthy)
		if s.P[throat] > vapourPa+0.01 {
			require.Greater(t, drawn, last, "at %g psi", psi)
		} else {
			require.InEpsilon(t, last, drawn, 0.02, "at %g psi a cavitating throat draws all it can", psi)
		}
		last = drawn
	}
	drawn, _, _ := draw(t, 1, healthy)
	require.Negative(t, drawn, "too little pressure to lift the brine")
}

func TestDrawFallsWithBackPressureUntilItReverses(t *testing.T) {
	last := 1.0
	for back := 0.0; back <= 40; back += 1 {
		drawn, _, _ := draw(t, 55, func(l []Law) { l[drainPipe].RisePa = -back * PaPerPsi })
		require.Less(t, drawn, last, "at %g psi", back)
		last = drawn
	}
	require.Negative(t, last)
}

func TestPluggedNozzleWeakensThenReversesTheBrineLine(t *testing.T) {
	last := 1.0
	for _, open := range []float64{0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0.05, 0.03} {
		drawn, _, _ := draw(t, 55, func(l []Law) {
			l[nozzle], l[suctionPort], l[mixing] = NewInjector(0.0009, 0.0017, open, 1, 0, rho).Laws(vapourPa)
		})
		require.Less(t, drawn, last, "open %g", open)
		last = drawn
	}
	require.Negative(t, last)
}

func TestPluggedThroatFloodsTheBrineLine(t *testing.T) {
	last := 1.0
	for _, open := range []float64{1, 0.8, 0.6, 0.4, 0.3, 0.2, 0.1} {
		drawn, _, _ := draw(t, 55, func(l []Law) {
			l[nozzle], l[suctionPort], l[mixing] = NewInjector(0.0009, 0.0017, 1, open, 0, rho).Laws(vapourPa)
		})
		require.Less(t, drawn, last, "open %g", open)
		last = drawn
	}
	require.Less(t, last, -0.05)
}

func TestBlockedDrainReversesTheBrineLine(t *testing.T) {
	last := 1.0
	for _, open := range []float64{1, 0.5, 0.2, 0.1, 0.05, 0.01, 0} {
		drawn, _, _ := draw(t, 55, func(l []Law) { l[drainControl].B = PluggedB(l[drainControl].B, open) })
		require.Less(t, drawn, last, "open %g", open)
		last = drawn
	}
	require.Less(t, last, -0.1)
}

func TestScreenMattersOnlyWhenNearlyShut(t *testing.T) {
	clean, _, _ := draw(t, 55, healthy)
	screened := func(open float64) float64 {
		drawn, _, _ := draw(t, 55, func(l []Law) { l[screenMesh].B = PluggedB(CvB(2, rho), open) })
		return drawn / clean
	}
	require.Greater(t, screened(0.5), 0.99)
	require.Greater(t, screened(0.1), 0.95)
	require.Less(t, screened(0.01), 0.5)
	require.Negative(t, screened(0.001))
}

func TestWearWeakensTheDraw(t *testing.T) {
	last := 1.0
	for wear := 0.0; wear <= 1; wear += 0.25 {
		drawn, _, _ := draw(t, 55, func(l []Law) {
			l[nozzle], l[suctionPort], l[mixing] = NewInjector(0.0009, 0.0017, 1, 1, wear, rho).Laws(vapourPa)
		})
		require.Less(t, drawn, last, "wear %g", wear)
		last = drawn
	}
}

func TestRefillRunsBackThroughTheThroat(t *testing.T) {
	n := unitNetwork(t)
	laws := openLaws(passSeat, upflowSeat, backwashSeat, rinseSeat, motiveSeat, houseTap, rawTap, crossing)
	laws[airCheck] = Law{B: CvB(2, rho)}
	laws[brinePipe].B = CvB(0.06, rho)
	s := n.NewState()
	s.P[street] = 55 * PaPerPsi
	require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
	refill := -s.Q[brinePipe] / M3SPerGPM
	require.Greater(t, refill, 0.1)
	require.InDelta(t, s.Q[mixing], s.Q[suctionPort], 1e-8, "all of it through the throat")
	require.InDelta(t, s.Q[inletSeat], -s.Q[mixing], 1e-8, "from above the bed")
}
