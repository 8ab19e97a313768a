package figure

import (
	"image/color"
	"math"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// Passages fills the passages of the valve, the pipes and the tank's ends with water.
func (f *Figure) Passages() {
	for i := range f.Scene.Waters {
		w := &f.Scene.Waters[i]
		f.Mesh(&w.Mesh, Of(f.Frame.Colour[w.Src], 1))
	}
}

// Above fills the layers of the water above the bed; the dome's mesh is the uppermost.
func (f *Figure) Above() {
	for i := 1; i < sim.BedLayers; i++ {
		f.slice(f.Frame.LayerTop(f.Scene, i), f.Frame.LayerTop(f.Scene, i+1), f.Frame.Colour[viewmodel.SrcFreeboard+viewmodel.Src(i)])
	}
}

// Cells fills the bed's cells with their water.
func (f *Figure) Cells() {
	h := (f.Scene.Bed.Floor - f.Frame.BedTop) / sim.BedCells
	for i := range sim.BedCells {
		y := f.Frame.BedTop + float64(i)*h
		f.slice(y, y+h+0.5, f.Frame.Water[i])
	}
}

// slice fills the tank between two heights, on both sides of the riser.
func (f *Figure) slice(y, y1 float64, water color.RGBA) {
	bed := &f.Scene.Bed
	left, right := bed.RiserX-bed.RiserW/2, bed.RiserX+bed.RiserW/2
	w, w1 := f.Scene.HalfWidth(y), f.Scene.HalfWidth(y1)
	c := Of(water, 1)
	f.Quad(pt{X: bed.RiserX - w, Y: y}, pt{X: left, Y: y}, pt{X: left, Y: y1}, pt{X: bed.RiserX - w1, Y: y1}, c, c)
	f.Quad(pt{X: right, Y: y}, pt{X: bed.RiserX + w, Y: y}, pt{X: bed.RiserX + w1, Y: y1}, pt{X: right, Y: y1}, c, c)
}

// Beads draws the resin; what the unit has lost of it is left out.
func (f *Figure) Beads() {
	bed, fr := &f.Scene.Bed, f.Frame
	left, right := bed.RiserX-bed.RiserW/2, bed.RiserX+bed.RiserW/2
	x0, x1, r := bed.Box.X, bed.Box.X+bed.Box.W, bed.BeadR
	for i, p := range bed.Beads {
		if p.Y > fr.Share {
			continue
		}
		at := p.Y / fr.Share
		x, y := f.churned(i, x0+r+p.X*(bed.Box.W-2*r), bed.Floor-at*(bed.Floor-fr.BedTop))
		x = min(max(x, x0+r), x1-r)
		if x+r > left && x-r < right || !f.Scene.InTank(x, y) {
			continue
		}
		cell := min(max(int((1-at)*sim.BedCells), 0), sim.BedCells-1)
		c := viewmodel.Mix(fr.Bead[cell], fr.OnBead[cell], 0.06+0.22*viewmodel.Scatter(i, 3))
		f.Bead(x, min(y, bed.Floor-r), r, Of(c, 1))
	}
}

// churned moves a bead of a lifted bed about its place.
func (f *Figure) churned(i int, x, y float64) (float64, float64) {
	k := math.Min(1, f.Frame.Lift*3)
	if k < 0.02 {
		return x, y
	}
	a := f.Churn*(0.6+0.8*viewmodel.Scatter(i, 5)) + 6.28*viewmodel.Scatter(i, 6)
	r := f.Scene.Bed.BeadR * 1.6 * k
	return x + r*math.Sin(a), y + r*math.Cos(a*1.3)
}

// Level is the height of the liquid in the brine tank, CSS px.
func (f *Figure) Level() float64 {
	k := &f.Scene.Tank
	return k.Floor - math.Min(f.View.Tank.LevelM*k.PxPerM, k.Box.H)
}

// Liquid fills the brine tank with liquid and salt.
func (f *Figure) Liquid() {
	k, level := &f.Scene.Tank, f.Level()
	f.Rect(k.Box.X, level, k.Box.W, k.Floor-level, Of(f.Pal.Liquid, 1))
	f.salt()
}

// Surface draws the line of the liquid's surface.
func (f *Figure) Surface() {
	k, level := &f.Scene.Tank, f.Level()
	f.Line(pt{X: k.Box.X, Y: level}, pt{X: k.Box.X + k.Box.W, Y: level}, f.Scene.Thin*1.3, f.ink())
}

// salt draws the loose salt and what hangs above it as crystals.
func (f *Figure) salt() {
	k, t := &f.Scene.Tank, &f.View.Tank
	if f.Scene.Bridged(f.View) {
		f.crystals(f.high(t.SaltTopM), f.high(t.SaltBottomM))
	}
	if loose := f.looseM(); loose > 0 {
		f.crystals(f.high(loose), k.Floor)
	}
}

// high is the height of the picture that is m above the brine tank's floor.
func (f *Figure) high(m float64) float64 { return f.Scene.Tank.Floor - m*f.Scene.Tank.PxPerM }

// looseM is how high salt is drawn from the floor on, m.
func (f *Figure) looseM() float64 {
	t := &f.View.Tank
	if f.Scene.Bridged(f.View) {
		return t.LooseSaltTopM
	}
	return max(t.LooseSaltTopM, t.SaltTopM) // one heap, though each of the two is eased by itself
}

// Heap is where the salt on the floor is drawn.
func (f *Figure) Heap() viewmodel.Rect {
	return f.Scene.Tank.Salt(f.Scene.Unit, f.high(f.looseM()), f.Scene.Tank.Floor)
}

func (f *Figure) crystals(top, bottom float64) {
	k, u := &f.Scene.Tank, f.Scene.Unit
	heap := k.Salt(u, top, bottom)
	f.Rect(heap.X, heap.Y, heap.W, heap.H, Of(f.Pal.Role[viewmodel.SaltFace], 0.5))
	for c := range k.Crystals(u, top, bottom) {
		f.Crystal(c.C, c.D, c.A)
	}
}
