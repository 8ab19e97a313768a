package viewmodel

import (
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

// insetSeats shows the eight seats in section, the drum taken off them: a disc
// that is sound lies on its seat.
func (b *builder) insetSeats(r Rect) {
	size := b.opt.small(b.s)
	cw, ch := r.W/4, r.H/2
	for i, s := range sim.SeatRow {
		cell := Rect{r.X + cw*float64(i%4), r.Y + ch*float64(i/4), cw, ch}
		b.note(b.curt(say.Sim(s.String()), size, cw-2), cell.X+cw/2, cell.Y+ch-0.75*size)
		cell.H -= 1.5 * size
		b.seatInset(cell.Inset(math.Min(cw, ch)*0.06), s)
	}
}

func (b *builder) seatInset(r Rect, s sim.Seat) {
	c := &b.opt.Inside.Condition
	held, stuck, leak := c.SeatHeld[s], c.SeatCap[s] < 0.5, c.SeatLeakCv[s]
	mid, y := r.X+r.W/2, r.Y+r.H*0.72 // top of the seat
	port, disc := r.W*0.17, r.W*0.36
	plate := r.H * 0.26
	for _, k := range []float64{-1, 1} {
		in, out := mid+k*port, mid+k*r.W/2
		b.block([]Pt{{in, y}, {out, y}, {out, y + plate}, {in, y + plate}})
	}
	if leak > 1e-4 { // cut through where the disc should seal
		deep := math.Min(1, 0.35+0.65*math.Sqrt(leak/1.2))
		cut := []Pt{{mid + port - 1, y - 1}, {mid + disc*1.15, y - 1}, {mid + port + (disc-port)*0.8, y + plate*0.5*deep}, {mid + port - 1, y + plate*deep}}
		b.fill(Paper, cut)
		b.wrong(cut[1:]...)
	}
	lift := held * r.H * 0.36
	d := y - lift
	t := math.Max(3, r.H*0.13)
	b.top(Shell, Rect{mid - disc, d - 1.6*t, 2 * disc, t}.corners(), b.s.Thin*1.2)
	b.fill(InkSoft, Rect{mid - disc*0.94, d - 0.6*t, 1.88 * disc, 0.6 * t}.corners())
	b.top(Shell, Rect{mid - 2.5, r.Y, 5, d - 1.6*t - r.Y}.corners(), b.s.Thin)
	if held > 0.01 {
		for _, k := range []float64{-1, 1} {
			b.arrow(Wrong, Pt{mid + k*disc*0.75, y}, Pt{mid + k*disc*0.75, d + 1})
		}
	}
	if stuck {
		for i := range 4 {
			x := mid + disc*[4]float64{-1.04, -0.7, 0.7, 1.04}[i]
			b.lump(Grit, Pt{x, y - 0.3*t}, t*0.6, 90+i)
		}
	}
}

// score draws a groove across a seal ring, as wide as the leak asks.
func (b *builder) score(c Pt, rad, cv float64) {
	if cv <= 1e-3 {
		return
	}
	w := clamp(rad*0.28*math.Sqrt(cv), 2.5, rad*0.5)
	groove := []Pt{c.Add(rad*0.6, -rad*0.2), c.Add(rad*0.74, -rad*0.34), c.Add(rad*0.93, -rad*0.36)}
	b.ink(w+2*b.s.Heavy, Wrong, groove)
	b.ink(w, Paper, groove)
}

// insetBypass shows the plug with its handle against the service stop, and how
// street and house are joined to the unit.
func (b *builder) insetBypass(r Rect) {
	c := &b.opt.Inside.Condition
	half := Rect{r.X, r.Y, r.W * 0.5, r.H}
	m, rad := half.Centre(), math.Min(half.W*0.36, half.H*0.36)
	b.top(Cut, circle(m, rad), b.s.Heavy)
	b.fill(InkSoft, circle(m, rad*0.93))
	b.fill(Shell, circle(m, rad*0.62))
	b.outline(circle(m, rad*0.62), b.s.Thin)
	b.score(m, rad, c.BypassLeakCv)
	turn := c.BypassAjar * math.Pi / 2
	si, co := math.Sincos(turn)
	at := func(k float64) Pt { return m.Add(rad*k*co, rad*k*si) }
	b.ink(rad*0.34+2*b.s.Thin, Ink, []Pt{at(-0.58), at(0.58)})
	b.ink(rad*0.34, Paper, []Pt{at(-0.58), at(0.58)})
	role := Ink
	if c.BypassAjar > 0.01 {
		role = Wrong
		b.ink(b.s.Thin*1.3, Wrong, arc(m, rad*1.2, 0, turn))
	}
	b.ink(b.s.Heavy*2.4, role, []Pt{m, at(1.3)})
	b.fill(role, circle(m, b.s.Heavy*1.8))
	b.ink(b.s.Heavy*2, Ink, []Pt{m.Add(rad*1.12, -4-b.s.Heavy*1.6), m.Add(rad*1.38, -4-b.s.Heavy*1.6)}) // stop
	b.joined(Rect{r.X + r.W*0.56, r.Y, r.W * 0.44, r.H}, c.LinesCrossed > 0.5)
}

// joined draws two pipes from street and house to the unit's inlet and outlet.
func (b *builder) joined(r Rect, crossed bool) {
	size := b.opt.small(b.s)
	w := func(t string) float64 { return b.opt.Measure(t, size, false) }
	name := math.Max(w("raw"), w("house"))
	x0, x1 := r.X+name+3, r.X+r.W-math.Max(w("in"), w("out"))-3
	y := [2]float64{r.Y + r.H*0.3, r.Y + r.H*0.68}
	for i, side := range []string{"raw", "house"} {
		b.note(side, r.X+name/2, y[i])
		b.note([]string{"in", "out"}[i], x1+3+w("out")/2, y[i])
		to, role := y[i], Ink
		if crossed {
			to, role = y[1-i], Wrong
		}
		line := []Pt{{x0, y[i]}, {x0 + (x1-x0)*0.25, y[i]}, {x1 - (x1-x0)*0.25, to}, {x1, to}}
		b.ink(7, role, line)
		b.ink(3.6, Paper, line)
	}
}
