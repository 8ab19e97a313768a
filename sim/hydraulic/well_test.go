package hydraulic

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const litre = 1e-3

// A pump for a house: 10 gpm at 40 psi, 90 psi at rest above the lift; a tank of
// 20 gal, 28 psi, switch 30/50 psi.
func houseWell() *Well {
	return &Well{
		ShutoffPa: 90 * PaPerPsi, PumpB: PumpB(90*PaPerPsi, 40*PaPerPsi, 10*M3SPerGPM),
		TankM3: 20 * 60 * M3SPerGPM, PrechargePa: 28 * PaPerPsi, CutInPa: 30 * PaPerPsi, CutOutPa: 50 * PaPerPsi,
	}
}

// Boyle: 20 gal·(28+14.696)·(1/44.696 − 1/64.696) = 5.906 gal. Common practice
// has "about 6 gal" for such a tank.
func TestPressureTankGivesItsDrawdown(t *testing.T) {
	w := houseWell()
	gallon := 60 * M3SPerGPM
	require.InDelta(t, 5.906, (w.WaterM3(w.CutOutPa)-w.WaterM3(w.CutInPa))/gallon, 1e-3)
	s := WellState{WaterM3: w.WaterM3(w.CutOutPa)}
	drawn := 0.0
	for s.Starts == 0 {
		w.Step(&s, 0.01, 1*M3SPerGPM)
		drawn += 0.01 * M3SPerGPM
	}
	require.InDelta(t, 5.906, drawn/gallon, 2e-3)
	for _, pa := range []float64{w.PrechargePa, 2e5, 3e5, 6e5} {
		require.InDelta(t, pa, w.PressurePa(w.WaterM3(pa)), 1e-6)
		require.InEpsilon(t, (w.PrechargePa+AtmospherePa)*w.TankM3, (pa+AtmospherePa)*(w.TankM3-w.WaterM3(pa)), 1e-12)
	}
}

func TestWellPumpStaysBetweenItsPressures(t *testing.T) {
	w := houseWell()
	s := WellState{}
	w.Step(&s, 600, 0)
	require.Equal(t, 1, s.Starts)
	require.False(t, s.Running)
	require.InDelta(t, w.CutOutPa, w.PressurePa(s.WaterM3), 1)
	for range 3600 {
		w.Step(&s, 1, 3*M3SPerGPM)
		pa := w.PressurePa(s.WaterM3)
		require.GreaterOrEqual(t, pa, w.CutInPa-1)
		require.LessOrEqual(t, pa, w.CutOutPa+1)
	}
	require.Greater(t, s.Starts, 10)
	require.Zero(t, s.ShortM3)
}

func TestWellConservesWater(t *testing.T) {
	for _, draw := range []float64{0, 0.2, 3, 9, 30} {
		w := houseWell()
		s := WellState{WaterM3: w.WaterM3(w.CutOutPa)}
		start := s.WaterM3
		for range 900 {
			w.Step(&s, 1, draw*M3SPerGPM)
		}
		require.InDelta(t, s.PumpedM3, s.WaterM3-start+900*draw*M3SPerGPM-s.ShortM3, 1e-9, "%g gpm", draw)
	}
}

func TestWellSwitchesAtTheSameMomentsWhateverTheStep(t *testing.T) {
	w := houseWell()
	run := func(dt float64) WellState {
		s := WellState{WaterM3: w.WaterM3(w.CutOutPa)}
		for range int(1800 / dt) {
			w.Step(&s, dt, 4*M3SPerGPM)
		}
		return s
	}
	fine := run(0.125)
	for _, dt := range []float64{0.5, 5, 1800} {
		s := run(dt)
		require.Equal(t, fine.Starts, s.Starts)
		require.InDelta(t, fine.WaterM3, s.WaterM3, 1e-4*litre, "step %g s", dt)
	}
}

// Drawn more than the pump gives, the tank empties and the pump runs on.
// A tank at rest is passed over quickly, to the very bits that looking at the switch after
// every stretch gives.
func TestWellAtRestIsPassedOverWithoutAChange(t *testing.T) {
	for _, drawGPM := range []float64{0, 1e-12, 1e-6, 0.01, 0.2, 3} {
		w := houseWell()
		long := WellState{WaterM3: w.WaterM3(w.CutOutPa) / 3 * 2}
		short := long
		for range 20 {
			const dt = 61.3
			w.Step(&long, dt, drawGPM*M3SPerGPM)
			for left := dt; left > 0; left -= min(left, wellStep) {
				w.Step(&short, min(left, wellStep), drawGPM*M3SPerGPM)
			}
			require.Equal(t, short.Starts, long.Starts)
			if long.Starts > 0 {
				break // from there the stretches begin at another moment
			}
			require.Equal(t, short, long, "%g gpm", drawGPM)
		}
	}
}

func TestWellThatIsOverdrawnFallsShort(t *testing.T) {
	w := houseWell()
	s := WellState{WaterM3: w.WaterM3(w.CutOutPa)}
	w.Step(&s, 600, 20*M3SPerGPM)
	require.True(t, s.Running)
	require.Zero(t, s.WaterM3)
	require.Positive(t, s.ShortM3)
	require.Equal(t, 1, s.Starts)
}

// The pump as a link gives the flow of its curve, and at rest only the leak of
// its foot valve.
func TestWellPumpIsALink(t *testing.T) {
	w := houseWell()
	n, err := NewNetwork(3, []bool{true, false, true}, []Ends{{From: 0, To: 1}, {From: 1, To: 2}})
	require.NoError(t, err)
	for _, psi := range []float64{0, 30, 40, 80, 100} {
		s := n.NewState()
		s.P[2] = psi * PaPerPsi
		for _, running := range []bool{true, false} {
			require.Equal(t, Solved, n.Solve([]Law{w.Law(running, leakCv, rho), {B: 1}}, nil, &s).Status)
			want := 0.0
			if running {
				want = w.PumpM3S(psi * PaPerPsi)
			}
			require.InDelta(t, want, s.Q[0], 2e-9, "%g psi", psi)
		}
	}
}
