package viewmodel

import (
	"iter"
	"math"

	"brinebench/sim"
)

// Crystal is a salt crystal: its middle, half its diagonal, CSS px, and its turn, rad.
type Crystal struct {
	C    Pt
	D, A float64
}

// saltPitch is the distance of salt crystals, drawing units.
const saltPitch = 15

// Salt is the body of salt between two heights of the picture, u CSS px per drawing unit.
func (k *BrineTank) Salt(u, top, bottom float64) Rect {
	y := top + 0.4*saltPitch*u
	return Rect{k.Box.X, y, k.Well.X - 2*u - k.Box.X, math.Max(0, bottom-y)}
}

// Crystals yields the crystals of salt between two heights of the picture.
func (k *BrineTank) Crystals(u, top, bottom float64) iter.Seq[Crystal] {
	return func(yield func(Crystal) bool) {
		pitch := saltPitch * u
		left, right := k.Box.X, k.Well.X-2*u
		cols := int((right - left) / pitch)
		for r := 0; r <= int((k.Floor-top)/(pitch*0.8)); r++ {
			y0 := k.Floor - (float64(r)+0.5)*pitch*0.8
			if y0 > bottom || y0 < top {
				continue
			}
			for c := range cols {
				i := r*64 + c
				x := left + (float64(c)+0.5+0.34*float64(r%2)-0.17+0.3*(Scatter(i, 1)-0.5))*(right-left)/float64(cols)
				y := y0 + pitch*0.3*(Scatter(i, 2)-0.5)
				d := pitch * (0.55 + 0.16*Scatter(i, 4))
				at := Pt{math.Min(math.Max(x, left+d), right-d), math.Min(y, k.Floor-d*0.8)}
				if !yield(Crystal{at, d, Scatter(i, 8) * 1.57}) {
					return
				}
			}
		}
	}
}

// StippleApart is how much room a dot of saturated brine has, in squares of its radius.
const StippleApart = 9.2

// Dot is the radius of a dot of brine, CSS px.
func (s *Scene) Dot() float64 { return math.Max(0.75, 1.05*s.Unit) }

// flakes are n places in the unit square, as those of brine in a passage: by chance.
func flakes(n int) []Pt {
	pts := make([]Pt, n)
	for i := range pts {
		pts[i] = Pt{Scatter(i, 3), Scatter(i, 5)}
	}
	return pts
}

// Bridged tells whether salt is drawn that hangs over a hollow. Veiled it is as it seems
// from above: the hollow is for a rod to find.
func (s *Scene) Bridged(v *sim.View) bool { return v.Tank.SaltBottomM > 0 && !s.Veiled }

// brineTank draws the tank with its left top corner at (x, y) down to floor,
// and the brine line from the valve's brine port at (vx, vy).
func (b *builder) brineTank(x, y, w, floor, vx, vy float64, line []float64) {
	wall := shellW
	wx, ww := x+w-wall-8-38, 38.0 // brine well
	shell := b.line(x, y, x, floor, x+w, floor, x+w, y, x+w-wall, y, x+w-wall, floor-wall, x+wall, floor-wall, x+wall, y)
	b.under(Op{Kind: OpFill, Role: Cut, Pts: shell})
	b.under(Op{Kind: OpFill, Role: Paper, Pts: b.rect(x+wall, y, w-2*wall, floor-wall-y).corners()})
	b.outline(shell, b.s.Heavy)
	b.top(Shell, roundRect(b.rect(x-4, y-7, w+8, 8), 3*b.u), b.s.Heavy)

	base := floor - wall
	pxm := (base - y - 6) / b.set.BrineTankHeightM
	b.brineLine(wx+ww/2, base-b.set.AirCheckM*pxm, line)
	b.s.Tank = BrineTank{
		Box: b.rect(x+wall, y, w-2*wall, base-y), PxPerM: pxm * b.u, Floor: b.p(0, base).Y,
		Well: b.rect(wx, y+10, ww, base-y-10), FloatX: b.p(wx+ww-9, 0).X, FloatW: 13 * b.u,
		Check: b.p(wx+ww/2-4, base-b.set.AirCheckM*pxm), CheckR: 4.5 * b.u, CheckL: 9 * b.u,
	}
	b.s.Tank.Grains = flakes(int(b.s.Tank.Box.W * b.s.Tank.Box.H / (StippleApart * b.s.Dot() * b.s.Dot())))
	b.well(wx, y+10, ww, base)
	b.levelScale(x+wall, base, pxm, y)
	b.number(sim.NodeBrinePickup, wx+ww/2-4, y+70)
	b.hit(sim.PartBrineTank, x, y, w, floor-y)
	b.hit(sim.PartSalt, x+wall, y+40, wx-x-wall-4, base-y-60)
	b.hit(sim.PartAirCheck, wx, base-b.set.AirCheckM*pxm-22, ww, 36)
	b.hit(sim.PartFloat, wx+4, base-b.set.FloatM*pxm-14, ww, 28)
	b.keep(x-5, y-8, w+10, floor-y+10)
	l := x - 8
	float, check := base-b.set.FloatM*pxm, base-b.set.AirCheckM*pxm
	b.label("brine well", "well", 1, l, y+46).or(b, 1, l, y+28).lead(b, wx, y+46)
	b.label("safety float", "float", 1, l, float).or(b, 1, l, float+12).lead(b, wx+ww-14, float)
	b.label("air check", "", 1, l, check-6).lead(b, wx+ww/2-8, check-6)
	salt, none := base-(base-y)*0.22, false
	switch v := b.opt.Inside; {
	case v == nil:
	case b.s.Bridged(v):
		salt = base - (v.Tank.SaltBottomM+0.05)*pxm // above the hollow
	default: // in what there is
		salt, none = math.Max(salt, base-0.6*v.Tank.SaltTopM*pxm), v.Tank.SaltTopM < saltStepM
	}
	if !none {
		b.label("salt", "", 1, l, salt).or(b, 1, l, salt-(base-y)*0.04).or(b, 1, l, salt-(base-y)*0.12).lead(b, x+wall+14, salt)
	}
	b.label("brine tank", "brine", 0.5, x+w/2-20, y-20).or(b, 0, x, y-20)
}

// brineLine draws the tube from the valve to the air check; xy is its way to
// the top of the well.
func (b *builder) brineLine(x, check float64, xy []float64) {
	src := Src(sim.PathBrineLine)
	if b.open(sim.PartBrineLine) {
		xy = b.brineOff(xy)
	}
	pts := append(append([]float64{}, xy...), x-4, check+4)
	b.pipe(src, 7, 1.6, pts...)
	b.flush()
	rev := make([]float64, len(pts)) // draw is positive: from the tank
	for i := 0; i < len(pts); i += 2 {
		rev[i], rev[i+1] = pts[len(pts)-2-i], pts[len(pts)-1-i]
	}
	b.flow(src, 6.3, 7, of(sim.PathBrineLine), rev...)
	b.hitLine(sim.PartBrineLine, xy)
}

// hitLine makes the longest stretch of a line select a part.
func (b *builder) hitLine(part sim.Part, xy []float64) {
	best, k := 0.0, 0
	for i := 0; i+3 < len(xy); i += 2 {
		if l := math.Abs(xy[i+2]-xy[i]) + math.Abs(xy[i+3]-xy[i+1]); l > best {
			best, k = l, i
		}
	}
	x, y := math.Min(xy[k], xy[k+2]), math.Min(xy[k+1], xy[k+3])
	b.hit(part, x, y, math.Abs(xy[k+2]-xy[k]), math.Abs(xy[k+3]-xy[k+1]))
}

// well draws the slotted brine well and the cage of the air check.
func (b *builder) well(x, y, w, base float64) {
	for _, wx := range []float64{x, x + w} {
		b.ink(b.s.Heavy, Ink, b.line(wx, y, wx, base-14))
		for k := 0.0; k < 4; k++ {
			b.ink(b.s.Heavy, Ink, b.line(wx, base-11+3.4*k, wx, base-9.5+3.4*k))
		}
	}
	b.ink(b.s.Thin, Ink, b.line(x-4, y, x+w+4, y))
	c := b.s.Tank.Check
	r, l := b.s.Tank.CheckR, b.s.Tank.CheckL
	cage := []Pt{c.Add(-r*1.7, -l-2*r), c.Add(-r*1.7, 0), c.Add(-r*0.6, r*0.9), c.Add(-r*0.6, r*2.2)}
	b.ink(b.s.Thin*1.4, Ink, cage)
	mirror := make([]Pt, len(cage))
	for i, p := range cage {
		mirror[i] = Pt{2*c.X - p.X, p.Y}
	}
	b.ink(b.s.Thin*1.4, Ink, mirror)
}

// levelScale draws a rule on the tank's wall, a tick per 5 cm or 2 in.
func (b *builder) levelScale(x, base, pxm, top float64) {
	step, long := 0.05, 2
	if !b.opt.SI {
		step, long = 0.0508, 3
	}
	for i := 1; base-float64(i)*step*pxm > top+8; i++ {
		y, l := base-float64(i)*step*pxm, 5.0
		if i%long == 0 {
			l = 9
		}
		b.ink(b.s.Thin, InkSoft, b.line(x, y, x+l, y))
	}
}

// refillControl draws the flow control in the brine line at (x, y).
func (b *builder) refillControl(x, y float64) {
	if b.open(sim.PartRefillCtl) {
		b.refillPocket(x, y)
	} else {
		b.cutTop(b.line(x-8, y-9, x+8, y-9, x+8, y-3, x+2, y-2, x-8, y-4))
		b.cutTop(b.line(x-8, y+9, x+8, y+9, x+8, y+3, x+2, y+2, x-8, y+4))
	}
	b.hit(sim.PartRefillCtl, x-13, y-13, 26, 26)
	b.keep(x-9, y-10, 18, 20)
}
