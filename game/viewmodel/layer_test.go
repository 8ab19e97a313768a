package viewmodel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// allLayers is every way of looking that the key can be set to.
func allLayers() (all []Layers) {
	for i := range 12 {
		all = append(all, Layers{Plain: i%3 == 1, Pressure: i%3 == 2, Exchange: i/3%2 == 1, Bare: i/6 == 1})
	}
	return all
}

func TestLetteringsStayApartInEveryLayer(t *testing.T) {
	m := goMeasure(t)
	for _, size := range stages {
		for _, l := range allLayers() {
			for _, si := range []bool{false, true} {
				s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{si}, SI: si, Measure: m, Layers: l})
				requireApart(t, s, letterings(t, s, m))
			}
		}
	}
}

func TestPressuresOfTheWholeUnitStandOnALargePicture(t *testing.T) {
	for _, size := range [][2]float64{{927, 620}, {1250, 800}, {1000, 640}} {
		s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Measure: goMeasure(t), Layers: Layers{Pressure: true}})
		shown := map[sim.Node]bool{}
		for _, r := range s.Readouts {
			shown[r.Node] = shown[r.Node] || r.Kind == ReadNode || r.Kind == ReadGauge
		}
		for n := range sim.NumNodes {
			require.True(t, shown[n], "node %d at %v", n, size)
		}
	}
}

func TestNumbersOfPressuresKeepOffDiscs(t *testing.T) {
	for _, size := range stages {
		s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Measure: goMeasure(t), Layers: Layers{Pressure: true}})
		for _, r := range s.Readouts {
			for i := range s.Seats {
				d := &s.Seats[i]
				disc := Rect{d.X - d.DiscW/2, d.PlateY - d.Lift - d.DiscH, d.DiscW, d.Lift + d.DiscH}
				require.False(t, r.Kind == ReadNode && r.Box.Overlaps(disc), "node %d on seat %s at %v", r.Node, d.Seat, size)
			}
		}
	}
}

func TestPressureColoursEveryPassageByItsNode(t *testing.T) {
	set, v := testSetup(), testView()
	s := Build(1000, 640, set, Options{Units: pageUnits{}, Layers: Layers{Pressure: true}})
	for i := range v.PressurePa {
		v.PressurePa[i] = s.TopPa * float64(i) / float64(sim.NumNodes)
	}
	v.Paths[sim.PathBrineLine].Water.SaltMolM3 = 5400
	var f Frame
	f.Update(s, v, set, PaletteFor(false))
	for src, node := range map[Src]sim.Node{
		SrcStreet: sim.NodeStreet, Src(sim.PathSupply): sim.NodeSupplySide, Src(sim.PathBypassIn): sim.NodeValveIn,
		Src(sim.PathBypassOut): sim.NodeValveOut, Src(sim.PathHouse): sim.NodeHouseSide, SrcFreeboard: sim.NodeBedTop, SrcTankHead: sim.NodeBedTop,
		SrcPlenum: sim.NodeBedBottom, Src(sim.PathRiser): sim.NodeRiserTop, SrcRiserHead: sim.NodeRiserTop, SrcManifold: sim.NodeDrainManifold,
		Src(sim.PathDrain): sim.NodeDrainLine, Src(sim.PathMotiveSeat): sim.NodeScreen, SrcNozzle: sim.NodeNozzleIn,
		Src(sim.PathDischarge): sim.NodeThroat, Src(sim.PathBrineSeat): sim.NodeSuction, SrcPort: sim.NodeValveBrine,
		Src(sim.PathBrineLine): sim.NodeBrinePickup, SrcReturn: sim.NodeBedTop,
	} {
		require.Equal(t, Cividis(v.PressurePa[node]/s.TopPa), f.Colour[src], "source %d", src)
	}
	require.Zero(t, f.Brine, "colours stand for pressure alone")
	set.CounterCurrent = true
	s = Build(1000, 640, set, Options{Units: pageUnits{}, Layers: Layers{Pressure: true}})
	f.Update(s, v, set, PaletteFor(false))
	require.Equal(t, f.Colour[sim.PathRiser], f.Colour[SrcReturn], "its injector discharges below the bed")
}

func TestScaleOfPressuresEndsInARoundNumberAboveTheSupply(t *testing.T) {
	for _, si := range []bool{false, true} {
		for _, pa := range []float64{1.6e5, 3.1e5, 4.2e5, 6.8e5} {
			top := topOf(pa, pageUnits{si})
			require.GreaterOrEqual(t, top, pa)
			require.LessOrEqual(t, top-pa, 1.4e5)
			require.Contains(t, []string{"20", "40", "60", "80", "100", "200", "400", "500", "700"}, numberText(top, pageUnits{si}), fmt.Sprint(pa))
		}
	}
}

func TestVeilHidesPressuresAndCells(t *testing.T) {
	s := Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Veiled: true, Layers: Layers{Pressure: true, Exchange: true}})
	require.Equal(t, Layers{}, s.Layers)
	for _, r := range s.Readouts {
		require.NotEqual(t, ReadNode, r.Kind)
	}
}

func TestNamesCanBeTakenOff(t *testing.T) {
	for _, size := range stages {
		s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Layers: Layers{Bare: true}})
		require.Empty(t, s.Plates, "seat names")
		for _, l := range s.Labels {
			require.NotContains(t, []string{"resin bed", "bed", "injector", "brine tank", "control valve", "riser tube", "meter"}, l.Text)
		}
		require.NotEmpty(t, s.Readouts, "gauges still tell")
	}
}
