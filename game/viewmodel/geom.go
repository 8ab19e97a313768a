package viewmodel

import "math"

// Pt is a point of the picture in CSS px, y downwards.
type Pt struct{ X, Y float64 }

// Add returns p moved by x, y.
func (p Pt) Add(x, y float64) Pt { return Pt{p.X + x, p.Y + y} }

// Rect is an upright rectangle in CSS px.
type Rect struct{ X, Y, W, H float64 }

// Contains tells whether p lies in r.
func (r Rect) Contains(p Pt) bool {
	return p.X >= r.X && p.X < r.X+r.W && p.Y >= r.Y && p.Y < r.Y+r.H
}

// Overlaps tells whether r and q share area.
func (r Rect) Overlaps(q Rect) bool {
	return r.X < q.X+q.W && q.X < r.X+r.W && r.Y < q.Y+q.H && q.Y < r.Y+r.H
}

// Centre returns the middle of r.
func (r Rect) Centre() Pt { return Pt{r.X + r.W/2, r.Y + r.H/2} }

// Inset returns r with d taken off every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// with is the smallest rectangle that holds both.
func (r Rect) with(q Rect) Rect {
	x, y := math.Min(r.X, q.X), math.Min(r.Y, q.Y)
	return Rect{x, y, math.Max(r.X+r.W, q.X+q.W) - x, math.Max(r.Y+r.H, q.Y+q.H) - y}
}

// atLeast returns r grown about its centre to at least s each way.
func (r Rect) atLeast(s float64) Rect {
	if r.W < s {
		r.X, r.W = r.X-(s-r.W)/2, s
	}
	if r.H < s {
		r.Y, r.H = r.Y-(s-r.H)/2, s
	}
	return r
}

func (r Rect) corners() []Pt {
	return []Pt{{r.X, r.Y}, {r.X + r.W, r.Y}, {r.X + r.W, r.Y + r.H}, {r.X, r.Y + r.H}}
}

func clamp(x, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, x)) }

func lerp(a, b Pt, t float64) Pt { return Pt{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }

func dist(a, b Pt) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// arc returns points on a circle from angle a0 to a1 (radians, y downwards).
func arc(c Pt, r, a0, a1 float64) []Pt {
	n := max(2, int(math.Abs(a1-a0)/0.2)+1)
	pts := make([]Pt, n+1)
	for i := range pts {
		a := a0 + (a1-a0)*float64(i)/float64(n)
		pts[i] = c.Add(r*math.Cos(a), r*math.Sin(a))
	}
	return pts
}

func circle(c Pt, r float64) []Pt { return arc(c, r, 0, 2*math.Pi) }

// roundRect returns the outline of r with corners of radius q.
func roundRect(r Rect, q float64) []Pt {
	q = math.Min(q, math.Min(r.W, r.H)/2)
	var pts []Pt
	pts = append(pts, arc(Pt{r.X + q, r.Y + q}, q, math.Pi, 1.5*math.Pi)...)
	pts = append(pts, arc(Pt{r.X + r.W - q, r.Y + q}, q, 1.5*math.Pi, 2*math.Pi)...)
	pts = append(pts, arc(Pt{r.X + r.W - q, r.Y + r.H - q}, q, 0, 0.5*math.Pi)...)
	return append(pts, arc(Pt{r.X + q, r.Y + r.H - q}, q, 0.5*math.Pi, math.Pi)...)
}

// fillet rounds the corners of an open polyline with radius r.
func fillet(pts []Pt, r float64) []Pt {
	if len(pts) < 3 || r <= 0 {
		return pts
	}
	out := []Pt{pts[0]}
	for i := 1; i < len(pts)-1; i++ {
		a, b, c := pts[i-1], pts[i], pts[i+1]
		d := math.Min(r, math.Min(dist(a, b), dist(b, c))*0.48)
		p, q := lerp(b, a, d/dist(a, b)), lerp(b, c, d/dist(b, c))
		for k := 0; k <= 6; k++ { // quadratic curve with the corner as control point
			t := float64(k) / 6
			out = append(out, lerp(lerp(p, b, t), lerp(b, q, t), t))
		}
	}
	return append(out, pts[len(pts)-1])
}

// Mesh is a triangulated face.
type Mesh struct {
	V []Pt
	I []uint16 // triples of indices into V
}

// ribbon triangulates a polyline of width w with butt ends.
func ribbon(pts []Pt, w float64) Mesh {
	var m Mesh
	for i, p := range pts {
		n := normalAt(pts, i)
		m.V = append(m.V, p.Add(n.X*w/2, n.Y*w/2), p.Add(-n.X*w/2, -n.Y*w/2))
		if i > 0 {
			k := uint16(2 * i)
			m.I = append(m.I, k-2, k-1, k, k-1, k+1, k)
		}
	}
	return m
}

// normalAt returns the mitred normal of a polyline at point i.
func normalAt(pts []Pt, i int) Pt {
	a, b := pts[max(i-1, 0)], pts[min(i+1, len(pts)-1)]
	l := dist(a, b)
	if l == 0 {
		return Pt{0, 1}
	}
	n := Pt{-(b.Y - a.Y) / l, (b.X - a.X) / l}
	if i > 0 && i < len(pts)-1 { // lengthen so that the edge keeps its distance
		p := pts[i-1]
		if s := dist(p, pts[i]); s > 0 {
			e := Pt{-(pts[i].Y - p.Y) / s, (pts[i].X - p.X) / s}
			k := 1 / math.Max(0.5, n.X*e.X+n.Y*e.Y)
			n = Pt{n.X * k, n.Y * k}
		}
	}
	return n
}

// fan triangulates a convex polygon.
func fan(poly []Pt) Mesh {
	m := Mesh{V: poly}
	for i := 2; i < len(poly); i++ {
		m.I = append(m.I, 0, uint16(i-1), uint16(i))
	}
	return m
}

// Outline returns the edge of the face, all the way round.
func (m *Mesh) Outline() []Pt {
	if len(m.I) > 3 && m.I[3] == 0 { // a fan
		return m.V
	}
	n := len(m.V) / 2 // a ribbon: its two sides by turns
	edge := make([]Pt, 0, 2*n)
	for i := range n {
		edge = append(edge, m.V[2*i])
	}
	for i := range n {
		edge = append(edge, m.V[2*(n-i)-1])
	}
	return edge
}

// hatch returns the segments of 45° lines, gap apart, that lie inside the rings
// (even-odd rule). Rising is the direction of the lines.
func hatch(rings [][]Pt, gap float64, rising bool) [][2]Pt {
	s := 1.0
	if !rising {
		s = -1
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, ring := range rings {
		for _, p := range ring {
			c := p.X + s*p.Y
			lo, hi = math.Min(lo, c), math.Max(hi, c)
		}
	}
	var out [][2]Pt
	step := gap * math.Sqrt2
	for c := math.Ceil(lo/step) * step; c < hi; c += step {
		xs := crossings(rings, s, c)
		for i := 0; i+1 < len(xs); i += 2 {
			out = append(out, [2]Pt{{xs[i], s * (c - xs[i])}, {xs[i+1], s * (c - xs[i+1])}})
		}
	}
	return out
}

// crossings returns the sorted x where the line x + s·y = c meets the rings.
func crossings(rings [][]Pt, s, c float64) []float64 {
	var xs []float64
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			fa, fb := a.X+s*a.Y-c, b.X+s*b.Y-c
			if (fa < 0) != (fb < 0) {
				xs = append(xs, a.X+(b.X-a.X)*fa/(fa-fb))
			}
		}
	}
	for i := 1; i < len(xs); i++ {
		for j := i; j > 0 && xs[j] < xs[j-1]; j-- {
			xs[j], xs[j-1] = xs[j-1], xs[j]
		}
	}
	return xs
}

// Scatter is a repeatable spread of numbers in 0..1.
func Scatter(i, salt int) float64 {
	x := uint32(i)*2654435761 + uint32(salt)*40503 + 0x9e3779b9
	x ^= x >> 15
	x *= 2246822519
	x ^= x >> 13
	x *= 3266489917
	x ^= x >> 16
	return float64(x) / float64(1<<32)
}
