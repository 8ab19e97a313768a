package viewmodel

import "math"

// insetDiscs shows the eight facings; a leak is a score across one.
func (b *builder) insetDiscs(r Rect) {
	size := b.opt.small(b.s)
	cw, ch := r.W/4, r.H/2
	for i, s := range seatRow {
		c := Pt{r.X + cw*(float64(i%4)+0.5), r.Y + ch*(float64(i/4)+0.5) - size*0.6}
		rad := math.Min(cw*0.36, ch*0.5-size)
		b.top(Shell, circle(c, rad), b.s.Thin*1.4)
		b.over(Op{Kind: OpFill, Role: InkSoft, Pts: circle(c, rad*0.86)})
		b.over(Op{Kind: OpFill, Role: Shade, Pts: circle(c, rad*0.52)})
		b.outline(circle(c, rad*0.66), b.s.Thin*0.8)
		b.note(s.String(), c.X, c.Y+rad+size*0.8)
		b.score(c, rad, b.opt.Inside.Condition.SeatLeakCv[s])
	}
}

// score draws a groove across a seal, as wide as the leak asks.
func (b *builder) score(c Pt, rad, cv float64) {
	if cv <= 1e-3 {
		return
	}
	w := clamp(rad*0.5*math.Sqrt(cv), 1.5, rad*0.6)
	b.ink(w, Paper, []Pt{c.Add(rad*0.42, -rad*0.3), c.Add(rad*0.62, -rad*0.36), c.Add(rad*0.9, -rad*0.62)})
}

func (b *builder) insetBypass(r Rect) {
	c, rad := r.Centre(), math.Min(r.W, r.H)*0.4
	b.top(Cut, circle(c, rad), b.s.Heavy)
	b.over(Op{Kind: OpFill, Role: InkSoft, Pts: circle(c, rad*0.86)})
	b.over(Op{Kind: OpFill, Role: Shell, Pts: circle(c, rad*0.66)})
	b.outline(circle(c, rad*0.66), b.s.Thin)
	b.top(Paper, circle(c, rad*0.4), b.s.Thin*1.3)
	b.score(c, rad, b.opt.Inside.Condition.BypassLeakCv)
}

// insetFloat shows the float on its rod beside the mark of its proper height.
func (b *builder) insetFloat(r Rect) {
	x, top, h := r.X+r.W*0.42, r.Y+4, r.H-8
	mark := top + h*0.34
	y := mark + h*clamp(b.opt.Inside.Condition.FloatLowM/0.3, 0, 0.55)
	b.ink(b.s.Heavy*1.6, Ink, []Pt{{x, top}, {x, top + h}})
	for i := range 11 {
		ty, l := top+h*float64(i)/10, 6.0
		if i%5 == 0 {
			l = 11
		}
		b.ink(b.s.Thin, InkSoft, []Pt{{x + 34, ty}, {x + 34 + l, ty}})
	}
	b.top(Shell, roundRect(Rect{x - 20, y - 13, 40, 26}, 5), b.s.Heavy)
	b.ink(b.s.Thin, Ink, []Pt{{x - 34, y}, {x - 20, y}})
	b.ink(b.s.Heavy, Ink, []Pt{{x + 26, mark}, {x + 52, mark}})
	b.note("mark", x+72, mark)
}
