package viewmodel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func testView() *sim.View {
	v := &sim.View{Bypass: "service"}
	v.Bed.DepthM, v.Bed.RestDepthM = 0.66, 0.66
	return v
}

func TestStreamsFollowTheFlow(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	v := testView()
	flow := func(q float64, paths ...sim.Path) {
		for _, p := range paths {
			v.Paths[p].FlowM3S = q
		}
	}
	flow(3e-4, sim.PathSupply, sim.PathBypassIn, sim.PathInletSeat, sim.PathBed, sim.PathRiser, sim.PathOutletSeat, sim.PathBypassOut, sim.PathHouse)
	v.HouseDrawM3S = 1e-4
	var f Frame
	f.Update(s, v, set, PaletteFor(false))
	for i, st := range s.Streams {
		if len(st.Terms) == 1 {
			want := st.Terms[0].Coef * v.Paths[st.Terms[0].Path].FlowM3S
			if st.House {
				want -= v.HouseDrawM3S
			}
			require.InDelta(t, want, f.Speed[i]*st.AreaM2, 1e-12)
		}
	}
	require.Positive(t, f.Jet[1], "the house tap runs")
	require.Zero(t, f.Jet[0], "nothing goes to drain")
}

func TestVeiledPictureTellsNothingOfHardness(t *testing.T) {
	set := testSetup()
	set.FeedHardnessMolM3 = 3
	for _, veiled := range []bool{true, false} {
		s := Build(1000, 640, set, Options{Units: pageUnits{}, Veiled: veiled})
		var soft, hard Frame
		soft.Update(s, testView(), set, PaletteFor(false))
		v := testView()
		for i := range v.Paths {
			v.Paths[i].Water.HardnessMolM3 = 3
		}
		v.Bed.Plenum.HardnessMolM3 = 3
		for i := range v.Bed.Freeboard {
			v.Bed.Freeboard[i].HardnessMolM3 = 3
		}
		for i := range v.Bed.Load {
			v.Bed.Load[i], v.Bed.Hardness[i] = 1, 3
		}
		hard.Update(s, v, set, PaletteFor(false))
		same := soft.Colour == hard.Colour && soft.Bead == hard.Bead && soft.Water == hard.Water
		require.Equal(t, veiled, same)
	}
}

func TestStreamsStopWhenFlowStops(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	var f Frame
	f.Update(s, testView(), set, PaletteFor(true))
	for i := range f.Speed {
		require.Zero(t, f.Speed[i])
	}
}

func TestMarksKeepTheTrueVelocityRatio(t *testing.T) {
	for _, pace := range []float64{1, 3, 60} {
		require.InDelta(t, 2, MarkSpeed(0.4, pace)/MarkSpeed(0.2, pace), 1e-12)
		require.Equal(t, -MarkSpeed(0.3, pace), MarkSpeed(-0.3, pace))
	}
	require.Zero(t, MarkSpeed(1, 0), "paused")
	require.Less(t, MarkSpeed(100, 600), 300.0)
}

func TestJetAreaIsProportionalToFlow(t *testing.T) {
	j := &Jet{FullW: 20, FullM3S: 1e-4}
	require.InDelta(t, 4, math.Pow(jetWidth(j, 1e-4)/jetWidth(j, 0.25e-4), 2), 1e-9)
	require.Zero(t, jetWidth(j, 0))
	require.Zero(t, jetWidth(j, -1e-4), "nothing falls upwards")
}

// TestSingleDropsFallWhereNoStreamDoes lets more and more run to the drain.
func TestSingleDropsFallWhereNoStreamDoes(t *testing.T) {
	const gpm = 6.309e-5 // m³/s
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	for q, want := range map[float64][2]bool{0: {}, 0.004 * gpm: {}, 0.006 * gpm: {true, false}, 0.019 * gpm: {true, false}, 0.021 * gpm: {false, true}, gpm: {false, true}} {
		v := testView()
		v.DrainStream = q
		var f Frame
		f.Update(s, v, set, PaletteFor(false))
		require.Equal(t, want, [2]bool{f.Drips[0], f.Jet[0] > 0}, "%g gpm", q/gpm)
	}
}

func TestBedRisesWithItsDepth(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	var f Frame
	v := testView()
	f.Update(s, v, set, PaletteFor(false))
	rest := f.BedTop
	v.Bed.DepthM = 0.9
	f.Update(s, v, set, PaletteFor(false))
	require.InDelta(t, (0.9-0.66)*s.Bed.PxPerM, rest-f.BedTop, 1e-9)
	require.InDelta(t, 0.9/0.66-1, f.Lift, 1e-12)
}

func TestBedShowsTheShareOfResinThatIsLeft(t *testing.T) {
	set, v := testSetup(), testView()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	var f Frame
	v.Bed.RestDepthM, v.Bed.DepthM = 0.33, 0.33
	f.Update(s, v, set, PaletteFor(false))
	require.InDelta(t, 0.5, f.Share, 1e-12)
	require.Zero(t, f.Lift)
	v.Bed.RestDepthM = 0
	f.Update(s, v, set, PaletteFor(false))
	require.Zero(t, f.Share)
}

func TestBeadsGoToTheDrainOnlyFromABedAtTheRoofInBackwash(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	carries := 0
	for i := range s.Streams {
		if s.Streams[i].Beads {
			carries++
		}
	}
	require.Equal(t, 3, carries, "from the bed's top through valve and hose")
	for _, row := range []struct {
		name          string
		depthM, upM3S float64
		want          bool
	}{
		{"at rest", 0.66, 0, false},
		{"lifted in backwash", 0.9, 1.5e-4, false},
		{"at the roof in backwash", 1.22, 4e-4, true},
		{"at the roof, just shut", 1.22, 0, false},
	} {
		v := testView()
		v.Bed.DepthM, v.Paths[sim.PathBackwashSeat].FlowM3S = row.depthM, row.upM3S
		var f Frame
		f.Update(s, v, set, PaletteFor(false))
		require.Equal(t, row.want, f.Losing, row.name)
		require.GreaterOrEqual(t, f.BedTop, s.Bed.Box.Y, row.name)
	}
}

func TestMeterTurnsWithTheFlow(t *testing.T) {
	require.InDelta(t, 2*math.Pi, MeterSpeed(1e-3, 1), 1e-12, "a turn per litre")
	require.Equal(t, -MeterSpeed(1e-4, 1), MeterSpeed(-1e-4, 1))
	require.Zero(t, MeterSpeed(1e-4, 0), "paused")
	require.Zero(t, MeterSpeed(0, 600))
	require.LessOrEqual(t, MeterSpeed(1, 600), 12.0)
}

func TestLobeLiftsWhereItsTrackHasIt(t *testing.T) {
	set := testSetup() // the lobe of the first seat reaches from 0° to 40°
	require.Equal(t, 1.0, Lobe(set, 0, 20))
	require.Zero(t, Lobe(set, 0, 60))
	require.Equal(t, Lobe(set, 0, 20), Lobe(set, 0, 380))
	require.Equal(t, Lobe(set, 0, 359), Lobe(set, 0, -1))
	require.InDelta(t, 0.5, Lobe(set, 0, 39), 1e-9, "rises and falls evenly between samples")
}

func TestTheDrumsAngleIsShownAtServiceAfterAWholeTurn(t *testing.T) {
	c := Chart{Box: Rect{X: 100, W: 360}}
	for deg, want := range map[float64]float64{0: 100, 72: 172, 359: 459, 359.9999999: 100, 359.6: 100} {
		require.InDelta(t, want, c.Cursor(deg), 1e-6, "%v°", deg)
	}
}

func TestUpdateDoesNotAllocate(t *testing.T) {
	set, v := testSetup(), testView()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	var f Frame
	f.Update(s, v, set, PaletteFor(false))
	require.Zero(t, testing.AllocsPerRun(20, func() { f.Update(s, v, set, PaletteFor(false)) }))
}

func TestOrdinaryWaterIsNoBrine(t *testing.T) {
	set := testSetup()
	require.Zero(t, strength(10, set))
	require.InDelta(t, 0.5, strength(2700, set), 1e-12)
	require.Equal(t, 1.0, strength(6000, set))
}

func TestCividisGrowsLighter(t *testing.T) {
	last := -1.0
	for i := 0; i <= 20; i++ {
		l := luminance(Cividis(float64(i) / 20))
		require.Greater(t, l, last)
		last = l
	}
	require.Equal(t, Cividis(0), Cividis(-3))
	require.Equal(t, Cividis(1), Cividis(7))
}

// Contrast by WCAG 2.1: lettering 4.5:1, graphics 3:1.
func TestPalettesHaveEnoughContrast(t *testing.T) {
	for _, dark := range []bool{false, true} {
		p := PaletteFor(dark)
		for _, ground := range []Role{Ground, Paper, Cut} {
			require.Greater(t, contrast(p.Role[Ink], p.Role[ground]), 7.0)
		}
		for _, ground := range []Role{Ground, Paper} {
			require.Greater(t, contrast(p.Role[InkSoft], p.Role[ground]), 4.5)
			require.Greater(t, contrast(p.Role[Wrong], p.Role[ground]), 4.5)
		}
		for i := 0; i <= 20; i++ {
			c := Cividis(float64(i) / 20)
			require.Greater(t, contrast(p.MarkOn(c), c), 3.0, "marks on %v", c)
		}
	}
}

func TestStrongPalettesHaveTheMostContrast(t *testing.T) {
	for _, dark := range []bool{false, true} {
		p := StrongFor(dark)
		for _, ink := range []Role{Ink, InkSoft} {
			require.InDelta(t, 21, contrast(p.Role[ink], p.Role[Ground]), 1e-6)
			require.InDelta(t, 21, contrast(p.Role[ink], p.Role[Paper]), 1e-6)
		}
		for _, line := range []Role{Hatch, Faint} {
			require.Greater(t, contrast(p.Role[line], p.Role[Ground]), 3.0)
		}
		require.Greater(t, contrast(p.Role[Wrong], p.Role[Paper]), 4.5)
	}
}

func TestDrainWaterRunsIntoTheBucketWhenItsHoseIsOff(t *testing.T) {
	set := testSetup()
	v := testView()
	v.Opened = []sim.Part{sim.PartDrainLine}
	v.Paths[sim.PathDrain].FlowM3S = 1e-4
	shut, open := Build(1000, 640, set, Options{Units: pageUnits{}}), Build(1000, 640, set, Options{Units: pageUnits{}, Inside: v})
	require.Less(t, open.Jets[0].Bottom.Y, shut.Jets[0].Top.Y, "the bucket hangs under the valve, above the air gap")
	var f Frame
	f.Update(open, v, set, PaletteFor(false))
	require.Positive(t, f.Jet[0])
}

// In backwash raw water comes up through a soft bed: dark beads under light marks, and
// light water above them under dark ones.
func TestMarksStandOutOnBeadsAndOnTheWaterAboveThem(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	v := testView()
	for i := range v.Bed.Freeboard {
		v.Bed.Freeboard[i].HardnessMolM3 = set.FeedHardnessMolM3
	}
	var f Frame
	f.Update(s, v, set, PaletteFor(false))
	st := &Stream{Src: SrcFreeboard}
	inBed, above := f.MarkAt(s, st, Pt{Y: 0.5 * (f.BedTop + s.Bed.Floor)}), f.MarkAt(s, st, Pt{Y: f.BedTop - 5})
	require.Equal(t, PaletteFor(false).MarkOn(f.Bead[sim.BedCells/2]), inBed)
	require.Equal(t, f.Mark[SrcFreeboard], above)
	require.NotEqual(t, inBed, above)
	require.Equal(t, f.Mark[SrcPlenum], f.MarkAt(s, &Stream{Src: SrcPlenum}, Pt{Y: s.Bed.Floor - 1}), "the riser's streams lie beside the beads")
	require.Zero(t, f.Cell(s, f.BedTop-50))
	require.Equal(t, sim.BedCells-1, f.Cell(s, s.Bed.Floor+50))
}

// Rinse water lies on the brine that it drives down, and a lifted bed leaves both less room.
func TestWaterAboveTheBedLiesInItsLayers(t *testing.T) {
	set := testSetup()
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	for _, depth := range []float64{1, 1.3} {
		v := testView()
		v.Bed.DepthM *= depth
		v.Bed.Freeboard[sim.BedLayers-1].SaltMolM3 = 1500
		var f Frame
		f.Update(s, v, set, PaletteFor(false))
		require.Equal(t, s.Bed.Box.Y, f.LayerTop(s, 0))
		require.InDelta(t, f.BedTop, f.LayerTop(s, sim.BedLayers), 1e-9)
		for i := range sim.BedLayers {
			at := f.LayerAt(s, 0.5*(f.LayerTop(s, i)+f.LayerTop(s, i+1)))
			require.Equal(t, SrcFreeboard+Src(i), at)
			require.Equal(t, i == sim.BedLayers-1, f.Brine[at] > 0)
		}
		require.Equal(t, SrcFreeboard, f.LayerAt(s, 0))
		require.Equal(t, SrcPlenum-1, f.LayerAt(s, s.Bed.Floor))
	}
}
