package figure

import (
	"math"

	"brinebench/game/viewmodel"
)

// stem draws disc and stem of a seat; the stem passes behind the drum.
func (f *Figure) stem(s *viewmodel.Seat) {
	if f.Scene.DiscsOut { // and the stems with them
		return
	}
	up := f.View.SeatLift[s.Seat] * s.Lift
	shell, t := f.role(viewmodel.Shell), f.Scene.Thin
	y := s.PlateY - up
	f.box(viewmodel.Rect{X: s.X - s.StemW/2, Y: s.RollerY - up, W: s.StemW, H: y - s.RollerY + up - s.DiscH}, t, shell)
	f.box(viewmodel.Rect{X: s.X - s.DiscW/2, Y: y - s.DiscH, W: s.DiscW, H: s.DiscH * 0.62}, t, shell)
	f.Rect(s.X-s.DiscW/2+1.5*t, y-s.DiscH*0.4, s.DiscW-3*t, s.DiscH*0.4, f.ink()) // facing
	f.box(viewmodel.Rect{X: s.X - s.StemW, Y: y - s.DiscH*1.7, W: 2 * s.StemW, H: s.DiscH * 0.8}, t, shell)
}

// roller draws the roller on the drum and the spring that loads it. A lobe pushes its
// roller up, be the disc stuck; a disc that hangs holds it up.
func (f *Figure) roller(s *viewmodel.Seat) {
	const turns = 7
	y := s.RollerY - math.Max(f.View.SeatLift[s.Seat], viewmodel.Lobe(f.Set, s.Seat, f.View.DrumDeg))*s.Lift
	w, top, bottom := s.RollerR*1.15, s.BarY, y-s.RollerR*0.6
	p := pt{X: s.X, Y: top}
	for k := 1; k <= turns; k++ {
		q := pt{X: s.X + w*float64(1-2*(k%2)), Y: top + (bottom-top)*float64(k)/turns}
		if k == turns {
			q.X = s.X
		}
		f.Line(p, q, f.Scene.Thin*1.2, f.ink())
		p = q
	}
	f.Ring(s.X, y, s.RollerR, f.Scene.Thin*1.3, f.ink(), f.role(viewmodel.Paper))
	f.Disc(s.X, y, s.RollerR*0.3, f.ink())
}

// drum draws the drum in side view: the surface turns upwards to the rollers, so what is
// seen below the top edge comes next.
func (f *Figure) drum() {
	box, lit, dim := f.Scene.Drum.Box, f.role(viewmodel.Shell), f.role(viewmodel.Shade)
	left, right, crest := box.X, box.X+box.W, box.Y+box.H*0.35
	f.Quad(pt{X: left, Y: box.Y}, pt{X: right, Y: box.Y}, pt{X: right, Y: crest}, pt{X: left, Y: crest}, dim, lit)
	f.Quad(pt{X: left, Y: crest}, pt{X: right, Y: crest}, pt{X: right, Y: box.Y + box.H}, pt{X: left, Y: box.Y + box.H}, lit, dim)
	for i := range f.Scene.Seats {
		f.track(&f.Scene.Seats[i])
	}
	t := f.Scene.Heavy
	f.Rect(left, box.Y-t/2, box.W, t, f.ink())
	f.Rect(left, box.Y+box.H-t/2, box.W, t, f.ink())
	f.Rect(left-t/2, box.Y, t, box.H, f.ink())
	f.Rect(right-t/2, box.Y, t, box.H, f.ink())
	for i := range f.Scene.Seats { // the lobe under the roller stands above the edge
		s := &f.Scene.Seats[i]
		if h := viewmodel.Lobe(f.Set, s.Seat, f.View.DrumDeg) * f.Scene.Drum.Lobe; h > 0.5 {
			f.box(viewmodel.Rect{X: s.X - s.BandW/2, Y: box.Y - h, W: s.BandW, H: h + t}, f.Scene.Thin, f.land(1))
		}
	}
	f.gears()
}

// land is the colour of a lobe's land, so opaque.
func (f *Figure) land(opaque float64) Tint {
	return Of(viewmodel.Mix(f.Pal.Role[viewmodel.Shade], f.Pal.Role[viewmodel.Ink], 0.45), opaque)
}

// track draws the lobes of a seat on the visible half of the drum, whatever is as high as
// what is beside it in one piece.
func (f *Figure) track(s *viewmodel.Seat) {
	box, lobe, x := f.Scene.Drum.Box, &f.Set.Lobe[s.Seat], s.X-s.BandW/2
	soft := Of(f.Pal.Role[viewmodel.InkSoft], 0.6)
	f.Rect(x, box.Y, f.Scene.Thin*0.8, box.H, soft)
	f.Rect(x+s.BandW-f.Scene.Thin*0.8, box.Y, f.Scene.Thin*0.8, box.H, soft)
	n := len(lobe)
	first := int(f.View.DrumDeg / 360 * float64(n))
	high := func(k int) float64 { return lobe[((first+k)%n+n)%n] }
	y := func(k int) float64 { return box.Y + box.H/2*(1-math.Cos(2*math.Pi*float64(k)/float64(n))) }
	for from, to := 0, 0; from < n/2; from = to {
		for to = from + 1; to < n/2 && high(to) == high(from); {
			to++
		}
		if h := high(from); h >= 0.02 {
			f.Rect(x, y(from), s.BandW, y(to)-y(from), f.land(0.35+0.65*h))
		}
	}
}

// gears draws the wheel on the shaft and the motor's pinion, both from the side: their
// teeth move as the shaft turns, the pinion's the faster. Marks on drum and wheel face
// each other unless the drum has slipped on its shaft.
func (f *Figure) gears() {
	d, deg := &f.Scene.Drum, f.View.DrumDeg
	shaft := deg + f.View.Condition.DrumSlipDeg
	f.wheel(d.Gear, 30, shaft)
	f.wheel(d.Pinion, 8, -shaft*30/8)
	f.mark(deg, d.Box.X+d.Box.W-5*f.Scene.Unit, d.Box.Y, d.Box.H, 1)
	f.mark(shaft, d.Gear.X+d.Gear.W/2, d.Gear.Y, d.Gear.H, -1)
}

// wheel draws a toothed wheel from the side, turned by deg.
func (f *Figure) wheel(r viewmodel.Rect, teeth int, deg float64) {
	f.box(r, f.Scene.Thin*1.4, f.role(viewmodel.Shell))
	step := 360 / float64(teeth)
	for a := step - math.Mod(deg, step); a < 180; a += step {
		sin, cos := math.Sincos(a * math.Pi / 180)
		w := f.Scene.Thin * (0.5 + 1.2*sin)
		f.Rect(r.X+1, r.Y+r.H/2*(1-cos)-w/2, r.W-2, w, f.ink())
	}
}

// mark draws the mark of a body that has turned by deg, where its near half of height h
// shows it. In service it is in the middle.
func (f *Figure) mark(deg, x, top, h, right float64) {
	a := math.Mod(90-deg+720, 360)
	if a >= 180 {
		return
	}
	sin, cos := math.Sincos(a * math.Pi / 180)
	if sin < 0.15 { // as good as edge on
		return
	}
	at, to, u := pt{X: x, Y: top + h/2*(1-cos)}, pt{X: right}, f.Scene.Unit
	f.Dart(at, to, 13*u, (2+9*sin)*u, f.role(viewmodel.Paper))
	f.Dart(at, to, 9*u, (1+5*sin)*u, f.ink())
}
