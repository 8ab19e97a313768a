package viewmodel

import (
	"fmt"
	"math"

	"brinebench/sim"
)

// gearWheel is a toothed wheel; stripped, its teeth are gone.
func (b *builder) gearWheel(c Pt, rad float64, teeth int, stripped bool) {
	root := rad * 0.86
	if stripped {
		b.top(Shell, circle(c, root), b.s.Thin*1.4)
		for i := range teeth {
			a := 2 * math.Pi * (float64(i) + 0.08) / float64(teeth)
			b.ink(b.s.Thin*1.3, Wrong, arc(c, rad, a, a+math.Pi/float64(teeth)))
		}
	} else {
		var pts []Pt
		for i := range teeth {
			for j, k := range []float64{root, rad, rad, root} {
				si, co := math.Sincos(2 * math.Pi * (float64(i) + [4]float64{0.08, 0.22, 0.5, 0.64}[j]) / float64(teeth))
				pts = append(pts, c.Add(k*co, k*si))
			}
		}
		b.top(Shell, pts, b.s.Thin*1.4)
	}
	b.top(Paper, circle(c, rad*0.2), b.s.Thin)
}

// insetDrum shows the drum end on, the mark on it against that of its shaft, and
// the position switch beside it.
func (b *builder) insetDrum(r Rect) {
	c := &b.opt.Inside.Condition
	slip := c.DrumSlipDeg
	if math.Abs(slip) > 0.5 {
		text := fmt.Sprintf("%.0f°", slip)
		r = b.caption(r, Wrong, "the drum stands "+text+" behind its shaft", text+" behind its shaft", text)
	} else {
		r = b.caption(r, InkSoft, "the marks face each other", "marks in line")
	}
	rad := math.Min(r.H*0.46, r.W*0.26)
	m := Pt{r.X + r.W*0.34, r.Y + r.H*0.5}
	b.top(Shell, circle(m, rad), b.s.Heavy)
	for i := range 3 { // lobes of the nearest track
		a := 2 * math.Pi * (float64(i)/3 + 0.1)
		b.ink(b.s.Heavy*2, InkSoft, arc(m, rad*0.93, a, a+0.5))
	}
	b.top(Paper, circle(m, rad*0.46), b.s.Thin*1.4)
	at := func(k, deg float64) Pt {
		si, co := math.Sincos(deg * math.Pi / 180)
		return m.Add(rad*k*co, rad*k*si)
	}
	const up = -90.0
	b.ink(b.s.Heavy*1.8, Ink, []Pt{at(0.12, up), at(0.44, up)})
	role := Ink
	if math.Abs(slip) > 0.5 {
		role = Wrong
		b.ink(b.s.Thin*1.4, Wrong, arc(m, rad*0.64, (up-slip)*math.Pi/180, up*math.Pi/180))
	}
	b.ink(b.s.Heavy*1.8, role, []Pt{at(0.5, up-slip), at(0.84, up-slip)})
	b.positionSwitch(m.Add(rad*1.02, 0), Rect{r.X + r.W*0.7, r.Y + r.H*0.26, r.W * 0.2, r.H * 0.3}, c.SensorLost > 0.5)
}

// positionSwitch draws the switch that feels the drum at p; lost, it hangs by its wire.
func (b *builder) positionSwitch(p Pt, box Rect, lost bool) {
	wire := Pt{box.X + box.W, box.Y - box.H*0.6}
	if !lost {
		b.top(Cut, box.corners(), b.s.Heavy)
		b.ink(b.s.Heavy, Ink, []Pt{{box.X, box.Y + box.H*0.7}, p.Add(4, 0)})
		b.top(Paper, circle(p.Add(5, 0), 4), b.s.Thin)
		b.ink(b.s.Thin*1.4, Ink, []Pt{{box.X + box.W*0.7, box.Y}, {box.X + box.W*0.8, wire.Y}, wire})
		return
	}
	c := box.Centre().Add(0, box.H*0.9)
	var hung []Pt
	for _, q := range (Rect{-box.W / 2, -box.H / 2, box.W, box.H}).corners() {
		si, co := math.Sincos(0.9)
		hung = append(hung, c.Add(q.X*co-q.Y*si, q.X*si+q.Y*co))
	}
	b.over(Op{Kind: OpFill, Role: Cut, Pts: hung})
	b.over(Op{Kind: OpStroke, Role: Wrong, Width: b.s.Heavy * 1.2, Closed: true, Pts: hung})
	b.ink(b.s.Thin*1.4, Ink, fillet([]Pt{hung[1], {wire.X, box.Y + box.H*0.4}, wire}, 12))
	b.dashes(Wrong, Pt{box.X, box.Y}, Pt{box.X + box.W, box.Y})
	b.dashes(Wrong, Pt{box.X, box.Y}, Pt{box.X, box.Y + box.H})
}

// insetMotor shows the motor's winding between its terminals, and the gear that it drives.
func (b *builder) insetMotor(r Rect) {
	c := &b.opt.Inside.Condition
	left := Rect{r.X, r.Y, r.W * 0.46, r.H}
	y := left.Y + left.H*0.45
	x0, x1 := left.X+left.W*0.1, left.X+left.W*0.9
	b.top(Paper, roundRect(Rect{left.X, y - left.H*0.34, left.W, left.H * 0.56}, 6), b.s.Heavy)
	const loops = 5
	k := (x1 - x0) * 0.8 / loops
	start := x0 + (x1-x0)*0.1
	b.ink(b.s.Heavy, Ink, []Pt{{x0, y}, {start, y}})
	for i := range loops {
		if c.MotorDead > 0.5 && i == 2 {
			b.wrong(Pt{start + k*2, y}, Pt{start + k*2.3, y - k*0.4})
			b.wrong(Pt{start + k*3, y}, Pt{start + k*2.8, y + k*0.35})
			continue
		}
		b.ink(b.s.Heavy, Ink, arc(Pt{start + k*(float64(i)+0.5), y}, k/2, math.Pi, 2*math.Pi))
	}
	b.ink(b.s.Heavy, Ink, []Pt{{start + k*loops, y}, {x1, y}})
	for _, x := range []float64{x0, x1} {
		b.top(Paper, circle(Pt{x, y}, 4), b.s.Thin*1.4)
	}
	size := b.opt.small(b.s)
	text, brief, role := "winding sound", "sound", InkSoft
	if c.MotorDead > 0.5 {
		text, brief, role = "winding open", "open", Wrong
	}
	if b.opt.Measure(text, size, false) > left.W {
		text = brief
	}
	b.noteAs(role, text, left.X+left.W/2, y+left.H*0.24+size)

	right := Rect{r.X + r.W*0.54, r.Y, r.W * 0.46, r.H}
	big := math.Min(right.W*0.32, right.H*0.34)
	g := Pt{right.X + right.W - big - 2, right.Y + right.H*0.5}
	small := big * 0.42
	b.gearWheel(g, big, 18, c.GearStripped > 0.5)
	b.gearWheel(g.Add(-big-small*0.88, 0), small, 8, false)
}

// insetMeter shows the turbine in its bore and the plug of its cable.
func (b *builder) insetMeter(r Rect) {
	c := &b.opt.Inside.Condition
	m := Pt{r.X + r.W*0.33, r.Y + r.H*0.52}
	rad := math.Min(r.H*0.44, r.W*0.3)
	b.top(Cut, circle(m, rad), b.s.Heavy)
	b.top(Paper, circle(m, rad*0.86), b.s.Thin)
	for i := range 6 {
		si, co := math.Sincos(math.Pi/6 + math.Pi/3*float64(i))
		b.fill(Shell, []Pt{m.Add(rad*0.12*co, rad*0.12*si), m.Add(rad*(0.78*co-0.16*si), rad*(0.78*si+0.16*co)), m.Add(rad*0.8*co, rad*0.8*si)})
		b.ink(b.s.Thin*1.4, Ink, []Pt{m, m.Add(rad*0.8*co, rad*0.8*si), m.Add(rad*(0.78*co-0.16*si), rad*(0.78*si+0.16*co)), m})
	}
	b.top(Shell, circle(m, rad*0.16), b.s.Thin)
	for i := range int(math.Ceil(9 * (1 - clamp(c.MeterTurns, 0, 1)))) {
		si, co := math.Sincos(2.4 * float64(i))
		b.lump(Grit, m.Add(rad*0.66*co, rad*0.66*si), rad*0.17, 190+i)
	}
	b.cablePlug(Rect{r.X + r.W*0.7, r.Y + r.H*0.16, r.W * 0.28, r.H * 0.72}, c.MeterWired < 0.5)
}

// cablePlug draws a socket and the plug of a cable, in it or hanging out of it.
func (b *builder) cablePlug(r Rect, out bool) {
	w, h := r.W*0.5, r.H*0.22
	x := r.X + r.W*0.25
	b.block([]Pt{{x, r.Y}, {x + w, r.Y}, {x + w, r.Y + h}, {x + w*0.75, r.Y + h}, {x + w*0.75, r.Y + h*0.4}, {x + w*0.25, r.Y + h*0.4}, {x + w*0.25, r.Y + h}, {x, r.Y + h}})
	y, role, dx := r.Y+h*0.55, Ink, 0.0
	if out {
		y, role, dx = r.Y+r.H*0.48, Wrong, r.W*0.12
		b.dashes(Wrong, Pt{x + w/2, r.Y + h}, Pt{x + w/2 + dx, y})
	}
	plug := Rect{x + w*0.28 + dx, y, w * 0.44, h}
	b.over(Op{Kind: OpFill, Role: Shell, Pts: plug.corners()})
	b.over(Op{Kind: OpStroke, Role: role, Width: b.s.Heavy, Closed: true, Pts: plug.corners()})
	end := Pt{plug.X + plug.W/2, plug.Y + h}
	b.ink(b.s.Heavy*1.6, Ink, fillet([]Pt{end, {end.X, r.Y + r.H*0.86}, {r.X, r.Y + r.H}}, 14))
}

// insetRegulator shows the pressure that the house's regulator holds, against the
// one on its plate.
func (b *builder) insetRegulator(r Rect) {
	c := &b.opt.Inside.Condition
	set := b.opt.Units
	now, plate := PressureText(b.set.SupplyPa*c.SupplyScale, set), PressureText(b.set.SupplyPa, set)
	looked := isOpen(b.opt.Inside, sim.PartSupply)
	switch {
	case !looked:
		r = b.caption(r, InkSoft, "its plate: "+plate, "plate "+plate)
	case off(c.SupplyScale):
		r = b.caption(r, Wrong, "at rest "+now+"; its plate: "+plate, now+"; plate "+plate)
	default:
		r = b.caption(r, InkSoft, "holds "+plate+" at rest, as its plate says", "holds "+plate)
	}
	m, rad := Pt{r.X + r.W*0.3, r.Y + r.H*0.5}, math.Min(r.H*0.47, r.W*0.27)
	b.top(Paper, circle(m, rad), b.s.Heavy)
	const most = 1.1e6 // Pa, end of the scale
	at := func(k, pa float64) Pt {
		si, co := math.Sincos(math.Pi * (0.75 + 1.5*clamp(pa/most, 0, 1)))
		return m.Add(rad*k*co, rad*k*si)
	}
	for i := range 12 {
		b.ink(b.s.Thin, InkSoft, []Pt{at(0.78, most*float64(i)/11), at(0.92, most*float64(i)/11)})
	}
	p := at(0.98, b.set.SupplyPa)
	b.ink(b.s.Heavy*2, Ink, []Pt{at(0.8, b.set.SupplyPa), p})
	role := Ink
	if off(c.SupplyScale) {
		role = Wrong
	}
	if looked { // what it holds is not known before
		b.ink(b.s.Heavy*1.6, role, []Pt{m, at(0.74, b.set.SupplyPa*c.SupplyScale)})
	}
	b.fill(role, circle(m, rad*0.1))
	b.spring(Rect{r.X + r.W*0.66, r.Y, r.W * 0.26, r.H}, c.SupplyScale)
}

// spring draws the regulator's spring under its screw: slack where it is closed
// down, pressed where it does not hold back.
func (b *builder) spring(r Rect, scale float64) {
	screw := r.Y + r.H*clamp(0.02+0.2*(scale-0.2)/2, 0, 0.24)
	foot := r.Y + r.H*0.7
	b.block([]Pt{{r.X, r.Y + r.H*0.28}, {r.X + 5, r.Y + r.H*0.28}, {r.X + 5, foot + 6}, {r.X + r.W - 5, foot + 6}, {r.X + r.W - 5, r.Y + r.H*0.28}, {r.X + r.W, r.Y + r.H*0.28}, {r.X + r.W, r.Y + r.H}, {r.X, r.Y + r.H}})
	mid := r.X + r.W/2
	role := Ink
	if off(scale) {
		role = Wrong
	}
	b.ink(b.s.Heavy*3, Ink, []Pt{{mid, screw}, {mid, screw + r.H*0.12}})
	cap := screw + r.H*0.12
	const turns = 8
	pts := []Pt{{mid, cap}}
	for i := range turns {
		pts = append(pts, Pt{mid + r.W*0.26*float64(1-2*(i%2)), cap + (foot-cap)*(float64(i)+0.5)/turns})
	}
	b.ink(b.s.Heavy, role, append(pts, Pt{mid, foot}))
	b.ink(b.s.Heavy*1.6, Ink, []Pt{{r.X + 5, foot + 3}, {r.X + r.W - 5, foot + 3}})
}
