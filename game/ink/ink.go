// Package ink draws still pictures into memory: faces and lines with soft edges. For
// what is drawn once and kept it is many times quicker than the graphics card's way,
// which has to make its programs first and draws every face eight times over.
package ink

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"
)

// Pt is a point of a sheet, px.
type Pt struct{ X, Y float32 }

// Sheet is a picture being drawn. Loops are gathered by Face and Line, and become
// colour with Paint or a hole with Erase; together they are one shape.
type Sheet struct {
	*image.RGBA
	area vector.Rasterizer
	mask *image.Alpha // scratch of Erase
	pts  []Pt
	ends []int // of the loops in pts
}

// New returns a clear sheet.
func New(w, h int) *Sheet { return &Sheet{RGBA: image.NewRGBA(image.Rect(0, 0, w, h))} }

// Face adds what the points enclose. Where loops overlap that counts which goes round.
func (s *Sheet) Face(pts []Pt) {
	s.pts = append(s.pts, pts...)
	s.ends = append(s.ends, len(s.pts))
}

// Line adds a line of width w through the points, round at its bends and cut straight at its ends.
func (s *Sheet) Line(pts []Pt, closed bool, w float32) {
	pts = distinct(pts, closed)
	n := len(pts)
	if n < 2 || w <= 0 {
		return
	}
	if closed && n > 2 {
		s.side(pts, w/2, true, true)
		s.end()
		s.side(pts, w/2, true, false)
		s.end()
		return
	}
	s.side(pts, w/2, false, true)
	s.side(pts, w/2, false, false)
	s.end()
}

func (s *Sheet) end() { s.ends = append(s.ends, len(s.pts)) }

// distinct leaves out points that lie where their neighbour does: they have no direction.
func distinct(pts []Pt, closed bool) []Pt {
	same := func(a, b Pt) bool { return math.Abs(float64(a.X-b.X))+math.Abs(float64(a.Y-b.Y)) < 1e-3 }
	kept := make([]Pt, 0, len(pts))
	for _, p := range pts {
		if len(kept) == 0 || !same(kept[len(kept)-1], p) {
			kept = append(kept, p)
		}
	}
	for closed && len(kept) > 1 && same(kept[0], kept[len(kept)-1]) {
		kept = kept[:len(kept)-1]
	}
	return kept
}

// side adds the points r to the left of a line, on the way there or on the way back.
func (s *Sheet) side(pts []Pt, r float32, closed, there bool) {
	n := len(pts)
	at := func(i int) Pt {
		if i = (i + n) % n; there {
			return pts[i]
		}
		return pts[n-1-i]
	}
	for i := range n {
		p := at(i)
		switch {
		case !closed && i == 0:
			s.pts = append(s.pts, offset(p, p, at(1), r))
		case !closed && i == n-1:
			s.pts = append(s.pts, offset(p, at(i-1), p, r))
		default:
			s.bend(at(i-1), p, at(i+1), r)
		}
	}
}

// offset is the point r to the left of p, on a line from a to b.
func offset(p, a, b Pt, r float32) Pt {
	dx, dy := b.X-a.X, b.Y-a.Y
	k := r / float32(math.Sqrt(float64(dx*dx+dy*dy)))
	return Pt{p.X - dy*k, p.Y + dx*k}
}

// bend adds the left side of the line about b: an arc outside a bend, the corner
// inside one, and nothing more than a corner where the line is as good as straight.
func (s *Sheet) bend(a, b, c Pt, r float32) {
	p, q := offset(b, a, b, r), offset(b, b, c, r)
	ux, uy, vx, vy := float64(p.X-b.X), float64(p.Y-b.Y), float64(q.X-b.X), float64(q.Y-b.Y)
	turn := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
	switch {
	case math.Abs(turn) < 0.2:
		s.pts = append(s.pts, p, q)
	case turn > 0: // the line turns to the left: this is the inside
		s.pts = append(s.pts, p, b, q)
	default:
		steps := int(math.Ceil(-turn / (math.Pi / 8)))
		for i := range steps + 1 {
			sin, cos := math.Sincos(turn * float64(i) / float64(steps))
			s.pts = append(s.pts, Pt{b.X + float32(ux*cos-uy*sin), b.Y + float32(ux*sin+uy*cos)})
		}
	}
}

// Paint gives the shape a colour and begins a new one.
func (s *Sheet) Paint(c color.RGBA) {
	if box := s.trace(); !box.Empty() {
		s.area.Draw(s.RGBA, box, image.NewUniform(c), image.Point{})
	}
}

// Erase clears the shape and begins a new one.
func (s *Sheet) Erase() {
	box := s.trace()
	if box.Empty() {
		return
	}
	if s.mask == nil || s.mask.Rect.Dx() < box.Dx() || s.mask.Rect.Dy() < box.Dy() {
		s.mask = image.NewAlpha(s.Rect)
	}
	s.area.Draw(s.mask, image.Rectangle{Max: box.Size()}, image.Opaque, image.Point{})
	for y := range box.Dy() {
		row, mask := s.Pix[s.PixOffset(box.Min.X, box.Min.Y+y):], s.mask.Pix[y*s.mask.Stride:]
		for x := range box.Dx() {
			left := 255 - uint32(mask[x])
			mask[x] = 0
			for i := 4 * x; i < 4*x+4; i++ {
				row[i] = uint8((uint32(row[i])*left + 127) / 255)
			}
		}
	}
}

// trace hands the gathered loops to area and returns the pixels they touch.
func (s *Sheet) trace() image.Rectangle {
	box := bounds(s.pts).Intersect(s.Rect)
	if !box.Empty() {
		s.area.Reset(box.Dx(), box.Dy())
		x, y, from := float32(box.Min.X), float32(box.Min.Y), 0
		for _, end := range s.ends {
			for i, p := range s.pts[from:end] {
				if i == 0 {
					s.area.MoveTo(p.X-x, p.Y-y)
				} else {
					s.area.LineTo(p.X-x, p.Y-y)
				}
			}
			s.area.ClosePath()
			from = end
		}
	}
	s.pts, s.ends = s.pts[:0], s.ends[:0]
	return box
}

func bounds(pts []Pt) image.Rectangle {
	if len(pts) == 0 {
		return image.Rectangle{}
	}
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	floor := func(x float32) int { return int(math.Floor(float64(x))) }
	return image.Rect(floor(lo.X), floor(lo.Y), floor(hi.X)+1, floor(hi.Y)+1)
}
