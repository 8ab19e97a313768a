package figure

import (
	"math"

	"brinebench/game/viewmodel"
)

// needle draws the needle of a gauge.
func (f *Figure) needle(q *viewmodel.Gauge) {
	k := math.Max(-0.02, math.Min(1.04, f.View.PressurePa[q.Node]/q.MaxPa))
	s, c := math.Sincos(math.Pi * (0.75 + 1.5*k))
	f.Line(q.C.Add(-c*q.R*0.18, -s*q.R*0.18), q.C.Add(c*q.R*0.78, s*q.R*0.78), math.Max(1.4, q.R*0.085), f.ink())
	f.Disc(q.C.X, q.C.Y, q.R*0.13, f.ink())
}

// meter draws the needle of the meter.
func (f *Figure) meter() {
	m := &f.Scene.Meter
	if m.R == 0 {
		return
	}
	s, c := math.Sincos(f.Meter)
	f.Line(m.C.Add(-c*m.R*0.3, -s*m.R*0.3), m.C.Add(c*m.R*0.7, s*m.R*0.7), math.Max(1.3, m.R*0.14), f.ink())
	f.Disc(m.C.X, m.C.Y, m.R*0.2, f.ink())
}

// valves draws shut-off, bypass plugs and the handles of the taps.
func (f *Figure) valves() {
	q, heavy := &f.Scene.ShutOff, f.Scene.Heavy
	turn := f.Poise.ShutOff * math.Pi / 2
	f.bore(q, q.Mains+turn, q.Valve+turn)
	dy, dx := math.Sincos(q.Valve + turn)
	f.Line(q.C, q.C.Add(dx*q.R*1.9, dy*q.R*1.9), heavy*1.7, f.ink())
	f.Disc(q.C.X, q.C.Y, q.R*0.24, f.ink())
	for i := range f.Scene.Plugs {
		from, to := f.Poise.Bore(&f.Scene.Plugs[i])
		f.bore(&f.Scene.Plugs[i], from, to)
	}
	for i := range f.Scene.Taps {
		t := &f.Scene.Taps[i]
		open := f.View.HouseTap
		if t.Raw {
			open = f.View.RawTap
		}
		y, x := math.Sincos(open * math.Pi / 2)
		f.Line(t.C.Add(-x*t.Len, -y*t.Len*0.4), t.C.Add(x*t.Len, y*t.Len*0.4), heavy*1.5, f.ink())
		f.Disc(t.C.X, t.C.Y, heavy*1.3, f.ink())
	}
}

// bore draws the bore of a ball or plug between two of its sides.
func (f *Figure) bore(q *viewmodel.Ball, from, to float64) {
	r := q.R * 0.95
	a := q.C.Add(math.Cos(from)*r, math.Sin(from)*r)
	z := q.C.Add(math.Cos(to)*r, math.Sin(to)*r)
	for k := range 2 {
		w, c := q.Bore+2*f.Scene.Thin, f.ink()
		if k == 1 {
			w, c = q.Bore, Of(f.Frame.Colour[q.Src], 1)
		}
		f.Line(a, q.C, w, c)
		f.Line(q.C, z, w, c)
		f.Disc(q.C.X, q.C.Y, w/2, c)
	}
}

// check draws the air check's ball.
func (f *Figure) check() {
	k := &f.Scene.Tank
	if !f.Scene.CheckOut {
		f.Ring(k.Check.X, k.Check.Y-k.CheckR*0.6-f.View.Tank.AirCheckLift*k.CheckL, k.CheckR, f.Scene.Thin*1.3, f.ink(), f.role(viewmodel.Paper))
	}
}

// float draws the safety float on its rod, and the valve that it shuts.
func (f *Figure) float() {
	if f.Scene.FloatOut {
		return
	}
	k, u, thin, shell := &f.Scene.Tank, f.Scene.Unit, f.Scene.Thin, f.role(viewmodel.Shell)
	y := k.Floor - f.View.Tank.FloatM*k.PxPerM
	f.Line(pt{X: k.FloatX, Y: k.Well.Y + 6*u}, pt{X: k.FloatX, Y: y}, f.Scene.Heavy, f.ink())
	f.box(viewmodel.Rect{X: k.FloatX - k.FloatW/2, Y: y - 8*u, W: k.FloatW, H: 16 * u}, thin*1.2, shell)
	f.Rect(k.FloatX-k.FloatW/2, y-thin/2, k.FloatW, thin, f.ink())
	valve := shell
	if f.View.Tank.FloatShut {
		valve = f.ink()
	}
	f.box(viewmodel.Rect{X: k.FloatX - 4*u, Y: k.Well.Y + 2*u, W: 8 * u, H: 6 * u}, thin, valve)
}
