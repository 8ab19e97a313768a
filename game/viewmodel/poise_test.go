package viewmodel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

const frameS = 1.0 / 60

func TestWhatMovesGoesThereEvenlyAndStays(t *testing.T) {
	v := testView()
	var p Poise
	p.Follow(v, frameS, false)
	require.Equal(t, *v, p.View, "at first it is where the unit is")
	v.SeatLift[sim.SeatInlet], v.Tank.LevelM, v.PressurePa[sim.NodeValveIn], v.Bed.DepthM = 1, 0.4, 4e5, 0.9
	v.ShutOff, v.Bypass, v.HouseTap = true, "bypass", 1
	last := p
	for range 75 {
		p.Follow(v, frameS, false)
		require.GreaterOrEqual(t, p.View.SeatLift[sim.SeatInlet], last.View.SeatLift[sim.SeatInlet])
		require.Less(t, p.View.SeatLift[sim.SeatInlet]-last.View.SeatLift[sim.SeatInlet], 0.2, "it does not jump")
		require.GreaterOrEqual(t, p.ShutOff, last.ShutOff)
		require.InDelta(t, 1, p.Bypass[0]+p.Bypass[1]+p.Bypass[2], 1e-3)
		last = p
	}
	require.Equal(t, *v, p.View, "soon it is there")
	require.Equal(t, 1.0, p.ShutOff)
	require.Equal(t, [3]float64{0, 1, 0}, p.Bypass)
}

func TestDrumTurnsTheShorterWay(t *testing.T) {
	v := testView()
	v.DrumDeg = 350
	var p Poise
	p.Follow(v, frameS, false)
	v.DrumDeg = 10
	for range 60 {
		p.Follow(v, frameS, false)
		require.True(t, p.View.DrumDeg >= 350-1e-9 || p.View.DrumDeg <= 10+1e-9, p.View.DrumDeg)
	}
	require.InDelta(t, 10, p.View.DrumDeg, 0.01)
}

func TestNothingMovesByItselfWhereMotionIsNotWanted(t *testing.T) {
	v := testView()
	var p Poise
	p.Follow(v, frameS, true)
	v.SeatLift[0], v.DrumDeg, v.ShutOff, v.Bypass = 1, 90, true, "shut"
	p.Follow(v, frameS, true)
	require.Equal(t, *v, p.View)
	require.Equal(t, 1.0, p.ShutOff)
	require.Equal(t, 1.0, p.Bypass[2])
}

func TestPlugsJoinWhatTheirPositionSays(t *testing.T) {
	for _, size := range [][2]float64{{1000, 640}, {390, 430}} {
		s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}})
		same := func(a, b float64) {
			t.Helper()
			require.InDelta(t, 0, math.Remainder(a-b, 2*math.Pi), 1e-9)
		}
		for i := range s.Plugs {
			q := &s.Plugs[i]
			for name, to := range map[string]float64{"service": q.Valve, "bypass": q.Across} {
				v := testView()
				v.Bypass = name
				var p Poise
				p.Follow(v, frameS, true)
				a, z := p.Bore(q)
				same(q.Mains, a)
				same(to, z)
			}
			v := testView()
			v.BypassAjar = 0.5
			var half Poise
			half.Follow(v, frameS, true)
			a, z := half.Bore(q)
			same(q.Mains, a)
			require.InDelta(t, math.Abs(math.Remainder(z-q.Valve, 2*math.Pi)), math.Abs(math.Remainder(z-q.Across, 2*math.Pi)), 1e-9, "half way")

			v = testView()
			v.Bypass = "shut"
			var p Poise
			p.Follow(v, frameS, true)
			a, z = p.Bore(q)
			same(a+math.Pi, z)
			for _, open := range []float64{q.Mains, q.Valve, q.Across} {
				require.Greater(t, math.Abs(math.Remainder(a-open, math.Pi)), 0.5, "a shut plug joins nothing")
			}
		}
	}
}

func TestFollowingDoesNotAllocate(t *testing.T) {
	set, v := testSetup(), testView()
	v.Opened = []sim.Part{sim.PartInjector}
	s := Build(1000, 640, set, Options{Units: pageUnits{}, Layers: Layers{Pressure: true}})
	var p Poise
	var f Frame
	f.Update(s, v, set, PaletteFor(false))
	require.Zero(t, testing.AllocsPerRun(20, func() {
		v.DrumDeg += 3
		p.Follow(v, frameS, false)
		f.Update(s, &p.View, set, PaletteFor(false))
	}))
}
