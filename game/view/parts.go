package view

import (
	"image/color"
	"math"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

func (g *Stage) role(r viewmodel.Role) color.RGBA { return g.pal.Role[r] }
func (g *Stage) ink() color.RGBA                  { return g.pal.Role[viewmodel.Ink] }

// drawParts draws the moving parts, which stand in front of the outlines.
func (g *Stage) drawParts(set *sim.Setup, v *sim.View) {
	for i := range g.scene.Seats {
		g.drawStem(&g.scene.Seats[i], v.SeatLift[i])
	}
	g.drawDrum(set, v)
	for i := range g.scene.Seats {
		// A lobe pushes its roller up, be the disc stuck; a disc that hangs holds it up.
		g.drawRoller(&g.scene.Seats[i], math.Max(v.SeatLift[i], viewmodel.Lobe(set, sim.Seat(i), v.DrumDeg)))
	}
	for i := range g.scene.Gauges {
		g.drawNeedle(&g.scene.Gauges[i], v)
	}
	g.drawValves(v)
	g.drawMeter()
	g.drawTankParts(&v.Tank)
	g.drawChart(v)
	g.drawFace(v)
	g.drawLegend()
	g.drawSelection()
}

// drawStem draws disc and stem of a seat; the stem passes behind the drum.
func (g *Stage) drawStem(s *viewmodel.Seat, lift float64) {
	b := &g.batch
	up := lift * s.Lift
	ink, shell := tint(g.ink(), 1), tint(g.role(viewmodel.Shell), 1)
	t := g.scene.Thin
	y := s.PlateY - up
	b.box(viewmodel.Rect{X: s.X - s.StemW/2, Y: s.RollerY - up, W: s.StemW, H: y - s.RollerY + up - s.DiscH}, t, ink, shell)
	if g.scene.DiscsOut {
		return
	}
	b.box(viewmodel.Rect{X: s.X - s.DiscW/2, Y: y - s.DiscH, W: s.DiscW, H: s.DiscH * 0.62}, t, ink, shell)
	b.rect(s.X-s.DiscW/2+1.5*t, y-s.DiscH*0.4, s.DiscW-3*t, s.DiscH*0.4, ink) // facing
	b.box(viewmodel.Rect{X: s.X - s.StemW, Y: y - s.DiscH*1.7, W: 2 * s.StemW, H: s.DiscH * 0.8}, t, ink, shell)
}

// drawRoller draws the roller on the drum and the spring that loads it.
func (g *Stage) drawRoller(s *viewmodel.Seat, lift float64) {
	b := &g.batch
	y := s.RollerY - lift*s.Lift
	ink := tint(g.ink(), 1)
	const turns = 7
	w := s.RollerR * 1.15
	top, bottom := s.BarY, y-s.RollerR*0.6
	p := pt{X: s.X, Y: top}
	for k := 1; k <= turns; k++ {
		q := pt{X: s.X + w*float64(1-2*(k%2)), Y: top + (bottom-top)*float64(k)/turns}
		if k == turns {
			q.X = s.X
		}
		b.line(p, q, g.scene.Thin*1.2, ink)
		p = q
	}
	b.ring(s.X, y, s.RollerR, g.scene.Thin*1.3, ink, tint(g.role(viewmodel.Paper), 1))
	b.disc(s.X, y, s.RollerR*0.3, ink)
}

// drawDrum draws the drum in side view: the surface turns upwards to the
// rollers, so what is seen below the top edge comes next.
func (g *Stage) drawDrum(set *sim.Setup, v *sim.View) {
	b, d := &g.batch, &g.scene.Drum
	ink := tint(g.ink(), 1)
	r := d.Box.H / 2
	cy := d.Box.Y + r
	lit, dim := tint(g.role(viewmodel.Shell), 1), tint(g.role(viewmodel.Shade), 1)
	b.quad(pt{X: d.Box.X, Y: cy - r}, pt{X: d.Box.X + d.Box.W, Y: cy - r}, pt{X: d.Box.X + d.Box.W, Y: cy - r*0.3}, pt{X: d.Box.X, Y: cy - r*0.3}, dim, lit)
	b.quad(pt{X: d.Box.X, Y: cy - r*0.3}, pt{X: d.Box.X + d.Box.W, Y: cy - r*0.3}, pt{X: d.Box.X + d.Box.W, Y: cy + r}, pt{X: d.Box.X, Y: cy + r}, lit, dim)
	for i := range g.scene.Seats {
		g.drawTrack(set, v, i, cy, r)
	}
	t := g.scene.Heavy
	b.rect(d.Box.X, cy-r-t/2, d.Box.W, t, ink)
	b.rect(d.Box.X, cy+r-t/2, d.Box.W, t, ink)
	b.rect(d.Box.X-t/2, cy-r, t, 2*r, ink)
	b.rect(d.Box.X+d.Box.W-t/2, cy-r, t, 2*r, ink)
	for i := range g.scene.Seats { // the lobe under the roller stands above the edge
		s := &g.scene.Seats[i]
		if h := viewmodel.Lobe(set, s.Seat, v.DrumDeg) * d.Lobe; h > 0.5 {
			b.box(viewmodel.Rect{X: s.X - s.BandW/2, Y: cy - r - h, W: s.BandW, H: h + t}, g.scene.Thin, ink, tint(g.lobe(), 1))
		}
	}
	g.drawGears(v)
}

// drawTrack draws one lobe track on the visible half of the drum.
func (g *Stage) drawTrack(set *sim.Setup, v *sim.View, seat int, cy, r float64) {
	b, s, lobe := &g.batch, &g.scene.Seats[seat], &set.Lobe[seat]
	x0, x1 := s.X-s.BandW/2, s.X+s.BandW/2
	n := len(lobe)
	step := 360 / float64(n)
	face := g.lobe()
	soft := tint(g.role(viewmodel.InkSoft), 0.6)
	b.rect(x0, cy-r, g.scene.Thin*0.8, 2*r, soft)
	b.rect(x1-g.scene.Thin*0.8, cy-r, g.scene.Thin*0.8, 2*r, soft)
	for a := 0.0; a < 180; a += step {
		i := int((v.DrumDeg+a)/step) % n
		if i < 0 {
			i += n
		}
		if lobe[i] < 0.02 {
			continue
		}
		y0 := cy - r*math.Cos(a*math.Pi/180)
		y1 := cy - r*math.Cos((a+step)*math.Pi/180)
		b.rect(x0, y0, x1-x0, y1-y0, tint(face, 0.35+0.65*lobe[i]))
	}
}

// lobe is the colour of a lobe's land.
func (g *Stage) lobe() color.RGBA {
	return viewmodel.Mix(g.role(viewmodel.Shade), g.ink(), 0.45)
}

// drawGears draws the wheel on the shaft and the motor's pinion, both from the
// side: their teeth move as the shaft turns, the pinion's the faster. Marks on
// drum and wheel face each other unless the drum has slipped on its shaft.
func (g *Stage) drawGears(v *sim.View) {
	d := &g.scene.Drum
	shaft := v.DrumDeg + v.Condition.DrumSlipDeg
	g.wheel(d.Gear, 30, shaft)
	g.wheel(d.Pinion, 8, -shaft*30/8)
	g.mark(v.DrumDeg, d.Box.X+d.Box.W-5*g.scene.Unit, d.Box.Y, d.Box.H, 1)
	g.mark(shaft, d.Gear.X+d.Gear.W/2, d.Gear.Y, d.Gear.H, -1)
}

// mark draws the mark of a body that has turned by deg, where its near half of
// height h shows it. In service it is in the middle.
func (g *Stage) mark(deg, x, top, h, right float64) {
	a := math.Mod(90-deg+720, 360)
	if a >= 180 {
		return
	}
	sin, cos := math.Sincos(a * math.Pi / 180)
	if sin < 0.15 { // as good as edge on
		return
	}
	y := top + h/2*(1-cos)
	u := g.scene.Unit
	g.batch.dart(pt{X: x, Y: y}, pt{X: right}, 13*u, (2+9*sin)*u, tint(g.role(viewmodel.Paper), 1))
	g.batch.dart(pt{X: x, Y: y}, pt{X: right}, 9*u, (1+5*sin)*u, tint(g.ink(), 1))
}

// drawMeter draws the needle of the meter.
func (g *Stage) drawMeter() {
	m := &g.scene.Meter
	if m.R == 0 {
		return
	}
	s, c := math.Sincos(g.motion.meter)
	ink := tint(g.ink(), 1)
	g.batch.line(pt{X: m.C.X - c*m.R*0.3, Y: m.C.Y - s*m.R*0.3}, pt{X: m.C.X + c*m.R*0.7, Y: m.C.Y + s*m.R*0.7}, math.Max(1.3, m.R*0.14), ink)
	g.batch.disc(m.C.X, m.C.Y, m.R*0.2, ink)
}

func (g *Stage) wheel(r viewmodel.Rect, teeth int, deg float64) {
	b := &g.batch
	ink := tint(g.ink(), 1)
	b.box(r, g.scene.Thin*1.4, ink, tint(g.role(viewmodel.Shell), 1))
	step := 360 / float64(teeth)
	first := math.Mod(deg, step)
	for a := step - first; a < 180; a += step {
		y := r.Y + r.H/2*(1-math.Cos(a*math.Pi/180))
		w := g.scene.Thin * (0.5 + 1.2*math.Sin(a*math.Pi/180))
		b.rect(r.X+1, y-w/2, r.W-2, w, ink)
	}
}

func (g *Stage) drawNeedle(q *viewmodel.Gauge, v *sim.View) {
	b := &g.batch
	k := math.Max(-0.02, math.Min(1.04, v.PressurePa[q.Node]/q.MaxPa))
	s, c := math.Sincos(math.Pi * (0.75 + 1.5*k))
	ink := tint(g.ink(), 1)
	b.line(pt{X: q.C.X - c*q.R*0.18, Y: q.C.Y - s*q.R*0.18}, pt{X: q.C.X + c*q.R*0.78, Y: q.C.Y + s*q.R*0.78}, math.Max(1.4, q.R*0.085), ink)
	b.disc(q.C.X, q.C.Y, q.R*0.13, ink)
}

// drawValves draws shut-off, bypass plugs and the handles of the taps.
func (g *Stage) drawValves(v *sim.View) {
	b, s := &g.batch, g.scene
	q := &s.ShutOff
	turn := g.poise.ShutOff * math.Pi / 2
	g.bore(q, q.Mains+turn, q.Valve+turn)
	dy, dx := math.Sincos(q.Valve + turn)
	ink := tint(g.ink(), 1)
	b.line(q.C, pt{X: q.C.X + dx*q.R*1.9, Y: q.C.Y + dy*q.R*1.9}, s.Heavy*1.7, ink)
	b.disc(q.C.X, q.C.Y, q.R*0.24, ink)
	for i := range s.Plugs {
		from, to := g.poise.Bore(&s.Plugs[i])
		g.bore(&s.Plugs[i], from, to)
	}
	for i := range s.Taps {
		t := &s.Taps[i]
		open := v.HouseTap
		if t.Raw {
			open = v.RawTap
		}
		y, x := math.Sincos(open * math.Pi / 2)
		b.line(pt{X: t.C.X - x*t.Len, Y: t.C.Y - y*t.Len*0.4}, pt{X: t.C.X + x*t.Len, Y: t.C.Y + y*t.Len*0.4}, s.Heavy*1.5, ink)
		b.disc(t.C.X, t.C.Y, s.Heavy*1.3, ink)
	}
}

// bore draws the bore of a ball or plug between two of its sides.
func (g *Stage) bore(q *viewmodel.Ball, from, to float64) {
	r := q.R * 0.95
	a := pt{X: q.C.X + math.Cos(from)*r, Y: q.C.Y + math.Sin(from)*r}
	z := pt{X: q.C.X + math.Cos(to)*r, Y: q.C.Y + math.Sin(to)*r}
	for k := range 2 {
		w, c := q.Bore+2*g.scene.Thin, tint(g.ink(), 1)
		if k == 1 {
			w, c = q.Bore, tint(g.frame.Colour[q.Src], 1)
		}
		g.batch.line(a, q.C, w, c)
		g.batch.line(q.C, z, w, c)
		g.batch.disc(q.C.X, q.C.Y, w/2, c)
	}
}

// drawTankParts draws float and air check ball.
func (g *Stage) drawTankParts(t *sim.TankView) {
	b, k := &g.batch, &g.scene.Tank
	ink, shell, paper := tint(g.ink(), 1), tint(g.role(viewmodel.Shell), 1), tint(g.role(viewmodel.Paper), 1)
	if !g.scene.CheckOut {
		b.ring(k.Check.X, k.Check.Y-k.CheckR*0.6-t.AirCheckLift*k.CheckL, k.CheckR, g.scene.Thin*1.3, ink, paper)
	}
	if g.scene.FloatOut {
		return
	}
	y := k.Floor - t.FloatM*k.PxPerM
	u := g.scene.Unit
	b.line(pt{X: k.FloatX, Y: k.Well.Y + 6*u}, pt{X: k.FloatX, Y: y}, g.scene.Heavy, ink)
	b.box(viewmodel.Rect{X: k.FloatX - k.FloatW/2, Y: y - 8*u, W: k.FloatW, H: 16 * u}, g.scene.Thin*1.2, ink, shell)
	b.rect(k.FloatX-k.FloatW/2, y-g.scene.Thin/2, k.FloatW, g.scene.Thin, ink)
	cap := shell
	if t.FloatShut {
		cap = ink
	}
	b.box(viewmodel.Rect{X: k.FloatX - 4*u, Y: k.Well.Y + 2*u, W: 8 * u, H: 6 * u}, g.scene.Thin, ink, cap)
}

func (g *Stage) drawChart(v *sim.View) {
	c := &g.scene.Chart
	if c.Box.W == 0 {
		return
	}
	x := c.Cursor(v.DrumDeg)
	ink := tint(g.ink(), 1)
	foot := c.Box.Y + c.Box.H
	g.batch.rect(x-g.scene.Heavy/2, c.Box.Y-3, g.scene.Heavy, c.Box.H+6, ink)
	g.batch.dart(pt{X: x, Y: foot + 6}, pt{Y: -1}, 11, 9, ink)
}

// drawFace draws the controller's face: dark without power, else the lamp of an
// alarm and the bar.
func (g *Stage) drawFace(v *sim.View) {
	if !v.Face.Powered {
		r := g.scene.Face
		g.batch.rect(r.X, r.Y, r.W, r.H, tint(g.role(viewmodel.Unlit), 1))
		return
	}
	if v.Controller.Alarm && g.lit() {
		r := 6 * math.Max(1, g.scene.Unit)
		g.batch.ring(g.scene.Lamp.X, g.scene.Lamp.Y, r, g.scene.Thin, tint(g.ink(), 1), tint(g.role(viewmodel.Wrong), 1))
	}
	g.drawProgress(&v.Controller)
}

// lit tells whether what blinks is to be seen now; it stands while motion is not
// wanted or time does.
func (g *Stage) lit() bool { return g.look.Reduced || g.look.Pace == 0 || g.motion.on() }

// drawProgress draws how much of the station's time has gone, in service how much
// of a demand controller's capacity is left.
func (g *Stage) drawProgress(c *sim.ControllerView) {
	part, total := c.ElapsedS, c.ElapsedS+c.RemainingS
	if c.RemainingS <= 0 {
		part, total = c.RemainingM3, c.CapacityM3
		if !c.Demand || c.Regenerating || c.Alarm {
			return
		}
	}
	r := g.scene.Progress
	if r.W == 0 || total <= 0 {
		return
	}
	g.batch.rect(r.X, r.Y, r.W, r.H, tint(g.role(viewmodel.Faint), 1))
	g.batch.rect(r.X, r.Y, r.W*math.Min(1, part/total), r.H, tint(g.ink(), 1))
}

// drawLegend draws the samples of brine and air.
func (g *Stage) drawLegend() {
	b, l := &g.batch, &g.scene.Legend
	if l.Brine.W == 0 {
		return
	}
	dot := g.dot()
	for i := range 26 {
		x, y := scatter(i, 21), (float64(i)+0.5)/26
		b.disc(l.Brine.X+2+x*(l.Brine.W-4), l.Brine.Y+2+y*(l.Brine.H-4), dot, tint(g.pal.Light, 1))
	}
	for i := range 5 {
		x := l.Air.X + l.Air.W*(float64(i)+0.5)/5
		y := l.Air.Y + l.Air.H*(0.3+0.4*float64(i%2))
		b.ring(x, y, dot*1.9, g.scene.Thin*0.7, tint(g.pal.Dark, 1), tint(g.pal.Air, 1))
	}
}

// drawSelection frames the selected part with corner brackets, and lightly the
// one under the pointer.
func (g *Stage) drawSelection() {
	if r, ok := g.scene.PartBox(g.src.Selected()); ok {
		g.brackets(r.Inset(-3), g.scene.Heavy*1.4, 1)
	}
	if r, ok := g.scene.PartBox(g.hover); ok && g.hover != g.src.Selected() {
		g.brackets(r.Inset(-2), g.scene.Thin*1.2, 0.7)
	}
}

func (g *Stage) brackets(r viewmodel.Rect, w, alpha float64) {
	arms := g.scene.Brackets(r, w)
	for _, pen := range []struct {
		role viewmodel.Role
		out  float64
	}{{viewmodel.Ground, 1}, {viewmodel.Ink, 0}} { // an edge, so that they stand out on water too
		c := tint(g.role(pen.role), alpha)
		for _, arm := range arms {
			if arm.W > 0 {
				g.batch.rect(arm.X-pen.out, arm.Y-pen.out, arm.W+2*pen.out, arm.H+2*pen.out, c)
			}
		}
	}
}
