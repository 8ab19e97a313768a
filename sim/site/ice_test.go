package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
	"brinebench/sim/water"
)

func brineLine() *Line { return &Line{BoreM: 0.0095, LengthM: 2, FilmWM2K: 10} }

// untilSolid returns after how long a line at its freezing point is frozen solid, s.
func untilSolid(l *Line, airC float64) float64 {
	low, high := 0.0, 1e9
	for high-low > 1e-6*low {
		mid := (low + high) / 2
		s := Ice{}
		if l.Step(&s, Exposure{AirC: airC}, mid); s.Fraction < 1 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Plank (1913), for the infinite cylinder: t = ρL/ΔT·(D/(4h) + D²/(16k)).
func TestLineFreezesInPlanksTime(t *testing.T) {
	for _, l := range []Line{*brineLine(), {0.025, 5, 30}, {0.1, 1, 1000}, {0.1, 1, 1e6}, {0.013, 3, 1}} {
		for _, airC := range []float64{-1, -5, -20} {
			plank := 1000 * 333.55e3 / -airC * (l.BoreM/(4*l.FilmWM2K) + l.BoreM*l.BoreM/(16*2.14))
			require.InEpsilon(t, plank, untilSolid(&l, airC), 1e-5, "%+v at %v °C", l, airC)
		}
	}
}

// Stefan (1891): on a cold flat wall ice grows to √(2kΔTt/(ρL)); a thin layer in a
// wide tube lies on a nearly flat wall.
func TestThinIceGrowsAfterStefan(t *testing.T) {
	l := &Line{BoreM: 1, LengthM: 1, FilmWM2K: 1e8}
	for _, seconds := range []float64{1, 10, 100, 1000} {
		s := Ice{}
		l.Step(&s, Exposure{AirC: -10}, seconds)
		thick := l.BoreM / 2 * (1 - math.Sqrt(1-s.Fraction))
		stefan := math.Sqrt(2 * 2.14 * 10 * seconds / (1000 * 333.55e3))
		require.InEpsilon(t, stefan, thick, 0.3*thick/l.BoreM+1e-3, "%v s", seconds)
	}
}

func TestWaterCoolsAfterNewtonBeforeItFreezes(t *testing.T) {
	l := brineLine()
	lag := 1000 * 4218 * l.BoreM / (4 * l.FilmWM2K)
	s := Ice{TempC: 10}
	l.Step(&s, Exposure{AirC: -5}, lag)
	require.InEpsilon(t, -5+15/math.E, s.TempC, 1e-12)
	require.Zero(t, s.Fraction)
	l.Step(&s, Exposure{AirC: -5}, lag*(math.Log(3)-1))
	require.InDelta(t, 0, s.TempC, 1e-12)
	require.InDelta(t, 0, s.Fraction, 1e-12)
	l.Step(&s, Exposure{AirC: -5}, 60)
	require.Zero(t, s.TempC)
	heat := l.FilmWM2K * math.Pi * l.BoreM * 5 * 60 // W/m for a minute
	require.InEpsilon(t, heat/(math.Pi/4*l.BoreM*l.BoreM*1000*333.55e3), s.Fraction, 1e-3)
}

func TestLengthOfStepsDoesNotMatterToIce(t *testing.T) {
	r := repro.NewStream(1, "ice")
	l := &Line{BoreM: 0.02, LengthM: 3, FilmWM2K: 40}
	whole, parts := Ice{TempC: 12}, Ice{TempC: 12}
	froze, thawed := false, false
	h := repro.NewHash()
	for range 2000 {
		x := Exposure{AirC: -20 + float64(35*r.Float64()), WaterC: 15 * r.Float64(), FreezingC: -math.Floor(2*r.Float64()) * 3}
		if r.Float64() < 0.3 {
			x.FlowM3S = 2e-5 * r.Float64()
		}
		had := whole.Fraction > 0
		dt := 7200 * r.Float64()
		l.Step(&whole, x, dt)
		for range 17 {
			l.Step(&parts, x, dt/17)
		}
		require.InDelta(t, whole.Fraction, parts.Fraction, 1e-9)
		require.InDelta(t, whole.TempC, parts.TempC, 1e-6)
		require.True(t, whole.Fraction >= 0 && whole.Fraction <= 1)
		h.Float64(whole.Fraction)
		h.Float64(whole.TempC)
		froze, thawed = froze || whole.Fraction == 1, thawed || had && whole.Fraction == 0
	}
	require.True(t, froze && thawed)
	require.Equal(t, uint64(0xfa83423ca54ea403), h.Sum(), "the bits every machine has to give; got %#x", h.Sum())
}

func TestWhatStandsInTheLineFreezesAtItsOwnPoint(t *testing.T) {
	for _, c := range []struct {
		name    string
		w, airC float64
		freezes bool
	}{
		{"water in frost", 0, -1, true},
		{"water above it", 0, 1, false},
		{"one part in twenty", 0.05, -2.9, false},
		{"one part in twenty, colder", 0.05, -3.2, true},
		{"regenerant, one in ten", 0.10, -6, false},
		{"strong brine in hard frost", 0.26, -20, false},
		{"strong brine below the eutectic", 0.26, -22, true},
	} {
		s := Ice{TempC: 10}
		brineLine().Step(&s, Exposure{AirC: c.airC, FreezingC: water.FreezingPoint(c.w)}, 10*86400)
		require.Equal(t, c.freezes, s.Fraction > 0.5, c.name)
		if !c.freezes {
			require.Zero(t, s.Fraction, c.name)
			require.InDelta(t, c.airC, s.TempC, 1e-9, c.name)
		}
	}
}

// The lever rule of the phase diagram: in weak brine ice grows until what is left
// is as strong as freezes at the temperature of the air.
func TestIceInBrineStopsByTheLeverRule(t *testing.T) {
	const w = 0.10
	l := brineLine()
	s := Ice{TempC: 10}
	for range 30 * 1440 {
		l.Step(&s, Exposure{AirC: -16.46, FreezingC: water.FreezingPoint(w / (1 - s.Fraction))}, 60)
	}
	require.InDelta(t, 1-w/0.20, s.Fraction, 1e-3) // CRC: 20 % freezes at −16.46 °C
	require.InDelta(t, -16.46, s.TempC, 0.02)
}

// A flow keeps a line open if it brings more heat above freezing than the wall
// draws at freezing.
func TestRunningWaterKeepsTheLineOpen(t *testing.T) {
	l := &Line{BoreM: 0.013, LengthM: 5, FilmWM2K: 25}
	enough := l.FilmWM2K * math.Pi * l.BoreM * l.LengthM * 15 / (1000 * 4218 * 5)
	for _, c := range []struct {
		part float64
		ice  bool
	}{{0, true}, {0.5, true}, {0.99, true}, {1.01, false}, {3, false}, {-3, false}} {
		s := Ice{TempC: 5}
		l.Step(&s, Exposure{AirC: -15, FlowM3S: c.part * enough, WaterC: 5}, 86400)
		require.Equal(t, c.ice, s.Fraction > 0, "%v of the flow", c.part)
	}
}

func TestIceMeltsByTheHeatBroughtToIt(t *testing.T) {
	l := &Line{BoreM: 0.013, LengthM: 5, FilmWM2K: 5}
	volume := math.Pi / 4 * l.BoreM * l.BoreM * l.LengthM
	melt := func(x Exposure) float64 { // W
		s := Ice{Fraction: 0.9}
		l.Step(&s, x, 10)
		return (0.9 - s.Fraction) * volume * 1000 * 333.55e3 / 10
	}
	require.Zero(t, melt(Exposure{}))
	require.InEpsilon(t, l.FilmWM2K*math.Pi*l.BoreM*l.LengthM*8, melt(Exposure{AirC: 8}), 1e-9, "warm air")
	brought := 1000 * 4218 * 1e-7 * 10
	require.InEpsilon(t, brought, melt(Exposure{FlowM3S: 1e-7, WaterC: 10}), 1e-3, "a trickle gives all")
	brought = 1000 * 4218 * 5e-6 * 10 // Re 380
	units := 3.66 * math.Pi * 0.561 * l.LengthM / (1000 * 4218 * 5e-6)
	require.InEpsilon(t, brought*(1-math.Exp(-units)), melt(Exposure{FlowM3S: 5e-6, WaterC: 10}), 1e-9, "laminar")
	brought = 1000 * 4218 * 1e-4 * 10
	reynolds, prandtl := 4*1e-4*1000/(math.Pi*l.BoreM*1.3059e-3), 1.3059e-3*4218/0.561 // viscosity at 10 °C: IAPWS
	units = 0.023 * math.Pow(reynolds, 0.8) * math.Pow(prandtl, 0.4) * math.Pi * 0.561 * l.LengthM / (1000 * 4218 * 1e-4)
	require.InEpsilon(t, brought*(1-math.Exp(-units)), melt(Exposure{FlowM3S: 1e-4, WaterC: 10}), 1e-3, "turbulent")
	last := 0.0
	for _, flow := range []float64{1e-7, 1e-6, 1e-5, 3e-5, 1e-4} {
		now := melt(Exposure{FlowM3S: flow, WaterC: 10})
		require.Greater(t, now, last, "more flow, more heat")
		require.LessOrEqual(t, now, 1000*4218*flow*10*(1+1e-9), "but no more than it brings")
		last = now
	}
	require.Equal(t, last, melt(Exposure{FlowM3S: -1e-4, WaterC: 10}), "the other way")
	require.Zero(t, melt(Exposure{FlowM3S: 1e-4, WaterC: -3}), "ice in the inflow is not this line's")
}

func TestThawedLineTakesTheTemperatureOfItsSurroundings(t *testing.T) {
	l := brineLine()
	s := Ice{Fraction: 1}
	l.Step(&s, Exposure{AirC: 12}, 30*86400)
	require.Zero(t, s.Fraction)
	require.InDelta(t, 12, s.TempC, 1e-9)
}

func TestIceAllocatesNothing(t *testing.T) {
	l, s := brineLine(), Ice{TempC: 5}
	require.Zero(t, testing.AllocsPerRun(1000, func() { l.Step(&s, Exposure{AirC: -5}, 60) }))
	require.Positive(t, s.Fraction)
}

func BenchmarkIce(b *testing.B) {
	l, s := brineLine(), Ice{TempC: 5}
	for b.Loop() {
		l.Step(&s, Exposure{AirC: -5}, 1)
		if s.Fraction == 1 {
			s = Ice{}
		}
	}
}
