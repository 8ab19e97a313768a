package viewmodel

import (
	"math"

	"brinebench/sim"
)

// fittings draws what holds and seals the valve's body, in front of the passages.
func (b *builder) fittings() {
	b.screws()
	b.unions()
	for _, s := range sim.SeatRow {
		b.guide(s)
		b.seatRing(s)
	}
}

// screws draws the screws that hold the flanges together.
func (b *builder) screws() {
	const top, foot = plateY - 11, plateY + plateH + 11
	for _, x := range []float64{-5, bodyW + 5} {
		b.top(Shell, b.rect(x-1.6, top+4, 3.2, foot-top-8).corners(), b.s.Thin)
		for _, y := range []float64{top, foot - 4} {
			b.top(Shell, b.rect(x-4, y, 8, 4).corners(), b.s.Thin*1.2)
		}
	}
}

// unions draws in section the nuts by which pipes are joined to the body's ports.
func (b *builder) unions() {
	const long, thick = 10.0, 4.0
	const pipe, hose = pipeW/2 + pipeWall, hoseW/2 + hoseWall
	for _, y := range []float64{supplyY, houseY} {
		b.cutTop(b.rect(-long, y-pipe-thick+0.6, long, thick).corners())
		b.cutTop(b.rect(-long, y+pipe-0.6, long, thick).corners())
	}
	if !b.open(sim.PartDrainLine) {
		b.cutTop(b.rect(drainX-hose-thick+0.6, bodyH, thick, long).corners())
		b.cutTop(b.rect(drainX+hose-0.6, bodyH, thick, long).corners())
	}
}

// guide draws the bore that a stem slides in, down to the first passage of its own
// seat: a sleeve where it crosses a gallery, with a gland and its seals on top.
func (b *builder) guide(s sim.Seat) {
	const half, wall = 4.0, 2.0
	x, foot := seatX[s], roomY
	switch s {
	case sim.SeatOutlet:
		foot = houseY - passW/2
	case sim.SeatPass:
		foot = supplyY - passW/2
	}
	b.over(Op{Kind: OpFill, Role: Shade, Pts: b.rect(x-half, 0, 2*half, foot).corners()})
	for _, k := range []float64{-1, 1} {
		if s == sim.SeatBackwash || s == sim.SeatRinse || s == sim.SeatOutlet {
			b.cutTop(b.rect(x+k*(half+wall/2)-wall/2, 2, wall, foot-2).corners())
		}
		b.ink(b.s.Thin, Ink, b.line(x+k*half, 0, x+k*half, foot))
	}
	b.top(Shell, b.line(x-9, 0, x-9, -3, x-6, -3, x-6, -6, x+6, -6, x+6, -3, x+9, -3, x+9, 0), b.s.Thin*1.2)
	for _, k := range []float64{-1, 1} {
		b.seal(x+k*3.6, 4)
	}
}

// seal draws an elastic ring in section.
func (b *builder) seal(x, y float64) {
	b.over(Op{Kind: OpFill, Role: Ink, Pts: circle(b.p(x, y), math.Max(1.1, 1.8*b.u))})
}

// seatRing draws the raised edge of a port, which the disc rests on.
func (b *builder) seatRing(s sim.Seat) {
	for _, k := range []float64{-1, 1} {
		in := seatX[s] + k*portW/2
		b.top(Cut, b.line(in, plateY+0.5, in, plateY-ringH, in+k*2, plateY-ringH, in+k*5, plateY+0.5), b.s.Thin)
	}
}
