package viewmodel

import (
	"image/color"
	"math"

	"brinebench/sim"
)

// Frame is what the picture shows at one moment; its slices are reused.
type Frame struct {
	Colour  [NumSrc]color.RGBA // of each body of water
	Mark    [NumSrc]color.RGBA // marks that stand out on it
	Brine   [NumSrc]float64    // strength relative to saturation, 0..1
	Air     [NumSrc]float64    // volume fraction, 0..1
	Speed   []float64          // of each stream's water, m/s along its points
	Bead    [sim.BedCells]color.RGBA
	OnBead  [sim.BedCells]color.RGBA // marks that stand out on it
	Water   [sim.BedCells]color.RGBA // between the beads
	Stipple [sim.BedCells]float64
	Load    [sim.BedCells]float64 // of the resin's sites that hardness holds, 0..1
	Hard    [sim.BedCells]float64 // hardness between the beads relative to the feed's, 0..1
	Jet     [3]float64            // width of each free stream, CSS px
	Drips   [3]bool               // single drops fall in its place
	BedTop  float64               // y of the top of the bed, CSS px
	Lift    float64               // expansion of the bed over its rest depth, 0 at rest
	Share   float64               // of the resin that the unit was set up with, 0..1
	Metered float64               // flow past the meter, m³/s
	Losing  bool                  // the backwash carries beads to the drain
}

// Update fills f with the view's values.
func (f *Frame) Update(s *Scene, v *sim.View, set *sim.Setup, pal *Palette) {
	for i := range f.Colour {
		f.body(Src(i), waterOf(Src(i), v), set, pal)
	}
	switch {
	case s.Layers.Pressure:
		f.press(s, v, pal)
	case s.Veiled || s.Layers.Plain:
		f.veil(pal)
	}
	if v.Dry { // what opens downwards has run out
		f.run(pal, SrcTankHead, SrcRiserHead, SrcReturn)
	}
	if v.Emptied {
		f.run(pal, SrcPlenum, Src(sim.PathRiser))
		for i := range sim.BedLayers {
			f.run(pal, SrcFreeboard+Src(i))
		}
	}
	f.Colour[SrcTank] = pal.Liquid
	f.Mark[SrcTank] = pal.MarkOn(pal.Liquid)
	f.Brine[SrcTank] = v.Tank.Saturation
	if !s.Layers.grains() {
		f.Brine, f.Air = [NumSrc]float64{}, [NumSrc]float64{}
	}
	f.streams(s, v)
	f.Metered = v.MeterM3S
	f.bed(s, v, set, pal)
	drain := v.DrainStream
	if isOpen(v, sim.PartDrainLine) { // into the bucket, not the air gap
		drain = v.Paths[sim.PathDrain].FlowM3S
	}
	flows := [3]float64{drain, v.Paths[sim.PathHouse].FlowM3S - v.HouseDrawM3S, v.Paths[sim.PathRawTap].FlowM3S}
	for i, q := range flows {
		f.Jet[i], f.Drips[i] = jetWidth(&s.Jets[i], q), q >= leastDrops && q < leastStream
	}
}

func waterOf(src Src, v *sim.View) sim.Water {
	if src >= SrcFreeboard && src < SrcPlenum {
		return v.Bed.Freeboard[src-SrcFreeboard]
	}
	switch src {
	case SrcPlenum:
		return v.Bed.Plenum
	case SrcTankHead:
		return v.TankHead
	case SrcRiserHead:
		return v.RiserHead
	case SrcTank:
		return sim.Water{}
	case SrcStreet:
		src = srcSupply
	case SrcManifold:
		src = Src(sim.PathDrain)
	case SrcPort:
		src = Src(sim.PathBrineLine)
	case SrcNozzle:
		src = Src(sim.PathMotiveSeat)
	case SrcReturn:
		src = Src(sim.PathDischarge)
	}
	return v.Paths[src].Water
}

func (f *Frame) body(src Src, w sim.Water, set *sim.Setup, pal *Palette) {
	f.Colour[src] = Cividis(ratio(w.HardnessMolM3, set.FeedHardnessMolM3))
	f.Mark[src] = pal.MarkOn(f.Colour[src])
	f.Brine[src] = strength(w.SaltMolM3, set)
	f.Air[src] = clamp(w.Air, 0, 1)
}

// strength is the salt in water relative to saturation, 0..1; the ordinary
// mineral content of water is no brine.
func strength(salt float64, set *sim.Setup) float64 {
	s := clamp(ratio(salt, set.SaturatedSaltMolM3), 0, 1)
	if s < 0.01 {
		return 0
	}
	return s
}

func ratio(a, b float64) float64 {
	if b <= 0 {
		return 0
	}
	return a / b
}

func (f *Frame) streams(s *Scene, v *sim.View) {
	if len(f.Speed) != len(s.Streams) {
		f.Speed = make([]float64, len(s.Streams))
	}
	for i := range s.Streams {
		st := &s.Streams[i]
		q := 0.0
		for _, t := range st.Terms {
			q += t.Coef * v.Paths[t.Path].FlowM3S
		}
		if st.House {
			q -= v.HouseDrawM3S
		} else if st.Terms == nil {
			q = v.HouseDrawM3S
		}
		if math.Abs(q) < 2e-8 { // a drip: no visible stream
			q = 0
		}
		f.Speed[i] = q / st.AreaM2
	}
}

// veil gives all water the one colour that tells nothing of its hardness.
func (f *Frame) veil(pal *Palette) {
	for i := range f.Colour {
		f.Colour[i], f.Mark[i] = pal.Liquid, pal.MarkOn(pal.Liquid)
	}
}

func (f *Frame) bed(s *Scene, v *sim.View, set *sim.Setup, pal *Palette) {
	for i := range f.Bead {
		f.Bead[i] = Cividis(v.Bed.Load[i])
		f.Water[i] = Cividis(ratio(v.Bed.Hardness[i], set.FeedHardnessMolM3))
		f.Stipple[i] = strength(v.Bed.Salt[i], set)
		f.Load[i], f.Hard[i] = clamp(v.Bed.Load[i], 0, 1), clamp(ratio(v.Bed.Hardness[i], set.FeedHardnessMolM3), 0, 1)
		f.cell(i, s, v, pal)
		f.OnBead[i] = pal.MarkOn(f.Bead[i])
	}
	depth := math.Min(v.Bed.DepthM*s.Bed.PxPerM, s.Bed.Box.H-4)
	f.BedTop = s.Bed.Floor - depth
	f.Lift = math.Max(0, ratio(v.Bed.DepthM, v.Bed.RestDepthM)-1)
	f.Share = clamp(ratio(v.Bed.RestDepthM, set.BedDepthM), 0, 1)
	if sim.RiserOut(v.Opened) { // for a riser the tank is emptied
		f.BedTop, f.Lift, f.Share = s.Bed.Floor, 0, 0
	}
	f.Losing = v.Bed.DepthM >= set.TankHeightM && v.Paths[sim.PathBackwashSeat].FlowM3S > 1e-5
}

// run takes the water out of places that have run dry.
func (f *Frame) run(pal *Palette, dry ...Src) {
	for _, src := range dry {
		f.Colour[src], f.Mark[src], f.Brine[src], f.Air[src] = pal.Role[Paper], pal.Role[Paper], 0, 0
	}
}

// Flows from which single drops are seen to fall, and from which they run together, m³/s:
// 0.005 and 0.02 gpm, as who looks at the drain tells them.
const leastDrops, leastStream = 3.2e-7, 1.26e-6

// jetWidth gives a free stream the width that goes with the root of its flow:
// at equal speed the flow is proportional to the area.
func jetWidth(j *Jet, q float64) float64 {
	if q < leastStream {
		return 0
	}
	return math.Max(2, j.FullW*math.Min(1.3, math.Sqrt(q/j.FullM3S)))
}

// MeterSpeed turns the flow past the meter into the speed of its needle, rad/s:
// a turn per litre at pace 1, growing with the pace as the marks do.
func MeterSpeed(m3s, pace float64) float64 {
	if math.Abs(m3s) < 2e-8 {
		return 0
	}
	return clamp(2*math.Pi*1000*m3s*clamp(pace, 0, 4), -12, 12)
}

// MarkScale is the speed of marks in CSS px/s for water at 1 m/s and true time.
const MarkScale = 62.0

// MarkSpeed turns the true speed of water into the speed of marks at pace
// simulated seconds per second: every stream by the same factor, which stops
// growing at 4, and none so fast that the eye loses it.
func MarkSpeed(ms, pace float64) float64 {
	return clamp(ms*MarkScale*clamp(pace, 0, 4), -260, 260)
}

// MarkAt is the colour in which a mark of a stream stands out at a place: in the bed it lies
// on beads.
func (f *Frame) MarkAt(s *Scene, st *Stream, p Pt) color.RGBA {
	switch {
	case st.Src != SrcFreeboard || p.Y > s.Bed.Floor:
		return f.Mark[st.Src]
	case p.Y < f.BedTop:
		return f.Mark[f.LayerAt(s, p.Y)]
	}
	return f.OnBead[f.Cell(s, p.Y)]
}

// LayerTop is the height of the picture at which layer i of the water above the bed begins.
func (f *Frame) LayerTop(s *Scene, i int) float64 {
	return s.Bed.Box.Y + float64(i)/sim.BedLayers*(f.BedTop-s.Bed.Box.Y)
}

// LayerAt is the layer of the water above the bed at a height of the picture; of two beyond
// it the nearer.
func (f *Frame) LayerAt(s *Scene, y float64) Src {
	i := int((y - s.Bed.Box.Y) / math.Max(1, f.BedTop-s.Bed.Box.Y) * sim.BedLayers)
	return SrcFreeboard + Src(min(max(i, 0), sim.BedLayers-1))
}

// Cell is the cell of the bed at a height of the picture; of two beyond it the nearer.
func (f *Frame) Cell(s *Scene, y float64) int {
	return min(max(int((y-f.BedTop)/math.Max(1, s.Bed.Floor-f.BedTop)*sim.BedCells), 0), sim.BedCells-1)
}
