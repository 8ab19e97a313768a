package viewmodel

import (
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

const (
	pipeW    = 14.0 // bore of house pipes, drawing units
	pipeWall = 2.5
	boreMM   = 19.0
	plugR    = 14.0
	hoseW    = 11.0 // bore of the drain line
	funnelW  = 40.0 // brim of the standpipe below it
	hoseWall = 2.0
)

// Sources of the house plumbing.
const (
	srcSupply = Src(sim.PathSupply)
	srcIn     = Src(sim.PathBypassIn)
	srcOut    = Src(sim.PathBypassOut)
	srcHouse  = Src(sim.PathHouse)
	srcCross  = Src(sim.PathBypassCross)
)

// houseWide draws supply, bypass and house left of a valve whose body has its
// top left corner at (x, t), down to floor.
func (b *builder) houseWide(x, t, floor float64) {
	px := x - 92 // bypass plugs
	ys, yh := t+supplyY-12, t+houseY+30
	raw, shut := px-62, px-104
	b.pipe(srcIn, pipeW, pipeWall, px, ys, x-24, ys, x-24, t+supplyY, x, t+supplyY)
	b.pipe(srcOut, pipeW, pipeWall, x, t+houseY, x-24, t+houseY, x-24, yh, px, yh)
	b.pipe(srcCross, pipeW, pipeWall, px, ys, px, yh)
	b.pipe(SrcStreet, pipeW, pipeWall, -4, ys, shut, ys)
	b.pipe(srcSupply, pipeW, pipeWall, shut, ys, px, ys)
	tee := t + 182
	legend, _ := b.legendTop(floor, x+drainX)
	out := math.Min(tee+130, legend-22)
	b.pipe(srcHouse, pipeW, pipeWall, px, yh, px, out, -4, out)
	tap := px - 62
	b.pipe(srcHouse, 9, pipeWall, px, tee, tap, tee, tap, tee+22)
	b.pipe(Src(sim.PathRawTap), 7, pipeWall, raw, ys, raw, ys+34)
	b.flush()

	b.flow(srcSupply, boreMM, pipeW, of(sim.PathSupply), -4, ys, raw, ys)
	b.flow(srcSupply, boreMM, pipeW, less(sim.PathSupply, sim.PathRawTap), raw, ys, px, ys)
	b.flow(srcIn, boreMM, pipeW, of(sim.PathBypassIn), px, ys, x-24, ys, x-24, t+supplyY, x, t+supplyY)
	b.flow(srcOut, boreMM, pipeW, of(sim.PathBypassOut), x, t+houseY, x-24, t+houseY, x-24, yh, px, yh)
	b.flow(srcCross, boreMM, pipeW, of(sim.PathBypassCross), px, ys, px, yh)
	b.flow(srcHouse, boreMM, pipeW, of(sim.PathHouse), px, yh, px, tee)
	b.flow(srcHouse, boreMM, pipeW, nil, px, tee, px, out, -4, out)
	b.flow(srcHouse, 14, 9, of(sim.PathHouse), px, tee, tap, tee, tap, tee+22).House = true
	b.flow(Src(sim.PathRawTap), 8, 7, of(sim.PathRawTap), raw, ys, raw, ys+34)

	b.bypass(px, ys, px, yh, 0, [2]float64{math.Pi, math.Pi / 2})
	b.shutOff(shut, ys, 0)
	b.tap(sim.PartRawTap, raw, ys+34, 30, 2)
	b.tap(sim.PartHouseTap, tap, tee+22, 48, 1)
	b.gauge(sim.NodeSupplySide, sim.PartSupply, raw+22, ys-44, raw+22, ys, 0, x)
	b.gauge(sim.NodeValveIn, sim.PartValve, x-41, ys-52, x-41, ys, 0, x-9)
	b.gauge(sim.NodeValveOut, sim.PartValve, x-41, yh+56, x-41, yh, 0, x)
	if b.u > 0.58 { // on a smaller picture they would stand in the way of brackets
		beyond := b.dial() + 2.1*b.opt.small(b.s)/b.u // dial and number
		b.label("valve inlet", "inlet", 0.5, x-41, ys-52-beyond).soft()
		b.label("valve outlet", "outlet", 0.5, x-41, yh+56+beyond).soft()
	}
	b.meter(x-56, yh, true)
	b.number(sim.NodeStreet, shut-32, ys, shut-26, ys)
	b.number(sim.NodeHouseSide, px, tee-34, px, tee+40)
	b.hit(sim.PartSupply, 0, ys-14, shut-18, 28)
	b.hit(sim.PartHouse, 0, out-13, px*0.5, 26)
	b.hit(sim.PartHouse, px-14, tee+20, 28, out-tee-4)

	b.keep(0, ys-10, px-plugR, 20)
	b.keep(px-10, yh, 20, out-yh)
	b.keep(0, out-10, px, 20)
	b.keep(tap-10, tee-14, px-tap, 30)
	b.keep(px, ys-14, x-px, 28)
	b.keep(x-34, t+houseY-10, 34, yh-t-houseY+20)
	b.keep(px, yh-10, x-px, 20)
	b.label("supply", "", 0, 4, ys-38).or(b, 0, 4, ys+22)
	b.label("shut-off", "", 0.5, shut, ys+32).or(b, 0.5, shut, ys+44)
	b.label("raw tap", "raw", 1, raw-15, ys+60).or(b, 1, raw-15, ys+74)
	b.label("meter", "", 0.5, x-54.5, yh-43).or(b, 0.5, x-46, yh-43).or(b, 0.5, x-57, yh+22)
	b.label("to the house", "house", 0, 6, out-30).or(b, 0, 6, out+28)
	b.label("house tap", "", 0.5, tap-4, tee-24).or(b, 0.5, tap-4, tee-32).or(b, 0.5, tap, tee+102).or(b, 1, tap-14, tee+30)
	b.readout(Readout{Kind: ReadBypass, At: b.p(px-13, yh+30), Align: 1, Size: b.opt.small(b.s), Role: Ink}, say.Text("canvas.bypass-service"))
}

// houseTall draws the same plumbing below and left of the valve, its mains
// running down.
func (b *builder) houseTall(x, t, floor float64) {
	xi, xo := x-76, x-26
	yp := t + bodyH + 42 // bypass plugs
	shut, in := yp+88, yp+124
	tee := yp + 84
	out := math.Max(math.Min(tee+120, floor-40), in+44)
	tap := xo + 44
	raw := yp + 46
	// The inlet's gauge stands over the outlet's, as in a wide picture. Their stems end behind
	// the pipes' bends; the outlet's passes behind the other pipe.
	over := t - 112 - 2.2*(b.dial()-leastDial)
	b.stem(xi-6, over, t+supplyY+10)
	b.stem(xo-6, t-28, t+houseY+10)
	b.pipe(srcIn, pipeW, pipeWall, xi, yp, xi, t+supplyY, x, t+supplyY)
	b.pipe(srcOut, pipeW, pipeWall, x, t+houseY, xo, t+houseY, xo, yp)
	b.pipe(srcCross, pipeW, pipeWall, xi, yp, xo, yp)
	b.pipe(SrcStreet, pipeW, pipeWall, -6, in, xi, in, xi, shut)
	b.pipe(srcSupply, pipeW, pipeWall, xi, shut, xi, yp)
	b.pipe(srcHouse, pipeW, pipeWall, xo, yp, xo, out, -6, out)
	b.pipe(srcHouse, 9, pipeWall, xo, tee, tap, tee, tap, tee+20)
	b.pipe(Src(sim.PathRawTap), 7, pipeWall, xi, raw-10, xi+22, raw-10, xi+22, raw+4)
	b.flush()

	b.flow(srcSupply, boreMM, pipeW, of(sim.PathSupply), -6, in, xi, in, xi, raw-10)
	b.flow(srcSupply, boreMM, pipeW, less(sim.PathSupply, sim.PathRawTap), xi, raw-10, xi, yp)
	b.flow(srcIn, boreMM, pipeW, of(sim.PathBypassIn), xi, yp, xi, t+supplyY, x, t+supplyY)
	b.flow(srcOut, boreMM, pipeW, of(sim.PathBypassOut), x, t+houseY, xo, t+houseY, xo, yp)
	b.flow(srcCross, boreMM, pipeW, of(sim.PathBypassCross), xi, yp, xo, yp)
	b.flow(srcHouse, boreMM, pipeW, of(sim.PathHouse), xo, yp, xo, tee)
	b.flow(srcHouse, boreMM, pipeW, nil, xo, tee, xo, out, -6, out)
	b.flow(srcHouse, 14, 9, of(sim.PathHouse), xo, tee, tap, tee, tap, tee+20).House = true
	b.flow(Src(sim.PathRawTap), 8, 7, of(sim.PathRawTap), xi, raw-10, xi+22, raw-10, xi+22, raw+4)

	b.bypass(xi, yp, xo, yp, -math.Pi/2, [2]float64{math.Pi / 2, math.Pi / 2})
	b.shutOff(xi, shut, math.Pi/2)
	b.tap(sim.PartRawTap, xi+22, raw+4, 16, 2)
	b.tap(sim.PartHouseTap, tap, tee+20, 40, 1)
	b.gauge(sim.NodeValveIn, sim.PartValve, xi+6, over, xi-6, over, 0, vw(b))
	b.gauge(sim.NodeValveOut, sim.PartValve, xo-18, t-28, xo-6, t-28, xi-2, vw(b))
	b.keep(xi-10, over, 8, t-over)
	b.meter(xo, t+bodyH-48, false)
	b.number(sim.NodeStreet, xi-4, in)
	b.number(sim.NodeHouseSide, xo, out-26, xo-20, out)
	b.hit(sim.PartSupply, 0, in-16, xi-8, 32)
	b.hit(sim.PartHouse, 0, out-16, xo-12, 32)
	b.keep(0, t, x, bodyH)
	b.keep(0, yp-20, xo+13, in-yp+30)
	b.keep(0, out-10, xo+10, 20)
	b.keep(xo-10, yp, 20, out-yp)
	b.label("bypass", "bypass", 0, xo+16, yp+34).lead(b, xo+8, yp+8)
	b.keep(tap-12, tee-10, 24, 80)
	b.label("supply", "", 0, 2, in+24)
	b.label("house", "house", 0, 4, out+24).or(b, 0, 4, out-24)
}

// meter draws the turbine in the outlet pipe at (x, y) and its dial, above the
// pipe or left of it.
func (b *builder) meter(x, y float64, above bool) {
	const r, wall, off = 11.0, pipeW/2 + pipeWall, 22.0
	cx, cy, foot := x, y-off, b.rect(x-8, y-wall-4, 16, 5)
	if !above {
		cx, cy, foot = x-off, y, b.rect(x-wall-4, y-8, 5, 16)
	}
	b.top(Shell, foot.corners(), b.s.Thin*1.2)
	b.hit(sim.PartMeter, cx-r, cy-r, 2*r, 2*r)
	b.keep(cx-r-1, cy-r-1, 2*r+2, 2*r+2)
	if b.open(sim.PartMeter) {
		return
	}
	for _, k := range []float64{-1, 1} { // vanes in the water
		b.ink(b.s.Thin*1.2, Ink, b.line(x-4.5, y-4.5*k, x+4.5, y+4.5*k))
	}
	c := b.p(cx, cy)
	b.top(Paper, circle(c, r*b.u), b.s.Heavy)
	for i := range 8 {
		si, co := math.Sincos(float64(i) * math.Pi / 4)
		b.ink(b.s.Thin, InkSoft, []Pt{c.Add(0.74*r*b.u*co, 0.74*r*b.u*si), c.Add(0.9*r*b.u*co, 0.9*r*b.u*si)})
	}
	b.s.Meter = Meter{c, r * b.u}
}

// bypass draws the two plugs of the three-position bypass: supply side first.
func (b *builder) bypass(xs, ys, xh, yh, valve float64, mains [2]float64) {
	toward := math.Atan2(yh-ys, xh-xs)
	for i, c := range []Pt{b.p(xs, ys), b.p(xh, yh)} {
		b.top(Cut, circle(c, plugR*b.u), b.s.Heavy)
		b.s.Plugs[i] = Ball{C: c, R: (plugR - 1) * b.u, Bore: (pipeW - 2) * b.u, Mains: mains[i], Valve: valve, Across: toward + math.Pi*float64(i)}
	}
	b.s.Plugs[0].Src, b.s.Plugs[1].Src = srcSupply, srcHouse
	x0, x1 := math.Min(xs, xh)-plugR-3, math.Max(xs, xh)+plugR+3
	y0, y1 := math.Min(ys, yh)-plugR-3, math.Max(ys, yh)+plugR+3
	b.hit(sim.PartBypass, x0, y0, x1-x0, y1-y0)
	b.keep(x0, y0, x1-x0, y1-y0)
}

func (b *builder) shutOff(x, y, axis float64) {
	c := b.p(x, y)
	b.top(Cut, circle(c, 13*b.u), b.s.Heavy)
	b.s.ShutOff = Ball{C: c, R: 12 * b.u, Bore: (pipeW - 2) * b.u, Mains: axis + math.Pi, Valve: axis, Src: srcSupply}
	b.hit(sim.PartShutOff, x-16, y-16, 32, 32)
	b.keep(x-15, y-26, 30, 41)
}

// tap draws the end of a spout at (x, y) over a basin, its stream falling fall.
func (b *builder) tap(part sim.Part, x, y, fall float64, jet int) {
	w := 11.0
	src, full := Src(sim.PathRawTap), 2.0e-4
	if part == sim.PartHouseTap {
		w, src, full = 26, srcHouse, 3.5e-4
	}
	b.top(Shell, b.rect(x-7, y-3, 14, 5).corners(), b.s.Thin*1.2)
	d := w * 0.6
	bowl := append(b.line(x-w, y+fall), fillet(b.line(x-w, y+fall, x-w*0.8, y+fall+d, x+w*0.8, y+fall+d, x+w, y+fall), 8*b.u)...)
	b.face(Paper, bowl)
	b.s.Jets[jet] = Jet{Top: b.p(x, y+2), Bottom: b.p(x, y+fall+d-2), FullW: 8 * b.u, FullM3S: full, Src: src}
	b.s.Taps = append(b.s.Taps, Tap{C: b.p(x, y-7), Len: 9 * b.u, Raw: part == sim.PartRawTap})
	b.hit(part, x-w, y-18, 2*w, fall+d+22)
	b.keep(x-w, y-14, 2*w, fall+d+16)
}

// stem is the thin pipe of a gauge.
func (b *builder) stem(x, y0, y1 float64) {
	b.ink(5*b.u, Ink, b.line(x, y0, x, y1))
	b.ink(5*b.u-2*b.s.Thin, Shell, b.line(x, y0, x, y1))
}

// leastDial is the radius of the dials of a tall picture at least.
const leastDial = 22.0

// dial is the radius of a gauge's dial.
func (b *builder) dial() float64 {
	if b.s.Tall {
		return math.Max(leastDial, 11/b.u)
	}
	return math.Max(21, 12/b.u)
}

// gauge draws a dial at (x, y) on a short stem from (sx, sy), with its number between left
// and right.
func (b *builder) gauge(n sim.Node, part sim.Part, x, y, sx, sy, left, right float64) {
	r := b.dial()
	b.keep(sx-4, math.Min(y, sy), 8, math.Abs(sy-y))
	if sy > y {
		b.stem(sx, y, sy-pipeW/2-pipeWall)
	} else if sy < y {
		b.stem(sx, y, sy+pipeW/2+pipeWall)
	}
	c := b.p(x, y)
	b.top(Paper, circle(c, r*b.u), b.s.Heavy)
	for i := 0.0; i <= 10; i++ { // scale over three quarters of the circle
		a := math.Pi * (0.75 + 1.5*i/10)
		in := 0.82
		if math.Mod(i, 5) == 0 {
			in = 0.7
		}
		co, si := math.Cos(a), math.Sin(a)
		b.ink(b.s.Thin, InkSoft, []Pt{c.Add(in*r*b.u*co, in*r*b.u*si), c.Add(0.92*r*b.u*co, 0.92*r*b.u*si)})
	}
	b.s.Gauges = append(b.s.Gauges, Gauge{Node: n, C: c, R: r * b.u, MaxPa: 6.894757e5})
	b.hit(part, x-r, y-r, 2*r, 2*r)
	b.keep(x-r-1, y-r-1, 2*r+2, 2*r+2)
	size := b.opt.small(b.s)
	ty := y + r + 0.72*size/b.u
	if sy >= y { // the stem is below: the number goes above
		ty = y - r - 0.72*size/b.u
	}
	widest := PressureText(widestPa, b.opt.Units)
	at := b.p(x, ty)
	half := b.opt.Measure(widest, size, false) / 2
	at.X = math.Max(math.Min(at.X, b.p(right, 0).X-half), b.p(left, 0).X+half+3)
	b.readout(Readout{Kind: ReadGauge, Node: n, At: at, Align: 0.5, Size: size, Role: Ink, Plate: b.s.Tall}, widest)
}

// widestPa is a pressure as wide in print as any that a house has.
const widestPa = 6.8e5

// readout adds a changing lettering and keeps others off the room of widest.
func (b *builder) readout(r Readout, widest string) {
	w, h := b.opt.Measure(widest, r.Size, r.Bold), r.Size*1.2
	r.Box = Rect{r.At.X - r.Align*w - 2, r.At.Y - h/2, w + 4, h}
	b.solid = append(b.solid, r.Box)
	b.s.Readouts = append(b.s.Readouts, r)
}
