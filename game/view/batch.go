package view

import (
	"image"
	"image/color"
	"math"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/figure"
	"brinebench/game/ink"
	"brinebench/game/still"
	"brinebench/game/viewmodel"
)

// batch collects triangles for one DrawTriangles call. Its slices are reused. It is a figure.Brush.
type batch struct {
	vs    []ebiten.Vertex
	is    []uint32
	atlas *atlas
	still.Pen
	dst ebiten.FinalScreen
}

// atlas is one image of all that is drawn many times: sprites, each with clear room about
// it for the one triangle that it is drawn with.
type atlas struct {
	img   *ebiten.Image
	discs [4]sprite // from small to large
	beads [2]sprite // a shaded ball, small and large
	dart  sprite    // a flow mark pointing right
	salt  sprite    // a salt crystal, in the theme's colours
	edge  sprite    // the soft edge of a line, which lies to the right of its middle
	white sprite    // a spot without an edge
}

// sprite is where something is in the atlas, texels.
type sprite struct {
	x, y  float32         // its middle
	r     float64         // its radius; half of a side of a crystal
	about [3]viewmodel.Pt // corners, from the middle, of the triangle that it is drawn with
}

// rounded is a sprite of radius r, with the triangle about it and its soft edge.
func rounded(x, y float32, r float64) sprite {
	e := r + 1
	return sprite{x, y, r, [3]viewmodel.Pt{{Y: -2 * e}, {X: math.Sqrt(3) * e, Y: e}, {X: -math.Sqrt(3) * e, Y: e}}}
}

// squared is a sprite of half a side of r, with the triangle about it and its clear border.
func squared(x, y float32, r float64) sprite {
	e := r + 1
	return sprite{x, y, r, [3]viewmodel.Pt{{Y: -3 * e}, {X: 2 * e, Y: e}, {X: -2 * e, Y: e}}}
}

const atlasW, atlasH = 256, 128

// edgeLen is how much of a line the atlas has beside its soft edge, texels.
const edgeLen = 110

func newAtlas() *atlas {
	a := &atlas{
		img:   ebiten.NewImage(atlasW, atlasH),
		white: sprite{x: 3, y: 3},
		discs: [...]sprite{rounded(84, 92, 2), rounded(67, 94, 4), rounded(230, 22, 8), rounded(52, 52, 24)},
		beads: [...]sprite{rounded(103.5, 95.5, 4.5), rounded(190, 26, 10)},
		dart:  sprite{x: 27, y: 104, about: [3]viewmodel.Pt{{X: 27}, {X: -25, Y: -18.6}, {X: -25, Y: 18.6}}},
		salt:  squared(133, 53, 16),
		edge:  sprite{x: 120.5, y: 122.5},
	}
	s := ink.New(atlasW, atlasH)
	s.Face([]ink.Pt{{}, {X: 6}, {X: 6, Y: 6}, {Y: 6}})
	s.Paint(opaque)
	for _, d := range a.discs {
		spot(s, d.x, d.y, float32(d.r), opaque)
	}
	for _, d := range a.beads {
		r := float32(d.r)
		spot(s, d.x, d.y, r, grey(0xb4))
		spot(s, d.x-r*0.05, d.y-r*0.05, r*0.8, grey(0xea))
		spot(s, d.x-r*0.18, d.y-r*0.18, r*0.42, opaque)
	}
	const w, h = dartW - 2, dartH - 2 // the sprite has a clear border
	left, top := a.dart.x-w/2, a.dart.y-h/2
	neck := left + w*0.42
	s.Face([]ink.Pt{{X: left + w, Y: top + h/2}, {X: neck, Y: top + h}, {X: neck, Y: top + h*0.61}, {X: left, Y: top + h*0.61}, {X: left, Y: top + h*0.39}, {X: neck, Y: top + h*0.39}, {X: neck, Y: top}})
	s.Paint(opaque)
	x, y := a.edge.x+0.5, a.edge.y // the first texel of the edge is the last clear one
	s.Face([]ink.Pt{{X: x, Y: y - 3}, {X: x + edgeLen + 4, Y: y - 3}, {X: x + edgeLen + 4, Y: y + 3}, {X: x, Y: y + 3}})
	s.Paint(opaque)
	a.img.WritePixels(s.Pix)
	return a
}

var opaque = grey(0xff)

func grey(v uint8) color.RGBA { return color.RGBA{v, v, v, 0xff} }

// spot paints a disc.
func spot(s *ink.Sheet, x, y, r float32, c color.RGBA) {
	const corners = 64
	var pts [corners]ink.Pt
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		pts[i] = ink.Pt{X: x + r*float32(cos), Y: y + r*float32(sin)}
	}
	s.Face(pts[:])
	s.Paint(c)
}

// dress paints the crystal for a palette; its outline has the width w of a side of 1.
func (a *atlas) dress(pal *viewmodel.Palette, w float64) {
	r := int(a.salt.r)
	in := image.Rect(-r, -r, r, r).Add(image.Pt(int(a.salt.x), int(a.salt.y)))
	a.img.SubImage(in).(*ebiten.Image).Fill(pal.Role[viewmodel.InkSoft])
	a.img.SubImage(in.Inset(max(1, int(w*float64(in.Dx())+0.5)))).(*ebiten.Image).Fill(pal.Role[viewmodel.SaltFace])
}

func (b *batch) reset() { b.vs, b.is = b.vs[:0], b.is[:0] }

// put draws a sprite with one triangle, so that its middle lies at c, and a texel is as
// long as u along its x axis and as v along its y axis.
func (b *batch) put(s *sprite, c, u, v viewmodel.Pt, col figure.Tint) {
	n := len(b.vs)
	b.vs = slices.Grow(b.vs, 3)[:n+3]
	at := ebiten.Vertex{ColorR: col[0] * col[3], ColorG: col[1] * col[3], ColorB: col[2] * col[3], ColorA: col[3]}
	for k := range s.about {
		p := &s.about[k]
		at.DstX, at.DstY = b.X(c.X+p.X*u.X+p.Y*v.X), b.Y(c.Y+p.X*u.Y+p.Y*v.Y)
		at.SrcX, at.SrcY = s.x+float32(p.X), s.y+float32(p.Y)
		b.vs[n+k] = at
	}
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+2)
}

func (b *batch) flat(x, y float64, c figure.Tint) {
	b.vs = append(b.vs, ebiten.Vertex{
		DstX: b.X(x), DstY: b.Y(y), SrcX: b.atlas.white.x, SrcY: b.atlas.white.y,
		ColorR: c[0] * c[3], ColorG: c[1] * c[3], ColorB: c[2] * c[3], ColorA: c[3],
	})
}

// Mesh draws a triangulated face in one colour.
func (b *batch) Mesh(m *viewmodel.Mesh, c figure.Tint) {
	base := uint32(len(b.vs))
	for _, p := range m.V {
		b.flat(p.X, p.Y, c)
	}
	for _, i := range m.I {
		b.is = append(b.is, base+uint32(i))
	}
}

// Quad draws a convex four-sided face; c0 colours the first two corners, c1 the others.
func (b *batch) Quad(p, q, r, s viewmodel.Pt, c0, c1 figure.Tint) {
	n := uint32(len(b.vs))
	b.flat(p.X, p.Y, c0)
	b.flat(q.X, q.Y, c0)
	b.flat(r.X, r.Y, c1)
	b.flat(s.X, s.Y, c1)
	b.is = append(b.is, n, n+1, n+2, n, n+2, n+3)
}

// Rect draws an upright rectangle.
func (b *batch) Rect(x, y, w, h float64, c figure.Tint) {
	b.Quad(viewmodel.Pt{X: x, Y: y}, viewmodel.Pt{X: x + w, Y: y}, viewmodel.Pt{X: x + w, Y: y + h}, viewmodel.Pt{X: x, Y: y + h}, c, c)
}

// Line draws a segment of width w with soft edges.
func (b *batch) Line(p, q viewmodel.Pt, w float64, c figure.Tint) {
	dx, dy := q.X-p.X, q.Y-p.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	half := math.Max(0.5, w*b.Scale/2) + 0.5 // to where it is clear, device px
	nx, ny := -dy/l*half/b.Scale, dx/l*half/b.Scale
	n := len(b.vs)
	b.flat(p.X-nx, p.Y-ny, c)
	b.flat(q.X-nx, q.Y-ny, c)
	b.flat(p.X, p.Y, c)
	b.flat(q.X, q.Y, c)
	b.flat(p.X+nx, p.Y+ny, c)
	b.flat(q.X+nx, q.Y+ny, c)
	edge := &b.atlas.edge
	for k := range b.vs[n:] {
		v := &b.vs[n+k]
		v.SrcX, v.SrcY = edge.x, edge.y
		if k == 2 || k == 3 {
			v.SrcX += float32(math.Min(half, edgeLen))
		}
	}
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+3, i, i+3, i+2, i+2, i+3, i+5, i+2, i+5, i+4)
}

// Disc draws a filled circle.
func (b *batch) Disc(x, y, r float64, c figure.Tint) {
	k := 0
	for k < len(b.atlas.discs)-1 && b.atlas.discs[k].r < r*b.Scale {
		k++
	}
	b.ball(&b.atlas.discs[k], x, y, r, c)
}

// Bead draws a shaded ball.
func (b *batch) Bead(x, y, r float64, c figure.Tint) {
	k := 0
	if 2*r*b.Scale > 12 {
		k = 1
	}
	b.ball(&b.atlas.beads[k], x, y, r, c)
}

// ball draws a round sprite with radius r.
func (b *batch) ball(s *sprite, x, y, r float64, c figure.Tint) {
	k := r / s.r
	b.put(s, viewmodel.Pt{X: x, Y: y}, viewmodel.Pt{X: k}, viewmodel.Pt{Y: k}, c)
}

// The flow mark's sprite with its border, texels.
const dartW, dartH = 50, 22

// Dart draws a flow mark of length l and width w, pointing along the unit vector d.
func (b *batch) Dart(c, d viewmodel.Pt, l, w float64, col figure.Tint) {
	l, w = l/dartW, w/dartH
	b.put(&b.atlas.dart, c, viewmodel.Pt{X: d.X * l, Y: d.Y * l}, viewmodel.Pt{X: -d.Y * w, Y: d.X * w}, col)
}

// Crystal draws a salt crystal of half diagonal d about c, turned by a.
func (b *batch) Crystal(c viewmodel.Pt, d, a float64) {
	salt := &b.atlas.salt
	sin, cos := math.Sincos(a - math.Pi/4)
	k := d / math.Sqrt2 / (salt.r + 1) // with its clear border
	b.put(salt, c, viewmodel.Pt{X: k * cos, Y: k * sin}, viewmodel.Pt{X: -k * sin, Y: k * cos}, figure.Tint{1, 1, 1, 0.95})
}

// triOptions do without mipmaps: faces of one colour, of which every batch has some, keep
// Ebitengine from using them, and it looks at every triangle to find that out.
var triOptions = ebiten.DrawTrianglesOptions{Filter: ebiten.FilterLinear, ColorScaleMode: ebiten.ColorScaleModePremultipliedAlpha, DisableMipmaps: true}

func (b *batch) draw() {
	if len(b.is) > 0 {
		b.dst.DrawTriangles32(b.vs, b.is, b.atlas.img, &triOptions)
	}
	b.reset()
}
