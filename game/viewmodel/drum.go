package viewmodel

import (
	"math"

	"brinebench/sim"
)

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
	x0, x1 := x+14, x+bodyW-88
	axis := y + drumY + drumD/2
	b.ink(3*b.s.Heavy, Ink, b.line(x0-16, axis, x1+40, axis)) // shaft
	b.top(Shell, b.rect(x0+14, y+barY-5, x1-x0-28, 5).corners(), b.s.Thin*1.2)
	for _, s := range sim.SeatRow {
		st := &b.s.Seats[s]
		st.RollerY, st.BarY = b.p(0, y+rollY).Y, b.p(0, y+barY).Y
		st.RollerR, st.BandW = rollR*b.u, 34*b.u
	}
	gear := drumD + 8.0
	b.s.Drum = Drum{
		Box: b.rect(x0, y+drumY, x1-x0, drumD), Lobe: lobeUp * b.u,
		Gear:   b.rect(x1+5, axis-gear/2, 15, gear),
		Pinion: b.rect(x1+4, axis-gear/2-18, 17, 18),
	}
	for _, fx := range []float64{x0 - 14, x1 + 27} { // bearing blocks
		b.cut(b.rect(fx, axis-19, 10, 38).corners(), false)
	}
	b.hit(sim.PartDrum, x0, y, x1-x0+24, drumH)
	b.keep(x0-14, y, x1-x0+52, drumY+drumD+4)
	size := b.opt.small(b.s)
	b.readout(Readout{Kind: ReadAngle, At: b.p(x1+42, axis+22), Size: size, Role: InkSoft}, "888°")
	b.motor(x1+30, y+2)
	b.plugIn(x1+26, y+drumH+2)
}

// Lobe returns how far the lobe of a seat lifts its roller at a drum angle in
// degrees, 0..1.
func Lobe(set *sim.Setup, s sim.Seat, deg float64) float64 {
	lobe := &set.Lobe[s]
	n := len(lobe)
	at := math.Mod(deg+360, 360) / 360 * float64(n)
	i, t := int(at)%n, at-math.Floor(at)
	return lobe[i] + t*(lobe[(i+1)%n]-lobe[i])
}

// plugIn draws the supply that is plugged into the wall, or hangs before its outlet, and
// its cord to the controller; in a tall picture, which has the controller in words alone,
// to the motor.
func (b *builder) plugIn(x, y float64) {
	const w, h, plateW, prong, bodyW, bodyH = 56.0, 38.0, 8.0, 12.0, 32.0, 28.0
	mid, body := y+h/2, x+plateW
	b.top(Paper, roundRect(b.rect(x, y, plateW, h), 2*b.u), b.s.Heavy)
	if v := b.opt.Inside; v != nil && !v.Controller.Powered {
		body += prong
		for _, dy := range []float64{-6, 6} {
			b.ink(1.6*b.s.Heavy, Ink, b.line(body-prong+2, mid+dy, body, mid+dy))
		}
	}
	right, turn := body+bodyW, x+w+14
	cord := b.line(right, mid, turn, mid, turn, y-drumH+31, turn-14, y-drumH+31)
	if !b.s.Tall {
		cord = b.line(right, mid, turn-4, mid, turn-4, y-20, turn+10, y-20)
	}
	b.ink(1.4*b.s.Heavy, Ink, fillet(cord, 6*b.u))
	b.top(Shell, roundRect(b.rect(body, mid-bodyH/2, bodyW, bodyH), 4*b.u), b.s.Heavy)
	b.hit(sim.PartPlugIn, x, y, w, h)
	b.keep(x-2, y-2, w+4, h+4)
	b.label("plug-in supply", "", 0, x+w+22, y+h+6).lead(b, right, mid)
}

// motor draws the drive motor, whose shaft carries the pinion.
func (b *builder) motor(x, y float64) {
	const w, h = 52, 46
	mid := y + 31.0
	b.ink(2.4*b.s.Heavy, Ink, b.line(x-10, mid, x+4, mid))
	b.top(Shell, roundRect(b.rect(x, y+8, w, h), 6*b.u), b.s.Heavy)
	for k := 1.0; k < 5; k++ { // cooling ribs
		b.ink(b.s.Thin, InkSoft, b.line(x+4, y+8+h*k/5, x+12, y+8+h*k/5))
		b.ink(b.s.Thin, InkSoft, b.line(x+w-12, y+8+h*k/5, x+w-4, y+8+h*k/5))
	}
	b.hit(sim.PartMotor, x-4, y+4, w+8, h+8)
	b.keep(x-2, y, w+4, h+10)
	c := b.p(x+w/2, mid)
	b.top(Paper, circle(c, math.Max(13*b.u, 7.5)), b.s.Thin)
	size := TextSmall
	b.s.Labels = append(b.s.Labels, Placed{Text: "M", X: c.X - b.opt.Measure("M", size, true)/2, Y: c.Y - size*0.6, Size: size, Bold: true, Role: Ink})
}
