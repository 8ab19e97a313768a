package viewmodel

import (
	"math"

	"brinebench/sim"
)

const (
	shellW  = 4.0  // wall of a tank, drawing units
	offGap  = 30.0 // between a tank and a valve that has been taken off it
	riserUp = 14.0 // by which the riser then stands out of the neck
)

// resinTank draws the tank hanging from the neck centred at x, from y (the
// underside of the valve body) to floor, w wide.
func (b *builder) resinTank(x, y, w, floor float64) {
	nh, dome := 26.0, 40.0
	if b.valveOff() {
		y += offGap
	}
	hw, nw := w/2, neckW/2
	top := y + nh
	shell := b.tankOutline(x, top, hw, nw, floor, dome)
	inner := b.tankOutline(x, top, hw-shellW, nw, floor-shellW, dome)
	b.under(Op{Kind: OpFill, Role: Cut, Pts: shell})
	b.outline(shell, b.s.Heavy)
	b.over(Op{Kind: OpErase, Pts: inner})
	b.outline(inner, b.s.Thin)
	b.neck(x, y, nh)

	base := floor - shellW - 20 // underside of the bed
	topIn := top + 4
	b.tankWater(x, hw-shellW, nw, y, top, floor-shellW, dome, base)
	if b.riserOut() { // and all that is in it
		b.top(Paper, inner, b.s.Thin)
	}
	b.distributors(x, y, top, base, hw)
	pxm := (base - topIn) / b.set.TankHeightM
	if b.set.BedDepthM*pxm > 0.62*(base-topIn) { // keep room for the bed to lift
		pxm = 0.62 * (base - topIn) / b.set.BedDepthM
	}
	box := b.rect(x-hw+shellW, topIn, w-2*shellW, base-topIn)
	b.s.Bed = Bed{
		Box: box, PxPerM: pxm * b.u, Floor: box.Y + box.H,
		RiserX: b.p(x, 0).X, RiserW: (riserW + 6) * b.u, BeadR: 3.1 * b.u,
	}
	if b.riserOut() {
		b.s.Bed.RiserW = 0
	}
	b.scatterBeads(w-2*shellW, b.set.BedDepthM*pxm)
	b.s.Bed.Grains = scatter(1100, 7)
	b.tankFlows(x, y, top, base, hw)
	b.tankHits(x, y, w, top, base, floor, pxm)
}

// tankOutline is the section of a tank with domed ends and an open neck.
func (b *builder) tankOutline(x, top, hw, nw, floor, dome float64) []Pt {
	pts := b.line(x-nw, top-26, x-nw, top)
	pts = append(pts, ellipse(b.p(x-nw, top+dome), (hw-nw)*b.u, dome*b.u, -math.Pi/2, -math.Pi)...)
	pts = append(pts, ellipse(b.p(x-hw+dome*0.8, floor-dome*0.55), dome*0.8*b.u, dome*0.55*b.u, math.Pi, math.Pi/2)...)
	pts = append(pts, ellipse(b.p(x+hw-dome*0.8, floor-dome*0.55), dome*0.8*b.u, dome*0.55*b.u, math.Pi/2, 0)...)
	pts = append(pts, ellipse(b.p(x+nw, top+dome), (hw-nw)*b.u, dome*b.u, 0, -math.Pi/2)...)
	return append(pts, b.line(x+nw, top, x+nw, top-26)...)
}

func ellipse(c Pt, rx, ry, a0, a1 float64) []Pt {
	const n = 12
	pts := make([]Pt, n+1)
	for i := range pts {
		a := a0 + (a1-a0)*float64(i)/n
		pts[i] = c.Add(rx*math.Cos(a), ry*math.Sin(a))
	}
	return pts
}

// neck draws the threaded neck in section, left and right of the opening.
func (b *builder) neck(x, y, h float64) {
	for _, k := range []float64{-1, 1} {
		in, out := x+k*neckW/2, x+k*(neckW/2+15)
		pts := b.line(in, y, out, y, out, y+h*0.75, in, y+h+1)
		b.over(Op{Kind: OpFill, Role: Cut, Pts: pts})
		b.outline(pts, b.s.Heavy)
		for t := 1.0; t < 5; t++ {
			b.ink(b.s.Thin, Ink, b.line(out-k*4, y+t*4-1, out, y+t*4))
		}
	}
}

// tankWater lays the meshes of freeboard and plenum; the bed is the view's.
func (b *builder) tankWater(x, hw, nw, y, top, floor, dome, base float64) {
	n := b.line(x-nw, y, x+nw, y, x+nw, top+1, x-nw, top+1)
	b.s.Waters = append(b.s.Waters, Water{fan(n), SrcTankHead})
	var upper []Pt
	upper = append(upper, ellipse(b.p(x+nw, top+dome), (hw-nw)*b.u, dome*b.u, -math.Pi/2, 0)...)
	upper = append(upper, b.line(x+hw, base, x-hw, base)...)
	upper = append(upper, ellipse(b.p(x-nw, top+dome), (hw-nw)*b.u, dome*b.u, -math.Pi, -math.Pi/2)...)
	b.s.Waters = append(b.s.Waters, Water{fan(upper), SrcFreeboard})
	var lower []Pt
	lower = append(lower, b.line(x-hw, base, x+hw, base)...)
	lower = append(lower, ellipse(b.p(x+hw-dome*0.8, floor-dome*0.55), dome*0.8*b.u, dome*0.55*b.u, 0, math.Pi/2)...)
	lower = append(lower, ellipse(b.p(x-hw+dome*0.8, floor-dome*0.55), dome*0.8*b.u, dome*0.55*b.u, math.Pi/2, math.Pi)...)
	b.s.Waters = append(b.s.Waters, Water{fan(lower), SrcPlenum})
}

// distributors draws riser, upper and lower distributor.
func (b *builder) distributors(x, y, top, base, hw float64) {
	riser := Src(sim.PathRiser)
	low, uy := base+6, top+3
	if !b.open(sim.PartUpperDist) {
		b.slotted(x-neckW/2+1, uy, neckW/2-riserW/2-4, 11)
		b.slotted(x+riserW/2+3, uy, neckW/2-riserW/2-4, 11)
	}
	if b.riserOut() {
		return
	}
	b.passageUnder(riser, riserW, x, y-1, x, low)
	head := y - 1
	if b.valveOff() {
		head -= riserUp
	}
	for _, k := range []float64{-1, 1} {
		b.top(Shell, b.rect(x+k*(riserW/2+1.5)-1.5, head, 3, low-head-3).corners(), b.s.Thin)
	}
	b.slotted(x-hw*0.42, low-5, hw*0.84, 13)
}

// valveOff reports whether the valve is off the tank.
func (b *builder) valveOff() bool {
	return b.opt.Inside != nil && sim.ValveOff(b.opt.Inside.Opened)
}

// riserOut reports whether the riser, and the basket at its foot with it, is out of the tank.
func (b *builder) riserOut() bool {
	return b.opt.Inside != nil && sim.RiserOut(b.opt.Inside.Opened)
}

// passageUnder is a passage whose outline the caller draws.
func (b *builder) passageUnder(src Src, w float64, xy ...float64) {
	b.s.Waters = append(b.s.Waters, Water{ribbon(b.line(xy...), w*b.u), src})
}

// slotted is the face of a distributor: a basket with slots.
func (b *builder) slotted(x, y, w, h float64) {
	b.top(Shell, roundRect(b.rect(x, y, w, h), 3*b.u), b.s.Thin*1.3)
	n := math.Max(2, math.Floor(w/5))
	for i := 0.5; i < n; i++ {
		b.ink(b.s.Thin, Ink, b.line(x+w*i/n, y+2.5, x+w*i/n, y+h-2.5))
	}
}

// scatterBeads fills the bed at rest with beads in a jittered triangular grid.
func (b *builder) scatterBeads(w, depth float64) {
	pitch := math.Sqrt(w * depth / 760)
	b.s.Bed.BeadR = pitch * 0.46 * b.u
	rows, cols := int(depth/(pitch*0.87)), int(w/pitch)
	for r := range rows {
		for c := range cols {
			k := r*cols + c
			off := 0.25 + 0.5*float64(r%2)
			px := (float64(c) + off + 0.22*(Scatter(k, 1)-0.5)) / (float64(cols) + 0.0)
			py := (float64(r) + 0.5 + 0.22*(Scatter(k, 2)-0.5)) / float64(rows)
			b.s.Bed.Beads = append(b.s.Bed.Beads, Pt{px, py})
		}
	}
}

// scatter returns n places in the unit square, evenly spread whatever part of
// the list is used: the R2 sequence of plastic-number steps.
func scatter(n, seed int) []Pt {
	const g = 1.32471795724474602596
	pts := make([]Pt, n)
	for i := range pts {
		k := float64(i + seed)
		x, y := 0.5+k/g, 0.5+k/(g*g)
		pts[i] = Pt{x - math.Floor(x), y - math.Floor(y)}
	}
	return pts
}

func (b *builder) tankFlows(x, y, top, base, hw float64) {
	if b.riserOut() {
		return
	}
	riser, low, head := Src(sim.PathRiser), base+6, y-(bodyH-riserY)
	if b.valveOff() {
		head = y
	}
	b.flow(riser, 26, riserW, of(sim.PathRiser), x, low, x, head)
	area := math.Pi / 4 * b.set.TankDiameterM * b.set.TankDiameterM
	for _, k := range []float64{-0.72, -0.44, 0.44, 0.72} {
		st := b.flow(SrcFreeboard, 1, 8, of(sim.PathBed), x+k*hw, top+46, x+k*hw, base-4)
		st.AreaM2, st.Gap = area, MarkGap*1.6
		st.Width = 0
	}
	for _, k := range []float64{-1, 1} {
		b.flow(SrcPlenum, 26, 8, []Term{{sim.PathRiser, 0.5}}, x+k*hw*0.8, base+8, x+k*hw*0.45, low+2).Width = 0
	}
}

func (b *builder) tankHits(x, y, w, top, base, floor, pxm float64) {
	bed := b.set.BedDepthM * pxm
	b.hit(sim.PartBed, x-w/2, base-bed, w, bed)
	b.hit(sim.PartRiser, x-riserW/2-3, top+20, riserW+6, base-top-30)
	b.hit(sim.PartUpperDist, x-neckW/2, top-6, neckW, 24)
	b.hit(sim.PartLowerDist, x-w*0.3, base-6, w*0.6, 26)
	b.number(sim.NodeBedTop, x+w*0.3, top+42, x-w*0.3, top+42)
	b.number(sim.NodeBedBottom, x+w*0.37, base+8, x-w*0.37, base+8)
	b.keep(x-w/2-3, y, w+6, floor-y+3)
	r := x + w/2 + 12
	l := x - w/2 - 12
	if !b.open(sim.PartUpperDist) {
		b.label("upper distributor", "", 0, r, top+4).lead(b, x+neckW/2-3, top+10)
	}
	if b.riserOut() {
		return
	}
	if !b.s.Tall {
		b.label("freeboard", "", 0, r, top+52).or(b, 0, r, top+32).or(b, 1, l, top+52).lead(b, x+w/2-16, top+56).leadLeft(b, x-w/2+16, top+56).soft()
	}
	b.label("resin bed", "bed", 0, r, base-bed*0.62).or(b, 1, l, base-bed*0.62).lead(b, x+w/2-12, base-bed*0.62).leadLeft(b, x-w/2+12, base-bed*0.62)
	b.label("riser tube", "riser", 0, r, base-bed*0.3).or(b, 1, l, base-bed*0.3).lead(b, x+riserW/2, base-bed*0.3).leadLeft(b, x-riserW/2, base-bed*0.3)
	b.label("lower distributor", "", 0, r, base+10).or(b, 1, l, base+10).lead(b, x+w*0.2, base+8).leadLeft(b, x-w*0.2, base+8)
}

// drainLine draws the hose from the body's underside at (x, y) to the air gap
// at (ex, ey) over a standpipe that reaches floor.
func (b *builder) drainLine(x, y, ex, ey, floor float64) {
	src := Src(sim.PathDrain)
	xy := []float64{x, y, x, ey}
	if ex != x {
		xy = []float64{x, y, x, y + 22, ex, y + 22, ex, ey}
	}
	b.s.Jets[0] = Jet{Top: b.p(ex, ey), Bottom: b.p(ex, floor), FullW: 10 * b.u, FullM3S: 1.7e-4, Src: src}
	if b.open(sim.PartDrainLine) {
		b.drainOff(x, y, ex, ey)
	} else {
		b.pipe(src, hoseW, hoseWall, xy...)
		b.flush()
		b.flow(src, 12.7, 11, of(sim.PathDrain), xy...).Beads = true
		b.keep(x-10, y, ex-x+20, 33)
	}
	const gap, brim = 34.0, funnelW / 2
	cup := b.line(ex-brim, ey+gap-8, ex-9, ey+gap+10, ex-9, floor, ex+9, floor, ex+9, ey+gap+10, ex+brim, ey+gap-8)
	b.under(Op{Kind: OpFill, Role: Paper, Pts: cup})
	b.ink(b.s.Heavy, Ink, cup[:3])
	b.ink(b.s.Heavy, Ink, cup[3:])
	b.ink(b.s.Heavy, Ink, b.line(ex-34, floor, ex-9, floor))
	b.ink(b.s.Heavy, Ink, b.line(ex+9, floor, ex+34, floor))
	b.hatchGround(ex-34, floor, 25)
	b.hatchGround(ex+9, floor, 25)
	b.hit(sim.PartAirGap, ex-20, ey-2, 40, gap+12)
	b.hit(sim.PartDrainLine, ex-12, y+4, 24, ey-y-8)
	b.keep(ex-10, y, 20, ey-y)
	b.keep(ex-21, ey, 42, floor-ey)
	b.label("air gap", "", 0, ex+24, ey+12).or(b, 1, ex-24, ey+12)
	b.label("drain line", "drain", 1, ex-16, (y+ey)/2).or(b, 0, ex+16, (y+ey)/2)
}

// hatchGround draws short strokes under a floor line.
func (b *builder) hatchGround(x, y, w float64) {
	for k := 0.0; k < w; k += 6 {
		b.ink(b.s.Thin, InkSoft, b.line(x+k+4, y+1, x+k-1, y+6))
	}
}

// HalfWidth is how far the resin tank reaches to each side of the riser at a height of the
// picture, CSS px.
func (s *Scene) HalfWidth(y float64) float64 {
	bed, u := &s.Bed, s.Unit
	half, neck, rim := bed.Box.W/2, 33*u, bed.Box.Y+36*u
	if y > rim {
		return half
	}
	k := (rim - y) / (40 * u)
	return neck + (half-neck)*math.Sqrt(math.Max(0, 1-k*k))
}

// InTank tells whether a place lies inside the resin tank and not in a corner above its dome.
func (s *Scene) InTank(x, y float64) bool {
	bed, u := &s.Bed, s.Unit
	return y > bed.Box.Y+36*u || math.Abs(x-bed.RiserX) < s.HalfWidth(y)-3*u
}
