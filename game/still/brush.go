package still

import (
	"image/color"
	"math"

	"brinebench/game/figure"
	"brinebench/game/ink"
	"brinebench/game/viewmodel"
)

type pt = viewmodel.Pt

// brush is a figure.Brush that inks a sheet.
type brush struct {
	*ink.Sheet
	to   Pen
	pal  *viewmodel.Palette
	thin float64 // of outlines, CSS px

	placed []ink.Pt // scratch of face
}

func (b *brush) face(c figure.Tint, pts ...pt) {
	for _, p := range pts {
		b.placed = append(b.placed, b.to.At(p))
	}
	b.Face(b.placed)
	b.placed = b.placed[:0]
	b.paint(c)
}

func (b *brush) paint(c figure.Tint) {
	level := func(x float32) uint8 { return uint8(x*c[3]*255 + 0.5) }
	b.Paint(color.RGBA{level(c[0]), level(c[1]), level(c[2]), level(1)})
}

// Mesh implements figure.Brush.
func (b *brush) Mesh(m *viewmodel.Mesh, c figure.Tint) { b.face(c, m.Outline()...) }

// Rect implements figure.Brush.
func (b *brush) Rect(x, y, w, h float64, c figure.Tint) {
	b.face(c, pt{X: x, Y: y}, pt{X: x + w, Y: y}, pt{X: x + w, Y: y + h}, pt{X: x, Y: y + h})
}

// Quad implements figure.Brush, from the one colour to the other in a few bands.
func (b *brush) Quad(p, q, r, s viewmodel.Pt, c0, c1 figure.Tint) {
	bands := 6
	if c0 == c1 {
		bands = 1
	}
	between := func(a, z pt, k float64) pt { return a.Add((z.X-a.X)*k, (z.Y-a.Y)*k) }
	for i := range bands {
		from, middle := float64(i)/float64(bands), (float32(i)+0.5)/float32(bands)
		c := c0
		for k := range c {
			c[k] += (c1[k] - c0[k]) * middle
		}
		b.face(c, between(p, s, from), between(q, r, from), r, s) // over what is left, or seams would stay
	}
}

// Line implements figure.Brush.
func (b *brush) Line(p, q viewmodel.Pt, w float64, c figure.Tint) {
	b.Sheet.Line([]ink.Pt{b.to.At(p), b.to.At(q)}, false, float32(w*b.to.Scale))
	b.paint(c)
}

// Disc implements figure.Brush.
func (b *brush) Disc(x, y, r float64, c figure.Tint) {
	const corners = 24
	var pts [corners]pt
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		pts[i] = pt{X: x + r*cos, Y: y + r*sin}
	}
	b.face(c, pts[:]...)
}

// Bead implements figure.Brush; it is too small for shades.
func (b *brush) Bead(x, y, r float64, c figure.Tint) { b.Disc(x, y, 0.92*r, c) }

// Dart implements figure.Brush.
func (b *brush) Dart(at, to viewmodel.Pt, l, w float64, c figure.Tint) {
	p := func(along, across float64) pt { return at.Add(l*along*to.X-w*across*to.Y, l*along*to.Y+w*across*to.X) }
	b.face(c, p(0.48, 0), p(-0.08, 0.45), p(-0.08, 0.1), p(-0.48, 0.1), p(-0.48, -0.1), p(-0.08, -0.1), p(-0.08, -0.45))
}

// Crystal implements figure.Brush.
func (b *brush) Crystal(at viewmodel.Pt, d, turn float64) {
	sin, cos := math.Sincos(turn)
	for _, side := range []float64{d, d - 1.4*b.thin} {
		x, y, role := cos*side, sin*side, viewmodel.InkSoft
		if side < d {
			role = viewmodel.SaltFace
		}
		b.face(figure.Of(b.pal.Role[role], 1), at.Add(x, y), at.Add(-y, x), at.Add(-x, -y), at.Add(y, -x))
	}
}
