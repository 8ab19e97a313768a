package still

import (
	"image/color"
	"math"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// water fills passages and tanks.
func (d *drawing) water() {
	for i := range d.scene.Waters {
		w := &d.scene.Waters[i]
		d.face(d.frame.Colour[w.Src], w.Mesh.Outline()...)
	}
	d.bed()
	d.brineTank()
}

// bed fills the resin tank with the water and the beads of each cell.
func (d *drawing) bed() {
	f, bed := &d.frame, &d.scene.Bed
	left, right := bed.RiserX-bed.RiserW/2, bed.RiserX+bed.RiserW/2
	depth := bed.Floor - f.BedTop
	h := depth / sim.BedCells
	for i := range sim.BedCells {
		y := f.BedTop + float64(i)*h
		d.rect(f.Water[i], viewmodel.Rect{X: bed.Box.X, Y: y, W: left - bed.Box.X, H: h + 0.5})
		d.rect(f.Water[i], viewmodel.Rect{X: right, Y: y, W: bed.Box.X + bed.Box.W - right, H: h + 0.5})
	}
	for _, p := range bed.Beads {
		x, y := bed.Box.X+bed.BeadR+p.X*(bed.Box.W-2*bed.BeadR), bed.Floor-p.Y*depth
		if x+bed.BeadR > left && x-bed.BeadR < right {
			continue
		}
		cell := min(int((1-p.Y)*sim.BedCells), sim.BedCells-1)
		d.disc(viewmodel.Mix(f.Bead[cell], f.OnBead[cell], 0.17), x, y, bed.BeadR*0.92)
	}
}

// brineTank fills the brine tank with liquid and salt.
func (d *drawing) brineTank() {
	k, t, u := &d.scene.Tank, &d.view.Tank, d.scene.Unit
	y := func(m float64) float64 { return k.Floor - math.Min(m*k.PxPerM, k.Box.H) }
	level, salt := y(t.LevelM), y(math.Max(t.SaltTopM, t.LooseSaltTopM))
	d.rect(d.pal.Liquid, viewmodel.Rect{X: k.Box.X, Y: level, W: k.Box.W, H: k.Floor - level})
	d.rect(viewmodel.Mix(d.pal.Liquid, d.role(viewmodel.SaltFace), 0.75), k.Salt(u, salt, k.Floor))
	for c := range k.Crystals(u, salt, k.Floor) {
		sin, cos := math.Sincos(c.A)
		for _, side := range []float64{c.D, c.D - 1.4*d.scene.Thin} {
			x, y, fill := cos*side, sin*side, viewmodel.InkSoft
			if side < c.D {
				fill = viewmodel.SaltFace
			}
			d.face(d.role(fill), c.C.Add(x, y), c.C.Add(-y, x), c.C.Add(-x, -y), c.C.Add(y, -x))
		}
	}
	d.line(d.role(viewmodel.Ink), d.scene.Thin*1.3, pt{X: k.Box.X, Y: level}, pt{X: k.Box.X + k.Box.W, Y: level})
}

// parts draws what moves in front of the outlines.
func (d *drawing) parts() {
	for i := range d.scene.Seats {
		d.stem(&d.scene.Seats[i])
	}
	d.drum()
	for i := range d.scene.Seats {
		d.roller(&d.scene.Seats[i])
	}
	d.valves()
	for _, q := range d.scene.Gauges {
		d.needle(q.C, q.R, math.Pi*(0.75+1.5*d.view.PressurePa[q.Node]/q.MaxPa))
	}
	if m := d.scene.Meter; m.R > 0 {
		d.needle(m.C, m.R, 0)
	}
	d.float()
}

// stem draws disc and stem of a seat.
func (d *drawing) stem(q *viewmodel.Seat) {
	shell, t := d.role(viewmodel.Shell), d.scene.Thin
	up := d.view.SeatLift[q.Seat] * q.Lift
	y := q.PlateY - up
	d.box(shell, viewmodel.Rect{X: q.X - q.StemW/2, Y: q.RollerY - up, W: q.StemW, H: y - q.RollerY + up - q.DiscH}, t)
	d.box(shell, viewmodel.Rect{X: q.X - q.DiscW/2, Y: y - q.DiscH, W: q.DiscW, H: q.DiscH * 0.62}, t)
	d.rect(d.role(viewmodel.Ink), viewmodel.Rect{X: q.X - q.DiscW/2 + 1.5*t, Y: y - q.DiscH*0.4, W: q.DiscW - 3*t, H: q.DiscH * 0.4})
	d.box(shell, viewmodel.Rect{X: q.X - q.StemW, Y: y - q.DiscH*1.7, W: 2 * q.StemW, H: q.DiscH * 0.8}, t)
}

// roller draws the roller of a seat on the drum, and its spring.
func (d *drawing) roller(q *viewmodel.Seat) {
	const turns = 7
	y := q.RollerY - viewmodel.Lobe(d.set, q.Seat, d.view.DrumDeg)*q.Lift
	bottom := y - q.RollerR*0.6
	var spring [turns + 1]pt
	for k := range spring {
		x := q.X + q.RollerR*1.15*float64(1-2*(k%2))
		if k == 0 || k == turns {
			x = q.X
		}
		spring[k] = pt{X: x, Y: q.BarY + (bottom-q.BarY)*float64(k)/turns}
	}
	d.line(d.role(viewmodel.Ink), d.scene.Thin*1.2, spring[:]...)
	d.ring(d.role(viewmodel.Paper), q.X, y, q.RollerR, d.scene.Thin*1.3)
	d.disc(d.role(viewmodel.Ink), q.X, y, q.RollerR*0.3)
}

// drum draws the drum from the side, with the lands of its lobes, and its gears.
func (d *drawing) drum() {
	const shades = 12
	box, ink, heavy := d.scene.Drum.Box, d.role(viewmodel.Ink), d.scene.Heavy
	for i := range shades {
		at := (float64(i) + 0.5) / shades
		lit := math.Min(at/0.35, (1-at)/0.65)
		y := box.Y + box.H*float64(i)/shades
		d.rect(viewmodel.Mix(d.role(viewmodel.Shade), d.role(viewmodel.Shell), lit), viewmodel.Rect{X: box.X, Y: y, W: box.W, H: box.H/shades + 0.5})
	}
	for i := range d.scene.Seats {
		d.track(&d.scene.Seats[i])
	}
	for _, edge := range [...]viewmodel.Rect{
		{X: box.X, Y: box.Y - heavy/2, W: box.W, H: heavy},
		{X: box.X, Y: box.Y + box.H - heavy/2, W: box.W, H: heavy},
		{X: box.X - heavy/2, Y: box.Y, W: heavy, H: box.H},
		{X: box.X + box.W - heavy/2, Y: box.Y, W: heavy, H: box.H},
	} {
		d.rect(ink, edge)
	}
	for i := range d.scene.Seats {
		d.lobe(&d.scene.Seats[i])
	}
	d.wheel(d.scene.Drum.Gear, 30)
	d.wheel(d.scene.Drum.Pinion, 8)
}

// track draws the lands of a seat's lobes on the visible half of the drum.
func (d *drawing) track(q *viewmodel.Seat) {
	box, lobe := d.scene.Drum.Box, &d.set.Lobe[q.Seat]
	x, r, thin, n := q.X-q.BandW/2, d.scene.Drum.Box.H/2, d.scene.Thin*0.8, len(d.set.Lobe[q.Seat])
	soft := viewmodel.Mix(d.role(viewmodel.Shade), d.role(viewmodel.InkSoft), 0.6)
	d.rect(soft, viewmodel.Rect{X: x, Y: box.Y, W: thin, H: box.H})
	d.rect(soft, viewmodel.Rect{X: x + q.BandW - thin, Y: box.Y, W: thin, H: box.H})
	y := func(i int) float64 { return box.Y + r*(1-math.Cos(2*math.Pi*float64(i)/float64(n))) }
	first := int(d.view.DrumDeg / 360 * float64(n))
	for from := 0; from < n/2; from++ {
		to := from
		for to < n/2 && lobe[(first+to)%n] > 0.5 {
			to++
		}
		if to > from {
			d.rect(d.land(), viewmodel.Rect{X: x, Y: y(from), W: q.BandW, H: y(to) - y(from)})
			from = to
		}
	}
}

// land is the colour of a lobe's land.
func (d *drawing) land() color.RGBA {
	return viewmodel.Mix(d.role(viewmodel.Shade), d.role(viewmodel.Ink), 0.45)
}

// lobe draws the lobe under a seat's roller, which stands above the drum's edge.
func (d *drawing) lobe(q *viewmodel.Seat) {
	box := d.scene.Drum.Box
	if h := viewmodel.Lobe(d.set, q.Seat, d.view.DrumDeg) * d.scene.Drum.Lobe; h > 0.5 {
		d.box(d.land(), viewmodel.Rect{X: q.X - q.BandW/2, Y: box.Y - h, W: q.BandW, H: h + d.scene.Heavy}, d.scene.Thin)
	}
}

// wheel draws a toothed wheel from the side.
func (d *drawing) wheel(r viewmodel.Rect, teeth int) {
	d.box(d.role(viewmodel.Shell), r, d.scene.Thin*1.4)
	for i := 1; i < teeth/2; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(teeth))
		w := d.scene.Thin * (0.5 + 1.2*sin)
		d.rect(d.role(viewmodel.Ink), viewmodel.Rect{X: r.X + 1, Y: r.Y + r.H/2*(1-cos) - w/2, W: r.W - 2, H: w})
	}
}

// needle draws the needle of a dial of radius r.
func (d *drawing) needle(c pt, r, angle float64) {
	sin, cos := math.Sincos(angle)
	d.line(d.role(viewmodel.Ink), math.Max(1.4, r*0.085), c.Add(-cos*r*0.18, -sin*r*0.18), c.Add(cos*r*0.78, sin*r*0.78))
	d.disc(d.role(viewmodel.Ink), c.X, c.Y, r*0.13)
}

// valves draws the bores of shut-off and bypass, and the handles of shut-off and taps.
func (d *drawing) valves() {
	q, ink := &d.scene.ShutOff, d.role(viewmodel.Ink)
	turn := d.poise.ShutOff * math.Pi / 2
	d.bore(q, q.Mains+turn, q.Valve+turn)
	sin, cos := math.Sincos(q.Valve + turn)
	d.line(ink, d.scene.Heavy*1.7, q.C, q.C.Add(cos*q.R*1.9, sin*q.R*1.9))
	d.disc(ink, q.C.X, q.C.Y, q.R*0.24)
	for i := range d.scene.Plugs {
		from, to := d.poise.Bore(&d.scene.Plugs[i])
		d.bore(&d.scene.Plugs[i], from, to)
	}
	for _, t := range d.scene.Taps {
		d.line(ink, d.scene.Heavy*1.5, t.C.Add(-t.Len, 0), t.C.Add(t.Len, 0))
		d.disc(ink, t.C.X, t.C.Y, d.scene.Heavy*1.3)
	}
}

// bore draws the bore of a ball or plug between two of its sides.
func (d *drawing) bore(q *viewmodel.Ball, from, to float64) {
	r := q.R * 0.95
	way := []pt{q.C.Add(math.Cos(from)*r, math.Sin(from)*r), q.C, q.C.Add(math.Cos(to)*r, math.Sin(to)*r)}
	d.line(d.role(viewmodel.Ink), q.Bore+2*d.scene.Thin, way...)
	d.line(d.frame.Colour[q.Src], q.Bore, way...)
}

// float draws the safety float on its rod, and the air check's ball.
func (d *drawing) float() {
	k, u, t := &d.scene.Tank, d.scene.Unit, d.scene.Thin
	d.ring(d.role(viewmodel.Paper), k.Check.X, k.Check.Y-k.CheckR*0.6-d.view.Tank.AirCheckLift*k.CheckL, k.CheckR, t*1.3)
	y := k.Floor - d.view.Tank.FloatM*k.PxPerM
	d.line(d.role(viewmodel.Ink), d.scene.Heavy, pt{X: k.FloatX, Y: k.Well.Y + 6*u}, pt{X: k.FloatX, Y: y})
	d.box(d.role(viewmodel.Shell), viewmodel.Rect{X: k.FloatX - k.FloatW/2, Y: y - 8*u, W: k.FloatW, H: 16 * u}, t*1.2)
}
