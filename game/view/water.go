package view

import (
	"math"

	"brinebench/game/figure"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

type pt = viewmodel.Pt

// drawWater draws all that lies below the outlines: water, bed, salt, marks.
func (g *Stage) drawWater() {
	f, s := &g.figure, g.scene
	f.Liquid()
	g.drawBrine()
	f.Surface()
	f.Passages() // the brine line stands in the liquid
	f.Above()
	f.Cells()
	if s.Layers.Exchange {
		g.drawBars()
	} else {
		f.Beads()
		g.drawGrains()
	}
	for i := range s.Jets {
		g.drawJet(i)
	}
	g.crowd = crowdOf(s, g.look.Marks)
	for i := range s.Streams {
		g.drawStipple(i)
		g.drawMarks(i)
		g.drawLost(i)
	}
}

// drawGrains draws the brine stipple in the resin tank.
func (g *Stage) drawGrains() {
	b, f, bed := &g.batch, &g.frame, &g.scene.Bed
	left, right := bed.RiserX-bed.RiserW/2, bed.RiserX+bed.RiserW/2
	n := float64(len(bed.Grains))
	dot := g.scene.Dot()
	for i, p := range bed.Grains {
		x, y := bed.Box.X+p.X*bed.Box.W, bed.Box.Y+p.Y*bed.Box.H
		layer := f.LayerAt(g.scene, y)
		strength, c := f.Brine[layer], f.Mark[layer]
		if y > f.BedTop {
			cell := f.Cell(g.scene, y)
			strength, c = f.Stipple[cell], f.OnBead[cell]
		}
		if float64(i) >= n*density(strength) || x > left-1 && x < right+1 || !g.scene.InTank(x, y) {
			continue
		}
		b.Disc(x, y, dot, figure.Of(c, 0.95))
	}
}

// density is the share of stipple places that brine of a strength 0..1 fills:
// weak brine must show too.
func density(strength float64) float64 { return math.Sqrt(strength) * (0.3 + 0.7*strength) }

// bubble is the radius of air, of a dot of brine's: the two must not be taken for each other.
const bubble = 2.6

// drawBrine draws the brine stipple in the brine tank.
func (g *Stage) drawBrine() {
	b, k := &g.batch, &g.scene.Tank
	level, dot := g.figure.Level(), g.scene.Dot()
	n := float64(len(k.Grains)) * density(g.frame.Brine[viewmodel.SrcTank])
	heap := g.figure.Heap()
	c := figure.Of(g.pal.MarkOn(g.pal.Liquid), 0.9)
	for i, p := range k.Grains {
		if float64(i) >= n {
			break
		}
		x, y := k.Box.X+p.X*k.Box.W, k.Box.Y+p.Y*k.Box.H
		if y > level+1.5 && y < k.Floor-1 && (x > heap.X+heap.W || y < heap.Y) {
			b.Disc(x, y, dot, c)
		}
	}
}

// drawJet draws a free stream with streaks that fall.
func (g *Stage) drawJet(i int) {
	b, f, j := &g.batch, &g.frame, &g.scene.Jets[i]
	w := f.Jet[i]
	if f.Drips[i] {
		g.drawDrops(i)
	}
	if w <= 0 {
		return
	}
	c := f.Colour[j.Src]
	b.Rect(j.Top.X-w/2, j.Top.Y, w, j.Bottom.Y-j.Top.Y, figure.Of(c, 1))
	ink := figure.Of(g.ink(), 1)
	for _, k := range []float64{-1, 1} {
		x := j.Top.X + k*w/2
		b.Line(pt{X: x, Y: j.Top.Y}, pt{X: x, Y: j.Bottom.Y}, g.scene.Thin*0.9, ink)
	}
	const gap = 22
	l := j.Bottom.Y - j.Top.Y
	for s := math.Mod(g.motion.fall[i], gap); s < l-6; s += gap {
		b.Dart(pt{X: j.Top.X, Y: j.Top.Y + s + 3}, pt{Y: 1}, 9, math.Min(4, math.Max(2, w*0.45)), figure.Of(f.Mark[j.Src], 0.9))
	}
}

// drawDrops draws single drops that fall.
func (g *Stage) drawDrops(i int) {
	const gap, size = 34, 2.4
	b, j := &g.batch, &g.scene.Jets[i]
	ink, c := figure.Of(g.ink(), 1), figure.Of(g.frame.Colour[j.Src], 1)
	for s := math.Mod(g.motion.fall[i], gap); s < j.Bottom.Y-j.Top.Y-size; s += gap {
		b.Disc(j.Top.X, j.Top.Y+s+size, size+g.scene.Thin*0.9, ink)
		b.Disc(j.Top.X, j.Top.Y+s+size, size, c)
	}
}

// drawMarks draws the flow marks of a stream; standing water shows faint dots.
func (g *Stage) drawMarks(i int) {
	b, f, st := &g.batch, &g.frame, &g.scene.Streams[i]
	n := max(1, int(st.Len/st.Gap*g.crowd.times+0.5))
	g.crowd.marks += n
	gap := st.Len / float64(n)
	v := viewmodel.MarkSpeed(f.Speed[i], 1)
	phase := math.Mod(g.motion.phase[i], gap)
	if phase < 0 {
		phase += gap
	}
	size := math.Min(1, 0.45+0.55*g.scene.Unit)
	l := (7 + math.Min(8, math.Abs(v)/8)) * size
	leg := 0
	for k := range n {
		s := phase + float64(k)*gap
		for leg+2 < len(st.At) && st.At[leg+1] <= s {
			leg++
		}
		p, d := pointOn(st, leg, s)
		if v == 0 && st.Gap < viewmodel.MarkGap {
			continue // inside a seat only what moves shows
		}
		if v == 0 {
			b.Disc(p.X, p.Y, 1.1*size, figure.Of(f.MarkAt(g.scene, st, p), 0.35))
			continue
		}
		if v < 0 {
			d = pt{X: -d.X, Y: -d.Y}
		}
		alpha := math.Min(1, math.Min(s, st.Len-s)/5+0.15)
		b.Dart(p, d, l, 5*size, figure.Of(f.MarkAt(g.scene, st, p), alpha))
	}
}

// drawStipple draws brine and air along a stream, carried by it.
func (g *Stage) drawStipple(i int) {
	b, f, st := &g.batch, &g.frame, &g.scene.Streams[i]
	brine, air := f.Brine[st.Src], f.Air[st.Src]
	if st.Width == 0 || brine == 0 && air == 0 {
		return
	}
	shift := g.motion.phase[i] / st.Len
	dot := g.scene.Dot()
	n := int(st.Len * st.Width / (dot * dot * viewmodel.StippleApart) * density(brine))
	c := figure.Of(f.Mark[st.Src], 0.9)
	for k := range n {
		p := g.carried(st, k, shift)
		b.Disc(p.X, p.Y, dot, c)
	}
	r := dot * bubble
	n = int(st.Len * st.Width / (r * r * 9) * air)
	for k := range n {
		p := g.carried(st, k, shift)
		g.figure.Ring(p.X, p.Y, r, g.scene.Thin*0.7, figure.Of(g.pal.Dark, 1), figure.Of(g.pal.Air, 1))
	}
}

// drawLost draws beads that a stream carries to the drain.
func (g *Stage) drawLost(i int) {
	st := &g.scene.Streams[i]
	if !st.Beads || !g.frame.Losing {
		return
	}
	shift := g.motion.phase[i] / st.Len
	c := figure.Of(viewmodel.Mix(g.frame.Bead[0], g.frame.Mark[st.Src], 0.6), 1)
	for k := range int(st.Len / (7 * g.scene.Unit)) {
		p := g.carried(st, k, shift)
		g.batch.Bead(p.X, p.Y, g.scene.Bed.BeadR*0.8, c)
	}
}

// carried is the place of grain k of a stream that has moved on by shift lengths.
func (g *Stage) carried(st *viewmodel.Stream, k int, shift float64) pt {
	s := float64(k)*0.61803398875 + shift
	s -= math.Floor(s)
	p, d := pointAt(st, s*st.Len)
	off := (scatter(k, 9) - 0.5) * st.Width
	return pt{X: p.X - d.Y*off, Y: p.Y + d.X*off}
}

// pointAt returns the point s along a stream and the direction there.
func pointAt(st *viewmodel.Stream, s float64) (p, d pt) {
	lo, hi := 0, len(st.At)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; st.At[mid] <= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	return pointOn(st, lo, s)
}

// pointOn is pointAt where it is known between which points that is.
func pointOn(st *viewmodel.Stream, leg int, s float64) (p, d pt) {
	a, z := st.Pts[leg], st.Pts[leg+1]
	l := st.At[leg+1] - st.At[leg]
	if l == 0 {
		return a, pt{X: 1}
	}
	d = pt{X: (z.X - a.X) / l, Y: (z.Y - a.Y) / l}
	t := s - st.At[leg]
	return pt{X: a.X + t*d.X, Y: a.Y + t*d.Y}, d
}

// scatter is a repeatable spread of numbers in 0..1.
func scatter(i, salt int) float64 { return viewmodel.Scatter(i, salt) }

// drawBars draws the bed's cells as bars about the riser: on the left how much of
// what the resin can hold is hardness, on the right the hardness between the beads.
func (g *Stage) drawBars() {
	b, f, bed := &g.batch, &g.frame, &g.scene.Bed
	left, right := bed.RiserX-bed.RiserW/2, bed.RiserX+bed.RiserW/2
	room := bed.Box.W/2 - bed.RiserW/2 - 1
	h := (bed.Floor - f.BedTop) / sim.BedCells
	ink, paper := figure.Of(g.ink(), 1), figure.Of(g.role(viewmodel.Paper), 1)
	b.Rect(bed.Box.X, f.BedTop, bed.Box.W/2-bed.RiserW/2, bed.Floor-f.BedTop, paper)
	b.Rect(right, f.BedTop, bed.Box.W/2-bed.RiserW/2, bed.Floor-f.BedTop, paper)
	faint := figure.Of(g.role(viewmodel.Faint), 1)
	for _, x := range [...]float64{left - room/2, right + room/2} { // half of all
		b.Rect(x, f.BedTop, g.scene.Thin, bed.Floor-f.BedTop, faint)
	}
	t := g.scene.Thin
	for i := range sim.BedCells {
		y := snap(f.BedTop+float64(i)*h, b.Scale)
		part := snap(f.BedTop+float64(i+1)*h, b.Scale) - y - 1/b.Scale // a gap tells cell from cell
		l, r := room*f.Load[i], room*f.Hard[i]
		b.Rect(left-l, y, l, part, figure.Of(viewmodel.Cividis(f.Load[i]), 1))
		b.Rect(left-l-t, y, 1.5*t, part, ink)
		b.Rect(right, y, r, part, figure.Of(viewmodel.Cividis(f.Hard[i]), 1))
		b.Rect(right+r-0.5*t, y, 1.5*t, part, ink)
	}
	b.Rect(bed.Box.X, f.BedTop, bed.Box.W, g.scene.Thin*1.3, ink)
}

// snap brings a length to whole device px.
func snap(x, scale float64) float64 { return round(x*scale) / scale }
