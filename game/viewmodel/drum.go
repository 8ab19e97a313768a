package viewmodel

import "brinebench/sim"

// Heights above the body's top, drawing units from the top of the drum group.
const (
	barY   = 6.0  // abutment of the springs
	rollY  = 41.0 // roller of a shut seat
	rollR  = 6.0
	drumY  = 47.0 // top of the drum
	drumD  = 62.0
	drumH  = 112.0 // whole group
	lobeUp = seatTop
)

// drum draws the frame of the cam drum over the valve; the drum itself, the
// rollers and springs move and are drawn by the view.
func (b *builder) drum(x, y float64) {
	x0, x1 := x+14, x+bodyW-96
	b.ink(b.s.Heavy, Ink, b.line(x0-10, y+drumY+drumD/2, x1+74, y+drumY+drumD/2)) // shaft
	b.top(Shell, b.rect(x0+14, y+barY-5, x1-x0-28, 5).corners(), b.s.Thin*1.2)
	for _, s := range seatRow {
		st := &b.s.Seats[s]
		st.RollerY, st.BarY = b.p(0, y+rollY).Y, b.p(0, y+barY).Y
		st.RollerR, st.BandW = rollR*b.u, 34*b.u
	}
	b.s.Drum = Drum{
		Box: b.rect(x0, y+drumY, x1-x0, drumD), Lobe: lobeUp * b.u,
		Index:  b.rect(x1+4, y+drumY-3, 16, drumD+6),
		Pinion: b.p(x1+38, y+drumY+drumD/2), PinR: 11 * b.u,
	}
	for _, fx := range []float64{x0 - 12, x1 + 22} { // bearing blocks
		b.cut(b.rect(fx, y+drumY+12, 9, drumD-24).corners(), false)
	}
	b.hit(sim.PartDrum, x0, y, x1-x0+24, drumH)
	b.keep(x0-12, y, x1-x0+40, drumY+drumD)
	b.motor(x1+52, y+drumY+4)
}

func (b *builder) motor(x, y float64) {
	const w, h = 42, 54
	b.top(Shell, roundRect(b.rect(x, y, w, h), 5*b.u), b.s.Heavy)
	for k := 1.0; k < 5; k++ { // cooling ribs
		b.ink(b.s.Thin, InkSoft, b.line(x+4, y+h*k/5, x+12, y+h*k/5))
		b.ink(b.s.Thin, InkSoft, b.line(x+w-12, y+h*k/5, x+w-4, y+h*k/5))
	}
	b.hit(sim.PartMotor, x-4, y-4, w+8, h+8)
	b.keep(x-2, y-2, w+4, h+4)
	c := b.p(x+w/2, y+h/2)
	b.top(Paper, circle(c, 12*b.u), b.s.Thin)
	size := TextSmall
	b.s.Labels = append(b.s.Labels, Placed{Text: "M", X: c.X - b.opt.Measure("M", size, true)/2, Y: c.Y - size*0.6, Size: size, Bold: true, Role: Ink})
}
