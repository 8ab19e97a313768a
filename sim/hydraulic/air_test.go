package hydraulic

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func houseJet() AirJet {
	return AirJet{Losses: HouseholdLosses(0), NozzleM: 0.0009, ThroatM: 0.0017, LiquidKgM3: rho, Celsius: 15, VapourPa: vapourPa}
}

func TestStreamsTellTheirPhase(t *testing.T) {
	air := AirKgM3(0, 15)
	require.InDelta(t, 1.225, air, 1e-3, "ISO 2533")
	for _, row := range []struct {
		liquid, air float64
		phase       Phase
		void, rho   float64
	}{
		{1e-5, 0, Liquid, 0, 1190},
		{0, 1e-5, Air, 1, air},
		{1e-5, 1e-5, Mixture, 0.5, (1190 + air) / 2},
		{0, 0, Liquid, 0, 1190},
	} {
		s := Stream{row.liquid, row.air, 1190, air}
		require.Equal(t, row.phase, s.Phase())
		require.InDelta(t, row.void, s.Void(), 1e-12)
		require.InDelta(t, row.rho, s.KgM3(), 1e-9)
	}
	require.Equal(t, "mixture", Mixture.String())
}

func TestAirExpandsInAVacuumAndKeepsItsMass(t *testing.T) {
	s := Stream{1e-5, 2e-6, 1190, AirKgM3(0, 15)}
	throat := s.At(0, -80e3)
	require.InEpsilon(t, s.AirM3S*AtmospherePa/(AtmospherePa-80e3), throat.AirM3S, 1e-12)
	require.InEpsilon(t, s.AirM3S*s.AirKgM3, throat.AirM3S*throat.AirKgM3, 1e-12)
	both := s.Join(Stream{LiquidM3S: 3e-5, LiquidKgM3: 999})
	require.InEpsilon(t, 1e-5*1190+3e-5*999, both.LiquidM3S*both.LiquidKgM3, 1e-12)
	require.InEpsilon(t, s.AirM3S*s.AirKgM3, both.AirM3S*both.AirKgM3, 1e-12)
}

// With the way to the air shut the pump is the one of the network.
func TestAirJetWithoutAirIsTheJetPump(t *testing.T) {
	j := houseJet()
	n, err := NewNetwork(4, []bool{true, true, false, true}, []Ends{
		{From: 0, To: 2}, {From: 1, To: 2}, {From: 2, To: 3, Jet: true, Nozzle: 0, Suction: 1},
	})
	require.NoError(t, err)
	laws := make([]Law, 3)
	laws[0], laws[1], laws[2] = NewInjector(j.NozzleM, j.ThroatM, 1, 1, 0, rho).Laws(vapourPa)
	laws[1] = Law{B: 1e26}
	for _, psi := range []float64{20, 40, 60} {
		for _, back := range []float64{0, 0.05, 0.1} {
			s := n.NewState()
			s.P[0], s.P[3] = psi*PaPerPsi, back*psi*PaPerPsi
			require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
			if s.P[2] > 0 || s.P[2] < vapourPa+1 {
				continue
			}
			d := j.Draw(s.P[0], 0, 1e26, s.P[3])
			require.InDelta(t, s.P[2], d.ThroatPa, 50, "%g psi against %g", psi, back*psi)
			require.InEpsilon(t, s.Q[0], d.MotiveM3S, 1e-3)
		}
	}
}

func TestAirJetDrawsLessAgainstBackPressure(t *testing.T) {
	j := houseJet()
	last := math.Inf(1)
	for back := 0.0; back < 30; back += 0.5 {
		d := j.Draw(55*PaPerPsi, 0, 1e12, back*PaPerPsi)
		require.LessOrEqual(t, d.AirKgS, last, "%g psi", back)
		require.Less(t, d.ThroatPa, 1e-6)
		last = d.AirKgS
	}
	d := j.Draw(55*PaPerPsi, 0, 1e12, 30*PaPerPsi)
	require.Equal(t, Liquid, d.Phase, "pressed back")
	require.Zero(t, d.AirKgS)
}

func TestWiderLeakSpoilsTheVacuum(t *testing.T) {
	j := houseJet()
	lastPa, lastAir := -AtmospherePa, 0.0
	for _, b := range []float64{1e16, 1e15, 1e14, 1e13, 1e12, 1e11} {
		d := j.Draw(40*PaPerPsi, 0, b, 3*PaPerPsi)
		require.Equal(t, Air, d.Phase)
		require.GreaterOrEqual(t, d.ThroatPa, lastPa)
		require.GreaterOrEqual(t, d.AirKgS, lastAir)
		lastPa, lastAir = d.ThroatPa, d.AirKgS
	}
	require.Greater(t, lastPa, -60e3)
}

// Isothermal work on the air over the work that the jet gives up: below 1, and
// below the 0.4 that the literature gives for the best (Cunningham, from memory).
func TestAirJetObeysTheEnergyBalance(t *testing.T) {
	j := houseJet()
	for _, psi := range []float64{20, 40, 80, 120} {
		for _, b := range []float64{1e11, 1e12, 1e13, 1e14} {
			for _, back := range []float64{0.02, 0.05, 0.1, 0.2} {
				motive, discharge := psi*PaPerPsi, back*psi*PaPerPsi
				d := j.Draw(motive, 0, b, discharge)
				if d.AirKgS == 0 {
					continue
				}
				gained := d.AirKgS * airGasJKgK * (15 + zeroCelsiusK) * math.Log((discharge+AtmospherePa)/AtmospherePa)
				require.Less(t, gained/(d.MotiveM3S*(motive-discharge)), 0.4, "%g psi", psi)
			}
		}
	}
}

// Through a small leak air flows at the speed of sound, whatever the vacuum.
func TestSmallLeakChokes(t *testing.T) {
	j := houseJet()
	const b = 1e16
	deep := j.at(-95e3, 3e5, 0, b)
	half := j.at(-0.472*AtmospherePa-1, 3e5, 0, b)
	little := j.at(-10e3, 3e5, 0, b)
	require.InEpsilon(t, half.AirKgS, deep.AirKgS, 1e-4)
	require.Less(t, little.AirKgS, 0.6*half.AirKgS)
}

// A pinhole in the brine line over the injector: solved again and again with the
// laws of what the line carried, it draws air with less brine, and weeps brine
// when the drain is blocked.
func TestLeakInTheBrineLineDrawsAir(t *testing.T) {
	n, err := NewNetwork(6, []bool{true, true, true, false, false, true}, []Ends{
		{From: 0, To: 4}, // street, nozzle
		{From: 3, To: 4}, // suction port
		{From: 4, To: 5, Jet: true, Nozzle: 0, Suction: 1}, // mixing tube
		{From: 1, To: 3}, // brine line from the tank
		{From: 2, To: 3}, // leak from the air
	})
	require.NoError(t, err)
	const brine = 1190.0
	solve := func(holeM, drainPa float64) (s State, carried Stream) {
		inj := NewInjector(0.0009, 0.0017, 1, 1, 0, rho)
		carried = Stream{LiquidKgM3: brine, LiquidM3S: 1e-6}
		s = n.NewState()
		s.P[0], s.P[5] = 55*PaPerPsi, drainPa
		for range 100 {
			laws := make([]Law, 5)
			laws[0], laws[1], laws[2] = inj.Carrying(carried, s.Q[0], rho).Laws(vapourPa)
			laws[3] = Law{B: CvB(0.3, brine), RisePa: -5000}
			laws[4] = LeakLaw(0.6, holeM, brine, AirKgM3(min(s.P[3], 0)/2, 15))
			require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
			next := Stream{max(s.Q[3], 0), max(s.Q[4], 0), brine, AirKgM3(s.P[3], 15)}.At(s.P[3], s.P[4])
			carried.LiquidM3S, carried.AirM3S = (carried.LiquidM3S+next.LiquidM3S)/2, (carried.AirM3S+next.AirM3S)/2
			carried.AirKgM3 = next.AirKgM3
		}
		return s, carried
	}
	last := math.Inf(1)
	for _, mm := range []float64{1e-4, 0.03, 0.1, 0.2, 0.4} {
		s, carried := solve(mm/1000, 3*PaPerPsi)
		require.Less(t, s.Q[3], last, "%g mm", mm)
		last = s.Q[3]
		if mm >= 0.03 {
			require.Equal(t, Mixture, carried.Phase(), "%g mm", mm)
			require.Positive(t, s.Q[4])
		}
	}
	s, carried := solve(0.2e-3, 40*PaPerPsi)
	require.Negative(t, s.Q[4], "weeps")
	require.Negative(t, s.Q[3])
	require.Zero(t, carried.Void())
}

func TestLawsFollowTheDensityOfTheStream(t *testing.T) {
	s := Stream{1e-5, 1e-5, 1000, 1.2}
	l := Law{A: 5, B: 1e10, BR: 3e10, RisePa: -6000}.Carrying(s, 1000)
	part := 500.6 / 1000
	require.InEpsilon(t, 1e10*part, l.B, 1e-12)
	require.InEpsilon(t, 3e10*part, l.BR, 1e-12)
	require.InEpsilon(t, -6000*part, l.RisePa, 1e-12)
	require.Equal(t, 5.0, l.A)
}
