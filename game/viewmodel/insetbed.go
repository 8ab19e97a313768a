package viewmodel

import "math"

// insetRiser shows the head of the riser tube in the valve's bore.
func (b *builder) insetRiser(r Rect) {
	c := &b.opt.Inside.Condition
	mid, half, wall := r.X+r.W/2, math.Min(r.W*0.13, r.H*0.24), math.Min(8, r.W*0.04)
	cup := r.Y + r.H*0.5
	for _, k := range []float64{-1, 1} { // the valve's bore
		in, out := mid+k*(half+wall+6), mid+k*math.Min(r.W/2, half*2.6)
		b.block([]Pt{{in, r.Y}, {out, r.Y}, {out, cup}, {in, cup}})
	}
	head := r.Y + r.H*0.12
	for _, k := range []float64{-1, 1} {
		in, out := mid+k*half, mid+k*(half+wall)
		b.block([]Pt{{in, head}, {out, head}, {out, r.Y + r.H}, {in, r.Y + r.H}})
		seal := Pt{mid + k*(half+wall+3), r.Y + r.H*0.32}
		torn := c.RiserSealCv > 0 && (k > 0 || c.RiserSealCv > 1)
		switch {
		case torn:
			b.fill(InkSoft, arc(seal, 4.6, math.Pi*0.2, math.Pi*1.25))
			b.crack(seal.Add(-4, -9), seal.Add(4, 9))
			b.arrow(Wrong, seal.Add(k*1, 26), seal.Add(k*1, 12))
		default:
			b.fill(InkSoft, circle(seal, 5))
			b.outline(circle(seal, 5), b.s.Thin)
		}
	}
	if c.RiserCrackCv > 0 {
		long := r.H * (0.16 + 0.24*clamp(c.RiserCrackCv/2.5, 0, 1))
		x := mid + half + wall/2
		b.crack(Pt{x, cup + r.H*0.04}, Pt{x + 2, cup + r.H*0.04 + long})
		for i := range 3 {
			b.top(Shell, circle(Pt{x + 9 + 7*Scatter(i, 151), cup + r.H*0.08 + long*float64(i)/3}, 3), b.s.Thin)
		}
	}
	size := b.opt.small(b.s)
	left := func(t string, y float64) {
		if w := b.opt.Measure(t, size, false); mid-half-wall-10-w >= r.X {
			b.note(t, mid-half-wall-10-w/2, y)
		}
	}
	left("riser", r.Y+r.H*0.8)
}

// insetDistributor shows the slotted basket; grit fills the slots that are packed, and
// beads stand in one whose rib is broken.
func (b *builder) insetDistributor(r Rect) {
	c := &b.opt.Inside.Condition
	box := Rect{r.X + r.W*0.06, r.Y + r.H*0.3, r.W * 0.88, r.H * 0.6}
	neck := Rect{r.X + r.W*0.42, r.Y, r.W * 0.16, r.H * 0.32}
	b.top(Shell, neck.corners(), b.s.Heavy)
	b.top(Shell, roundRect(box, 8), b.s.Heavy)
	n := int(box.W / 13)
	for row := range 2 {
		for i := range n {
			s := Rect{box.X + box.W*(float64(i)+0.3)/float64(n), box.Y + box.H*(0.12+0.42*float64(row)), math.Max(4, box.W/float64(n)*0.42), box.H * 0.34}
			b.slot(s, row*n+i, c.LowerDistOpen)
		}
	}
	if c.LowerDistGap > 0 {
		b.brokenRib(box, n)
	}
}

// slot is the k-th of a basket of whose slots a share is open; grit packs the others.
func (b *builder) slot(s Rect, k int, open float64) {
	b.fill(Paper, s.corners())
	if Scatter(k, 33) > open {
		b.fill(Grit, s.corners())
		for j := range 3 {
			b.lump(Grit, Pt{s.X + s.W*0.5, s.Y + s.H*(0.2+0.3*float64(j))}, s.W*0.75, 160+k+j)
		}
	}
	b.outline(s.corners(), b.s.Thin)
}

// brokenRib is the hole that the rib between two of the n slots of a row leaves, with
// beads on their way in.
func (b *builder) brokenRib(box Rect, n int) {
	k := float64(n / 2)
	pitch := box.W / float64(n)
	hole := Rect{box.X + pitch*(k+0.3), box.Y + box.H*0.12, pitch * 1.42, box.H * 0.34}
	b.fill(Paper, hole.corners())
	for i := range 5 {
		at := Pt{hole.X + hole.W*(0.15+0.7*Scatter(i, 181)), hole.Y + hole.H*(float64(i)+0.5)/5}
		b.top(Shell, circle(at, math.Max(2.2, pitch*0.17)), b.s.Thin)
	}
	left, right := hole.X, hole.X+hole.W
	b.crack(Pt{left, hole.Y}, Pt{left + 2, hole.Y + hole.H})
	b.crack(Pt{right, hole.Y}, Pt{right - 2, hole.Y + hole.H})
	b.arrow(Wrong, Pt{hole.X + hole.W/2, box.Y - 16}, Pt{hole.X + hole.W/2, hole.Y + 4})
}

// insetBed shows the top of the resin in the tank, its beads enlarged, against the
// depth it should have.
func (b *builder) insetBed(r Rect) {
	c := &b.opt.Inside.Condition
	size := b.opt.small(b.s)
	w := math.Min(r.W*0.7, r.H*1.5)
	box := Rect{r.X, r.Y, w, r.H}
	full := box.Y + box.H*0.18
	top := full + (box.Y+box.H-full)*clamp(c.BedLost, 0, 1)
	b.beads(box, top)
	b.ink(b.s.Heavy, Ink, []Pt{{box.X, box.Y}, {box.X, box.Y + box.H}})
	b.ink(b.s.Heavy, Ink, []Pt{{box.X + w, box.Y}, {box.X + w, box.Y + box.H}})
	mark := "proper depth"
	if b.opt.Measure(mark, size, false) > r.W-w-12 {
		mark = "depth"
	}
	b.ink(b.s.Heavy, Ink, []Pt{{box.X + w, full}, {box.X + w + 8, full}})
	if tw := b.opt.Measure(mark, size, false); box.X+w+11+tw <= r.X+r.W {
		b.note(mark, box.X+w+11+tw/2, full)
	}
	if c.BedLost > 0.01 {
		b.arrow(Wrong, Pt{box.X + w + 5, full + 2}, Pt{box.X + w + 5, top})
		b.dashes(Wrong, Pt{box.X, full}, Pt{box.X + w, full})
	}
}

// beads packs beads into box below top: rusty, soft and furrowed as they are.
func (b *builder) beads(box Rect, top float64) {
	c := &b.opt.Inside.Condition
	pitch := math.Max(11, box.W/16)
	rad := pitch * 0.47
	cut := clamp(c.BedCut, 0, 1)
	furrow := 0.0 // half width of the channel
	if c.BedChannel > 0.005 {
		furrow = pitch * (0.8 + 4*c.BedChannel)
	}
	mid := box.X + box.W*0.58
	for row := 0; ; row++ {
		y := box.Y + box.H - rad - 1 - float64(row)*pitch*0.87
		if y-rad < top {
			break
		}
		for k := 0; ; k++ {
			x := box.X + rad + 2 + (float64(k)+0.5*float64(row%2))*pitch
			if x+rad > box.X+box.W-1 {
				break
			}
			i := row*64 + k
			if furrow > 0 && math.Abs(x-mid-pitch*math.Sin(float64(row))) < furrow*(0.35+0.65*(box.Y+box.H-y)/(box.Y+box.H-top)) {
				continue
			}
			b.beadInset(Pt{x, y}, rad, i, cut, c.BedRust)
		}
	}
	if furrow > 0 {
		b.arrow(Wrong, Pt{mid, math.Max(box.Y+2, top-14)}, Pt{mid, top + (box.Y+box.H-top)*0.6})
	}
}

func (b *builder) beadInset(p Pt, rad float64, i int, cut, rust float64) {
	role := Shell
	if Scatter(i, 171) < rust/0.45*0.9 {
		role = Grit
	}
	if Scatter(i, 173) >= cut {
		b.top(role, circle(p, rad), b.s.Thin)
		return
	}
	const n = 10 // soft and swollen: pressed out of round by its neighbours
	pts := make([]Pt, n)
	for k := range pts {
		si, co := math.Sincos(2 * math.Pi * float64(k) / n)
		g := rad * (0.94 + 0.16*Scatter(i*n+k, 175))
		pts[k] = p.Add(g*co, g*0.9*si)
	}
	b.fill(role, pts)
	b.over(Op{Kind: OpStroke, Role: Wrong, Width: b.s.Thin, Closed: true, Pts: pts})
}

// insetUpperDistributor shows the slotted basket in the tank's neck, the riser
// through it; grit fills the slots that are packed.
func (b *builder) insetUpperDistributor(r Rect) {
	mid, neck := r.X+r.W/2, math.Min(r.W*0.3, r.H*0.55)
	for _, k := range []float64{-1, 1} { // neck and shoulder of the tank
		in, out := mid+k*neck, mid+k*math.Min(r.W/2, neck*1.5)
		b.block([]Pt{{in, r.Y}, {out, r.Y}, {out, r.Y + r.H*0.3}, {mid + k*r.W/2, r.Y + r.H*0.62}, {mid + k*r.W/2, r.Y + r.H*0.74}, {in, r.Y + r.H*0.44}})
	}
	tube := neck * 0.34
	basket := Rect{mid - neck*0.94, r.Y + r.H*0.2, neck * 1.88, r.H * 0.56}
	b.top(Shell, roundRect(basket, 8), b.s.Heavy)
	n := max(3, int(basket.W/11))
	for i := range n {
		s := Rect{basket.X + basket.W*(float64(i)+0.3)/float64(n), basket.Y + basket.H*0.16, math.Max(3, basket.W/float64(n)*0.4), basket.H * 0.68}
		b.slot(s, i, b.opt.Inside.Condition.UpperDistOpen)
	}
	b.fill(Paper, Rect{mid - tube, r.Y, 2 * tube, r.H}.corners())
	for _, k := range []float64{-1, 1} {
		x := mid + k*tube
		b.block([]Pt{{x, r.Y}, {x + k*6, r.Y}, {x + k*6, r.Y + r.H}, {x, r.Y + r.H}})
	}
}
