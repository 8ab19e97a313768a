package viewmodel

import (
	"fmt"
	"math"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// Layers are what the picture shows; the zero value has the water coloured by its
// hardness, and all names.
type Layers struct {
	Plain    bool // water in one colour, without brine and air
	Pressure bool // passages by their pressure, with its numbers, instead of by their water
	Exchange bool // the state of the bed's cells as bars
	Closed   bool // no enlarged section of a part
	Bare     bool // no names
}

// seen takes away what a veil hides: what only a test can tell.
func (l Layers) seen(veiled bool) Layers {
	if veiled {
		l.Pressure, l.Exchange = false, false
	}
	return l
}

// grains tells whether brine and air are shown.
func (l Layers) grains() bool { return !l.Plain && !l.Pressure }

// nodeOf is where the pressure of a body of water is taken from.
func nodeOf(src Src, v *sim.View, below bool) sim.Node {
	switch src {
	case SrcStreet:
		return sim.NodeStreet
	case srcSupply, Src(sim.PathRawTap):
		return sim.NodeSupplySide
	case srcIn:
		return sim.NodeValveIn
	case srcOut:
		return sim.NodeValveOut
	case srcHouse:
		return sim.NodeHouseSide
	case srcCross:
		if v.Bypass == "bypass" {
			return sim.NodeSupplySide
		}
		return sim.NodeHouseSide
	}
	return valveNode(src, below)
}

// valveNode is nodeOf inside valve and tank; below has the injector discharge
// below the bed.
func valveNode(src Src, below bool) sim.Node {
	switch src {
	case SrcPlenum:
		return sim.NodeBedBottom
	case Src(sim.PathRiser), SrcRiserHead:
		return sim.NodeRiserTop
	case SrcManifold:
		return sim.NodeDrainManifold
	case Src(sim.PathDrain):
		return sim.NodeDrainLine
	case Src(sim.PathMotiveSeat):
		return sim.NodeScreen
	case SrcNozzle:
		return sim.NodeNozzleIn
	case Src(sim.PathDischarge):
		return sim.NodeThroat
	case Src(sim.PathBrineSeat):
		return sim.NodeSuction
	case SrcPort:
		return sim.NodeValveBrine
	case Src(sim.PathBrineLine):
		return sim.NodeBrinePickup
	case SrcReturn:
		if below {
			return sim.NodeRiserTop
		}
	}
	return sim.NodeBedTop
}

// press colours all water by its pressure.
func (f *Frame) press(s *Scene, v *sim.View, pal *Palette) {
	for i := range f.Colour {
		c := Cividis(v.PressurePa[nodeOf(Src(i), v, s.below)] / s.TopPa)
		f.Colour[i], f.Mark[i] = c, pal.MarkOn(c)
	}
}

// cell colours a cell of the bed where it is not shown by its load and water.
func (f *Frame) cell(i int, s *Scene, v *sim.View, pal *Palette) {
	switch {
	case s.Layers.Pressure:
		top, low := v.PressurePa[sim.NodeBedTop], v.PressurePa[sim.NodeBedBottom]
		c := Cividis((top + (low-top)*(float64(i)+0.5)/sim.BedCells) / s.TopPa)
		f.Bead[i], f.Water[i] = c, c
	case s.Veiled || s.Layers.Plain:
		f.Bead[i], f.Water[i] = pal.Role[Shade], pal.Liquid
	}
	if !s.Layers.grains() {
		f.Stipple[i] = 0
	}
}

// stepPa is about the step between the ends that a scale of pressures may have.
const stepPa = 1e5

// topOf is the hard end of the scale of pressures: the supply's, rounded up to a
// number that is easily read in the units shown.
func topOf(supplyPa float64, units Units) float64 {
	factor, _ := units.Scale(sim.UnitPressure)
	step := 20.0 // psi
	if factor*stepPa > step {
		step = 100 // kPa
	}
	return math.Max(1, math.Ceil(supplyPa*factor/step)) * step / factor
}

// numberText writes a pressure without its unit, which the key tells.
func numberText(pa float64, units Units) string {
	factor, _ := units.Scale(sim.UnitPressure)
	if text := fmt.Sprintf("%.0f", pa*factor); text != "-0" {
		return text
	}
	return "0"
}

// spot is a place for a node's number, the first of those that are free, CSS px.
type spot struct {
	node sim.Node
	at   []Pt
}

// number notes where the pressure of a node can be written, in drawing units.
func (b *builder) number(n sim.Node, xy ...float64) {
	b.spots = append(b.spots, spot{n, b.line(xy...)})
}

// numbers writes the pressures on their passages.
func (b *builder) numbers() {
	if !b.s.Layers.Pressure {
		return
	}
	size := b.opt.small(b.s)
	taken := append([]Rect(nil), b.moving...)
	for _, list := range [][]Placed{b.s.Labels, b.s.Plates} {
		for _, l := range list {
			taken = append(taken, Rect{l.X, l.Y, b.opt.Measure(l.Text, l.Size, l.Bold), l.Size * 1.2}.Inset(-1))
		}
	}
	for i := range b.s.Readouts {
		taken = append(taken, b.s.Readouts[i].Box)
	}
	w, h := b.opt.Measure(numberText(widestPa, b.opt.Units), size, true)+4, size*1.2
	stage := Rect{2, 1, b.s.W - 4, b.s.H - 2}
	for _, sp := range b.spots {
		for _, p := range sp.at {
			r := Rect{p.X - w/2, p.Y - h/2, w, h}
			if fits(r, taken, stage) {
				taken = append(taken, r.Inset(-1))
				b.s.Readouts = append(b.s.Readouts, Readout{Kind: ReadNode, Node: sp.node, At: p, Align: 0.5, Size: size, Bold: true, Role: Ink, Plate: true, Box: r})
				break
			}
		}
	}
}

// bars marks the halves of the bed while its cells are shown as bars.
func (b *builder) bars() {
	if !b.s.Layers.Exchange {
		return
	}
	bed, size := &b.s.Bed, b.opt.small(b.s)
	left, right := bed.Box.X, bed.Box.X+bed.Box.W
	half := (bed.Box.W - bed.RiserW) / 2
	end, unit := b.hardnessScale()
	ranges := []string{"0–100 %", "0–" + end + " " + strings.TrimSuffix(unit, say.Text("unit.as-caco3"))}
	for i, text := range []string{"resin", "water"} {
		x := []float64{(left + bed.RiserX - bed.RiserW/2) / 2, (right + bed.RiserX + bed.RiserW/2) / 2}[i]
		y := bed.Floor - b.set.BedDepthM*bed.PxPerM - 2.9*size
		b.tag(text, x, y, half)
		b.tag(ranges[i], x, y+1.25*size, half)
	}
}

// tag is a small lettering on a plate about x with its top at y, where it has room.
func (b *builder) tag(text string, x, y, room float64) {
	size := b.opt.small(b.s)
	if w := b.opt.Measure(text, size, false); w+4 <= room {
		b.s.Plates = append(b.s.Plates, Placed{Text: text, X: x - w/2, Y: y, Size: size, Role: Ink})
	}
}
