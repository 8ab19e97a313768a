package brine

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/water"
)

const (
	lbKg   = 0.45359237
	galM3  = 3.785411784e-3
	hour   = 3600.0
	tickS  = 0.25
	refill = 2e-5 // m³/s, about 0.3 gpm
)

var raw = water.Ions{2, 0.1, 2.2, 1.1}

// run steps the tank by dt for seconds, adding the ledger up.
func run(sp *Spec, s *State, seconds, dt float64, in Inputs) (sum Flows) {
	for t := 0.0; t < seconds; t += dt {
		f := Step(sp, s, dt, in)
		sum.WaterInKg += f.WaterInKg
		sum.WaterOutKg += f.WaterOutKg
		sum.WaterSpillKg += f.WaterSpillKg
		sum.In = sum.In.Plus(1, f.In)
		sum.Out = sum.Out.Plus(1, f.Out)
		sum.Spill = sum.Spill.Plus(1, f.Spill)
		sum.OutM3 += f.OutM3
		sum.SpillM3 += f.SpillM3
		sum.DissolvedMol += f.DissolvedMol
	}
	return sum
}

// drained returns a tank whose brine has been drawn down to its air check.
func drained(sp *Spec, saltKg float64) State { return New(sp, saltKg, sp.AirCheckM) }

// Common practice, no source: 3 lb of salt to the gallon of refill water;
// solubility makes it 2.96 to 3.0 between 0 and 20 °C.
func TestGallonOfRefillDissolvesThreePounds(t *testing.T) {
	for _, tempC := range []float64{5, 10, 15, 20} {
		sp := Standard()
		sp.TempC = tempC
		s := drained(&sp, 60)
		in := Inputs{InM3: refill}
		f := run(&sp, &s, 480, 1, in)
		gallons := 480 * refill / galM3
		g := run(&sp, &s, 4*hour, 10, Inputs{})
		lb := (f.DissolvedMol + g.DissolvedMol) * naclKg / lbKg
		t.Logf("%2.0f °C: %.3f lb per gallon", tempC, lb/gallons)
		require.InDelta(t, 2.98, lb/gallons, 0.03, "%v °C", tempC)
		require.InDelta(t, 1, Saturation(&sp, &s), 1e-3)
	}
}

// First order: what is lacking falls as exp(−t/τ).
func TestDissolutionFollowsItsTimeConstant(t *testing.T) {
	sp := Standard()
	s := State{WaterKg: 10, SolidMol: 60 / naclKg}
	run(&sp, &s, sp.TauS, 1, Inputs{})
	require.InDelta(t, 1-math.Exp(-1), Saturation(&sp, &s), 5e-4)
	run(&sp, &s, sp.TauS, 1, Inputs{})
	require.InDelta(t, 1-math.Exp(-2), Saturation(&sp, &s), 5e-4)
}

func TestBalanceClosesThroughCycles(t *testing.T) {
	rows := []struct {
		name   string
		saltKg float64
		bridge float64
		in     water.Ions
	}{
		{"healthy", 60, 0, raw},
		{"salt runs out", 3, 0, raw},
		{"bridged", 40, 0.9, raw},
		{"brine runs back in refill", 40, 0, water.Ions{900, 0, 3, 1}},
		{"no salt", 0, 0, raw},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			sp := Standard()
			s := New(&sp, row.saltKg, 0.15)
			start, in, out, spill := s, Flows{}, Flows{}, Flows{}
			dissolved := 0.0
			for range 5 {
				a := run(&sp, &s, 1800, 5, Inputs{OutM3: 2.5e-5 * 5, Bridge: row.bridge})
				b := run(&sp, &s, 600, 5, Inputs{InM3: refill * 5, In: row.in, Bridge: row.bridge})
				c := run(&sp, &s, 24*hour, 60, Inputs{Bridge: row.bridge})
				in.WaterInKg += b.WaterInKg
				in.In = in.In.Plus(1, b.In)
				out.WaterOutKg += a.WaterOutKg
				out.Out = out.Out.Plus(1, a.Out)
				spill.Spill = spill.Spill.Plus(1, b.Spill)
				dissolved += a.DissolvedMol + b.DissolvedMol + c.DissolvedMol
			}
			require.InDelta(t, start.WaterKg+in.WaterInKg-out.WaterOutKg, s.WaterKg, 1e-10)
			require.InDelta(t, start.SolidMol-dissolved, s.SolidMol, 1e-9)
			gain := in.In.Plus(-1, out.Out).Plus(-1, spill.Spill)
			gain[water.Na] += dissolved
			for i := range gain {
				require.InDelta(t, start.Dissolved[i]+gain[i], s.Dissolved[i], 1e-9)
				require.GreaterOrEqual(t, s.Dissolved[i], 0.0)
			}
			require.GreaterOrEqual(t, s.SolidMol, 0.0)
			require.GreaterOrEqual(t, s.HangingMol, 0.0)
			require.LessOrEqual(t, s.HangingMol, s.SolidMol)
		})
	}
}

func TestLengthOfStepsHardlyMatters(t *testing.T) {
	sp := Standard()
	fine, coarse := drained(&sp, 60), drained(&sp, 60)
	for _, s := range []*State{&fine, &coarse} {
		run(&sp, s, 400, 1, Inputs{InM3: refill, In: raw})
	}
	run(&sp, &fine, 6*hour, 1, Inputs{})
	run(&sp, &coarse, 6*hour, 6*hour, Inputs{})
	require.InDelta(t, Saturation(&sp, &fine), Saturation(&sp, &coarse), 0.03)
}

func TestNewTankStandsSaturatedAtItsLevel(t *testing.T) {
	for _, saltKg := range []float64{0, 5, 60} {
		for _, level := range []float64{0, 0.05, 0.3, 0.7} {
			sp := Standard()
			s := New(&sp, saltKg, level)
			require.InDelta(t, level, LevelM(&sp, &s), 1e-12)
			require.InDelta(t, saltKg, SaltKg(&s), 1e-9)
			if level > 0 {
				require.InDelta(t, 1, Saturation(&sp, &s), 1e-12)
				require.InDelta(t, water.Solubility(sp.TempC), MassFraction(&s), 1e-12)
			}
		}
	}
}

func TestSaltDisplacesLiquid(t *testing.T) {
	sp := Standard()
	s := State{WaterKg: 10}
	bare := LevelM(&sp, &s)
	require.InDelta(t, VolumeM3(&sp, &s)/sp.AreaM2, bare, 1e-12)
	require.Equal(t, 100.0, AddSalt(&sp, &s, 100))
	require.InDelta(t, bare/sp.SaltVoid, LevelM(&sp, &s), 1e-12)
}

func TestSaltFillsTheTankAndNoMore(t *testing.T) {
	for _, bridge := range []float64{0, 0.9} {
		sp := Standard()
		s := New(&sp, 30, 0.1)
		run(&sp, &s, 1, 1, Inputs{Bridge: bridge})
		loose := s.SolidMol - s.HangingMol
		got := AddSalt(&sp, &s, 1000)
		require.InDelta(t, sp.HeightM, SaltPile(&sp, &s).TopM, 1e-9)
		require.InDelta(t, 30+got, SaltKg(&s), 0.01)
		if bridge > 0 {
			require.InDelta(t, loose, s.SolidMol-s.HangingMol, 1e-9, "new salt lies on the bridge")
		}
		require.Zero(t, AddSalt(&sp, &s, 10))
	}
}

func TestWaterOfASolutionFillsItsVolume(t *testing.T) {
	sp := Standard()
	for _, c := range []water.Ions{{}, raw, {1000, 0, 30, 10}, {5400, 0, 0, 0}} {
		s := State{WaterKg: WaterPerM3(sp.TempC, c), Dissolved: c}
		require.InDelta(t, 1, VolumeM3(&sp, &s), 1e-12)
	}
}

func TestBridgeLeavesAHollowAndWeakBrine(t *testing.T) {
	sp := Standard()
	s := drained(&sp, 30)
	const bridge = 0.95
	run(&sp, &s, 1, 1, Inputs{Bridge: bridge})
	p := SaltPile(&sp, &s)
	require.Greater(t, p.BottomM, p.LooseTopM+0.2)
	require.InDelta(t, bridge, s.HangingMol/s.SolidMol, 1e-9)
	for range 3 { // cycles: refill 9.6 L, stand three days, draw down to the air check
		run(&sp, &s, 480, 1, Inputs{InM3: refill, In: raw, Bridge: bridge})
		run(&sp, &s, 72*hour, 60, Inputs{Bridge: bridge})
		for !s.AirCheckSeated {
			Step(&sp, &s, 1, Inputs{OutM3: 2.5e-5, Bridge: bridge})
		}
	}
	t.Logf("saturation %.3f, pile %+v", Saturation(&sp, &s), SaltPile(&sp, &s))
	require.Less(t, Saturation(&sp, &s), 0.3)
	require.Greater(t, SaltKg(&s), 20.0, "there is salt enough to be seen")

	run(&sp, &s, 1, 1, Inputs{Bridge: 0}) // broken up
	require.Zero(t, SaltPile(&sp, &s).BottomM)
	run(&sp, &s, 480, 1, Inputs{InM3: refill, In: raw})
	run(&sp, &s, 4*hour, 10, Inputs{})
	require.InDelta(t, 1, Saturation(&sp, &s), 1e-3)
}

func TestBridgeDripsOverHoursAndOnlySoFar(t *testing.T) {
	sp := Standard()
	s := State{WaterKg: 10, SolidMol: 500}
	run(&sp, &s, hour, 10, Inputs{Bridge: 1})
	require.InDelta(t, sp.BridgeLimit*(1-math.Exp(-1.0/6)), Saturation(&sp, &s), 1e-3)
	run(&sp, &s, 72*hour, 60, Inputs{Bridge: 1})
	require.InDelta(t, sp.BridgeLimit, Saturation(&sp, &s), 1e-4)
}

func TestLiquidThatReachesTheBridgeDissolvesIt(t *testing.T) {
	sp := Standard()
	s := State{WaterKg: 90, SolidMol: 500}
	run(&sp, &s, hour, 10, Inputs{Bridge: 1})
	require.Greater(t, LevelM(&sp, &s), sp.BridgeM)
	require.Greater(t, Saturation(&sp, &s), sp.BridgeLimit)
}

func TestAirCheckSeatsAsTheLevelFallsAndFloatsFreeAboveIt(t *testing.T) {
	sp := Standard()
	s := New(&sp, 60, 0.15)
	lift := AirCheckLift(&sp, &s)
	require.Equal(t, 1.0, lift)
	for !s.AirCheckSeated {
		Step(&sp, &s, tickS, Inputs{OutM3: 2.5e-5 * tickS})
		require.LessOrEqual(t, AirCheckLift(&sp, &s), lift)
		lift = AirCheckLift(&sp, &s)
	}
	require.InDelta(t, sp.AirCheckM, LevelM(&sp, &s), 1e-4)
	lift = 0
	for lift < 1 {
		Step(&sp, &s, tickS, Inputs{InM3: refill * tickS})
		require.GreaterOrEqual(t, AirCheckLift(&sp, &s), lift)
		lift = AirCheckLift(&sp, &s)
		if LevelM(&sp, &s) < sp.AirCheckM+0.2*sp.AirCheckRise {
			require.True(t, s.AirCheckSeated, "held until the level is clear of the seat")
		}
	}
	require.False(t, s.AirCheckSeated)
}

func TestFloatShutsAtItsHeight(t *testing.T) {
	for _, low := range []float64{0, 0.1} {
		sp := Standard()
		s := New(&sp, 60, 0.2)
		for !s.FloatShut {
			Step(&sp, &s, 1, Inputs{InM3: refill, FloatLowM: low})
		}
		require.InDelta(t, sp.FloatM-low, LevelM(&sp, &s), 1e-3)
		for s.FloatShut {
			Step(&sp, &s, 1, Inputs{OutM3: refill, FloatLowM: low})
		}
		require.InDelta(t, sp.FloatM-low-floatDropM, LevelM(&sp, &s), 1e-3)
	}
}

func TestTankRunsDryAndSpillsWithoutLosingCount(t *testing.T) {
	sp := Standard()
	s := New(&sp, 0, 0.1)
	v := VolumeM3(&sp, &s)
	f := Step(&sp, &s, 1, Inputs{OutM3: 1})
	require.InDelta(t, v, f.OutM3, 1e-15)
	require.Equal(t, water.Ions{}, Composition(&sp, &s))
	require.Zero(t, LevelM(&sp, &s))
	require.Zero(t, Saturation(&sp, &s))

	f = Step(&sp, &s, 1, Inputs{InM3: 1, In: raw})
	require.InDelta(t, 1-sp.AreaM2*sp.HeightM, f.SpillM3, 1e-12)
	require.InDelta(t, sp.HeightM, LevelM(&sp, &s), 1e-12)
	require.InDelta(t, raw[water.Ca], f.Spill[water.Ca]+s.Dissolved[water.Ca], 1e-12)
}

func TestSpecFaultsAreAllFound(t *testing.T) {
	sp := Standard()
	require.Empty(t, sp.Validate())
	sp.AreaM2, sp.SaltVoid, sp.TempC = math.NaN(), 1, 80
	require.Len(t, sp.Validate(), 3)
}

func BenchmarkStep(b *testing.B) {
	sp := Standard()
	s := New(&sp, 60, 0.3)
	for range b.N {
		Step(&sp, &s, tickS, Inputs{})
	}
}
