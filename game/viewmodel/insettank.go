package viewmodel

import "math"

// insetFloat shows the float on its rod beside the mark of its proper height, and
// the refill valve that it shuts.
func (b *builder) insetFloat(r Rect) {
	c := &b.opt.Inside.Condition
	x, top, h := r.X+r.W*0.36, r.Y+2, r.H-4
	valve := Rect{x - 17, top, 34, math.Min(22, h*0.2)}
	mark := top + h*0.42
	y := mark + h*clamp(c.FloatLowM/0.35, 0, 1)*0.44
	if c.FloatStuck > 0.5 {
		y = valve.Y + valve.H + 15
	}
	foot := top + h
	rod := valve.Y + valve.H
	if c.FloatLoose > 0.5 { // the rod has come off the valve
		rod += 9
		b.crack(Pt{x - 7, valve.Y + valve.H + 3}, Pt{x + 7, valve.Y + valve.H + 7})
	}
	b.ink(b.s.Heavy*1.6, Ink, []Pt{{x, rod}, {x, foot}})
	b.block(valve.corners())
	plug := valve.Y + valve.H*0.5
	b.hollow(Rect{valve.X, plug - 4, valve.W, 8}.corners())
	if c.FloatStuck > 0.5 {
		b.fill(Wrong, Rect{x - 6, plug - 4, 12, 8}.corners())
		for i := range 4 {
			b.lump(Grit, Pt{x + [4]float64{-12, -5, 5, 12}[i], y - 15}, 5, 110+i)
		}
	}
	b.top(Shell, roundRect(Rect{x - 20, y - 13, 40, 26}, 5), b.s.Heavy)
	role := Ink
	if c.FloatLowM > 0.005 {
		role = Wrong
		b.arrow(Wrong, Pt{x + 30, mark}, Pt{x + 30, y})
	}
	b.ink(b.s.Heavy, role, []Pt{{x + 20, y}, {x + 34, y}})
	for i := range 11 {
		ty, l := top+h*float64(i)/10, 6.0
		if i%5 == 0 {
			l = 11
		}
		b.ink(b.s.Thin, InkSoft, []Pt{{x + 40, ty}, {x + 40 + l, ty}})
	}
	b.ink(b.s.Heavy, Ink, []Pt{{x + 34, mark}, {x + 56, mark}})
	w := b.opt.Measure("mark", b.opt.small(b.s), false)
	b.note("mark", x+60+w/2, mark)
	switch {
	case c.FloatLoose > 0.5:
		b.beside(r, x+60, "rod off its valve", "rod off")
	case c.FloatStuck > 0.5:
		b.beside(r, x+60, "stuck, valve shut", "stuck")
	}
}

// beside writes the longest of texts that fits right of x, at the top of r.
func (b *builder) beside(r Rect, x float64, texts ...string) {
	size := b.opt.small(b.s)
	for _, t := range texts {
		if w := b.opt.Measure(t, size, false); x+w <= r.X+r.W {
			b.noteAs(Wrong, t, x+w/2, r.Y+0.8*size)
			return
		}
	}
}

// insetAirCheck shows the cage in the foot of the brine well, with its ball.
func (b *builder) insetAirCheck(r Rect) {
	c := &b.opt.Inside.Condition
	x := r.X + r.W*0.4
	u := math.Min(r.H/10, r.W/14)
	mark := r.Y + 6.4*u // where the ball should seat
	seat := mark - clamp(c.AirCheckHigh, 0, 1)*2.6*u
	for _, k := range []float64{-1, 1} { // the well's wall, slotted at its foot
		in, out := x+k*3.5*u, x+k*4*u
		b.block([]Pt{{in, r.Y}, {out, r.Y}, {out, r.Y + 8.4*u}, {in, r.Y + 8.4*u}})
		b.block([]Pt{{in, r.Y + 8.9*u}, {out, r.Y + 8.9*u}, {out, r.Y + r.H - 2}, {in, r.Y + r.H - 2}})
	}
	b.ink(b.s.Heavy, Ink, []Pt{{x - 4.8*u, r.Y + r.H - 2}, {x + 4.8*u, r.Y + r.H - 2}})
	b.ink(1.2*u+2*b.s.Thin, Ink, []Pt{{x, r.Y}, {x, seat - 3.4*u}}) // brine tube
	b.ink(1.2*u, Paper, []Pt{{x, r.Y}, {x, seat - 3.4*u}})
	for _, k := range []float64{-1, 1} {
		b.block([]Pt{
			{x + k*0.8*u, seat - 3.4*u},
			{x + k*1.9*u, seat - 2.8*u},
			{x + k*1.9*u, seat},
			{x + k*0.8*u, seat + 0.7*u},
			{x + k*0.8*u, seat + 2*u},
			{x + k*1.3*u, seat + 2*u},
			{x + k*1.3*u, seat + u},
			{x + k*2.4*u, seat + 0.3*u},
			{x + k*2.4*u, seat - 3.1*u},
			{x + k*0.8*u, seat - 4*u},
		})
	}
	ball, rad := Pt{x, seat - 1.9*u}, 1.25*u
	if c.AirCheckShut > 0.01 || c.AirCheckOpen > 0.5 {
		ball.Y = seat - 0.75*u
	}
	if c.AirCheckOpen > 0.5 { // in two halves
		b.top(Paper, arc(ball.Add(-0.28*u, 0), rad, math.Pi*0.55, math.Pi*1.45), b.s.Thin*1.4)
		b.top(Paper, arc(ball.Add(0.28*u, 0), rad, -math.Pi*0.45, math.Pi*0.45), b.s.Thin*1.4)
		b.crack(ball.Add(-0.1*u, -rad*1.1), ball.Add(0.1*u, rad*1.1))
	} else {
		b.top(Shell, circle(ball, rad), b.s.Heavy)
		b.fill(Paper, circle(ball.Add(-0.3*rad, -0.32*rad), 0.34*rad))
	}
	if c.AirCheckShut > 0.01 {
		for i := range 6 {
			a := math.Pi * (0.06 + 0.88*float64(i)/5)
			si, co := math.Sincos(a)
			b.lump(Grit, ball.Add(1.05*rad*co, 1.0*rad*si), 0.42*u, 120+i)
		}
	}
	role := InkSoft
	if c.AirCheckHigh > 0.005 {
		role = Wrong
		b.arrow(Wrong, Pt{x + 4.8*u, mark}, Pt{x + 4.8*u, seat})
		b.ink(b.s.Thin*1.3, Wrong, []Pt{{x + 2.4*u, seat}, {x + 5.2*u, seat}})
	}
	b.ink(b.s.Thin*1.4, role, []Pt{{x + 4.2*u, mark}, {x + 5.4*u, mark}})
	w := b.opt.Measure("mark", b.opt.small(b.s), false)
	b.note("mark", x+5.4*u+3+w/2, mark)
}

// insetBrineTank shows the tank's lid, walls and floor.
func (b *builder) insetBrineTank(r Rect) {
	c := &b.opt.Inside.Condition
	w := math.Min(r.W*0.62, r.H*0.9)
	x0, top, foot, t := r.X+(r.W-w)/2, r.Y+r.H*0.16, r.Y+r.H*0.94, 4.0
	x1 := x0 + w
	b.block([]Pt{{x0, top}, {x0, foot}, {x1, foot}, {x1, top}, {x1 - t, top}, {x1 - t, foot - t}, {x0 + t, foot - t}, {x0 + t, top}})
	for i := range 24 { // salt
		col, row := i%6, i/6
		k := w / 6.6
		p := Pt{x0 + t + k*(0.6+float64(col)) + k*0.2*Scatter(i, 5), foot - t - k*0.5 - k*0.62*float64(row)}
		if p.Y > top+r.H*0.2 {
			b.lump(SaltFace, p, k*0.42, 140+i)
		}
	}
	lid := Rect{x0 - 5, top - 8, w + 10, 8}
	b.top(Shell, roundRect(lid, 3), b.s.Heavy)
	if c.TankSeepM3S > 0 {
		b.crack(Pt{x0 + w*0.2, lid.Y - 2}, Pt{x0 + w*0.32, lid.Y + lid.H + 2})
		b.wrong(Pt{x0 + t + 3, top + 4}, Pt{x0 + t + 4, top + (foot-top)*0.3}, Pt{x0 + t + 2, top + (foot-top)*0.55})
		for i := range 3 {
			b.fill(Wrong, circle(Pt{x0 + t + 5 + 3*float64(i%2), top + (foot-top)*(0.1+0.16*float64(i))}, 2.2))
		}
	}
	if c.TankCrackM > 0 {
		b.crack(Pt{x1 - t - 3, foot - t - r.H*0.05}, Pt{x1 + 5, foot - 1})
		b.top(SaltFace, []Pt{{x1 + 1, foot}, {x1 + 5, foot - 6}, {x1 + r.W*0.06, foot - 4}, {x1 + r.W*0.1, foot}}, b.s.Thin)
		b.wrong(Pt{x1 + 2, foot + 3}, Pt{x1 + r.W*0.15, foot + 3})
	}
	b.ink(b.s.Thin, InkSoft, []Pt{{r.X, foot + 3}, {x1, foot + 3}})
}
