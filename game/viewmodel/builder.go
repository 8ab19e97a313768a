package viewmodel

import (
	"math"

	"brinebench/sim"
)

// cavity is a passage cut into a body or enclosed by a pipe wall.
type cavity struct {
	pts  []Pt
	w    float64 // width of a line, 0 for a polygon; CSS px
	wall float64 // CSS px
}

// builder collects a scene. Its methods take drawing units; (ox, oy) and u take
// them to CSS px.
type builder struct {
	s      *Scene
	set    *sim.Setup
	opt    Options
	u      float64
	ox, oy float64
	cav    []cavity
	labels []label
	solid  []Rect // what letterings keep off, CSS px
	moving []Rect // what the pressures' numbers keep off, CSS px
	spots  []spot // where they can stand
}

func (b *builder) p(x, y float64) Pt { return Pt{b.ox + x*b.u, b.oy + y*b.u} }

func (b *builder) rect(x, y, w, h float64) Rect {
	p := b.p(x, y)
	return Rect{p.X, p.Y, w * b.u, h * b.u}
}

// line turns x, y pairs into points.
func (b *builder) line(xy ...float64) []Pt {
	pts := make([]Pt, len(xy)/2)
	for i := range pts {
		pts[i] = b.p(xy[2*i], xy[2*i+1])
	}
	return pts
}

func (b *builder) under(op Op) { b.s.Under = append(b.s.Under, op) }
func (b *builder) over(op Op)  { b.s.Over = append(b.s.Over, op) }

// face fills a closed shape below the water and outlines it above.
func (b *builder) face(role Role, pts []Pt) {
	b.under(Op{Kind: OpFill, Role: role, Pts: pts})
	b.outline(pts, b.s.Heavy)
}

func (b *builder) outline(pts []Pt, w float64) {
	b.over(Op{Kind: OpStroke, Role: Ink, Width: w, Closed: true, Pts: pts})
}

// top fills and outlines a closed shape above the water.
func (b *builder) top(role Role, pts []Pt, w float64) {
	b.over(Op{Kind: OpFill, Role: role, Pts: pts})
	b.outline(pts, w)
}

func (b *builder) ink(w float64, role Role, pts []Pt) {
	b.over(Op{Kind: OpStroke, Role: role, Width: w, Pts: pts})
}

// cut is a body in section: filled, hatched and outlined.
func (b *builder) cut(pts []Pt, rising bool) {
	b.face(Cut, pts)
	b.hatchUnder([][]Pt{pts}, rising)
}

func (b *builder) hatchUnder(rings [][]Pt, rising bool) {
	b.hatchFine(rings, math.Max(4.5, 7*b.u), rising)
}

// hatchFine hatches with lines gap CSS px apart.
func (b *builder) hatchFine(rings [][]Pt, gap float64, rising bool) {
	segs := hatch(rings, gap, rising)
	pts := make([]Pt, 0, 2*len(segs))
	for _, s := range segs {
		pts = append(pts, s[0], s[1])
	}
	b.under(Op{Kind: OpLines, Role: Hatch, Width: b.s.Thin, Pts: pts})
}

// channel is a passage of width w along a line, with water from src.
func (b *builder) channel(src Src, w float64, xy ...float64) {
	b.passage(src, w, 0, fillet(b.line(xy...), w*b.u*1.1))
}

// pipe is a passage with a wall of its own.
func (b *builder) pipe(src Src, w, wall float64, xy ...float64) {
	pts := fillet(b.line(xy...), w*b.u*1.3)
	b.under(Op{Kind: OpStroke, Role: Shell, Width: (w + 2*wall) * b.u, Pts: pts})
	b.passage(src, w, wall*b.u, pts)
}

func (b *builder) passage(src Src, w, wall float64, pts []Pt) {
	b.s.Waters = append(b.s.Waters, Water{ribbon(pts, w*b.u), src})
	b.cav = append(b.cav, cavity{pts, w * b.u, wall})
}

// pool is a convex hollow with water from src.
func (b *builder) pool(src Src, xy ...float64) {
	pts := b.line(xy...)
	b.s.Waters = append(b.s.Waters, Water{fan(pts), src})
	b.cav = append(b.cav, cavity{pts: pts})
}

func (b *builder) box(src Src, x, y, w, h float64) {
	b.pool(src, x, y, x+w, y, x+w, y+h, x, y+h)
}

// flush outlines the union of the passages collected since the last flush:
// wide ink first, then the insides are cleared again.
func (b *builder) flush() {
	ink := 2 * b.s.Thin * 1.25
	for _, c := range b.cav {
		if c.wall > 0 {
			b.ink(c.w+2*c.wall+2*b.s.Heavy, Ink, c.pts)
		}
	}
	for _, c := range b.cav {
		if c.wall > 0 {
			b.over(Op{Kind: OpEraseStroke, Width: c.w + 2*c.wall, Pts: c.pts})
		}
	}
	for _, c := range b.cav {
		if c.w > 0 {
			b.ink(c.w+ink, Ink, c.pts)
		} else {
			b.over(Op{Kind: OpStroke, Role: Ink, Width: ink, Closed: true, Pts: c.pts})
		}
	}
	for _, c := range b.cav {
		if c.w > 0 {
			b.over(Op{Kind: OpEraseStroke, Width: c.w, Pts: c.pts})
		} else {
			b.over(Op{Kind: OpErase, Pts: c.pts})
		}
	}
	b.cav = b.cav[:0]
}

// flow adds a stream of a passage with true bore boreMM.
func (b *builder) flow(src Src, boreMM, w float64, terms []Term, xy ...float64) *Stream {
	pts := fillet(b.line(xy...), w*b.u*1.1)
	st := Stream{
		Pts: pts, At: make([]float64, len(pts)), Width: w * b.u * 0.8, Terms: terms,
		AreaM2: math.Pi / 4 * boreMM * boreMM * 1e-6, Src: src, Gap: MarkGap,
	}
	for i := 1; i < len(pts); i++ {
		st.At[i] = st.At[i-1] + dist(pts[i-1], pts[i])
	}
	st.Len = st.At[len(pts)-1]
	b.s.Streams = append(b.s.Streams, st)
	return &b.s.Streams[len(b.s.Streams)-1]
}

// hit makes a region that selects part; the largest region of a part is its box.
func (b *builder) hit(part sim.Part, x, y, w, h float64) {
	b.s.Hits = append(b.s.Hits, Hit{part, b.rect(x, y, w, h).atLeast(HitMin)})
}

// keep makes letterings stay off a region.
func (b *builder) keep(x, y, w, h float64) { b.solid = append(b.solid, b.rect(x, y, w, h)) }

// clear makes the numbers of pressures stay off what moves.
func (b *builder) clear(x, y, w, h float64) { b.moving = append(b.moving, b.rect(x, y, w, h)) }

func of(p sim.Path) []Term { return []Term{{p, 1}} }

func less(p sim.Path, q ...sim.Path) []Term {
	t := []Term{{p, 1}}
	for _, x := range q {
		t = append(t, Term{x, -1})
	}
	return t
}
