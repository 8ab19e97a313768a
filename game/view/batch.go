package view

import (
	"image"
	"image/color"
	"math"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/ink"
	"brinebench/game/still"
	"brinebench/game/viewmodel"
)

// batch collects triangles for one DrawTriangles call. Its slices are reused.
type batch struct {
	vs    []ebiten.Vertex
	is    []uint32
	atlas *atlas
	still.Pen
	dst ebiten.FinalScreen
}

// atlas is one image with a white spot and discs of several sizes.
type atlas struct {
	img   *ebiten.Image
	discs [4]image.Rectangle
	beads [2]image.Rectangle // a shaded ball, small and large
	dart  [2]float32         // middle of a flow mark pointing right
	salt  image.Rectangle    // a salt crystal, in the theme's colours
	white [2]float32
}

// discSizes are the diameters of the atlas discs in texels.
var discSizes = [4]int{4, 8, 16, 48}

// beadSizes are the diameters of the atlas beads in texels.
var beadSizes = [2]int{9, 20}

func newAtlas() *atlas {
	a := &atlas{img: ebiten.NewImage(192, 64)}
	s := ink.New(192, 64)
	s.Face([]ink.Pt{{}, {X: 6}, {X: 6, Y: 6}, {Y: 6}})
	s.Paint(opaque)
	a.white = [2]float32{3, 3}
	x := 10
	for i, d := range discSizes {
		round := float32(d) / 2
		spot(s, float32(x)+round, 4+round, round, opaque)
		a.discs[i] = image.Rect(x-1, 3, x+d+1, 5+d)
		x += d + 4
	}
	const w, h = dartW - 2, dartH - 2 // the sprite has a clear border
	const top = 10                    // so that there is room about it for the triangle that it is drawn with
	left, neck := float32(x), float32(x)+w*0.42
	s.Face([]ink.Pt{{X: left + w, Y: top + h/2}, {X: neck, Y: top + h}, {X: neck, Y: top + h*0.61}, {X: left, Y: top + h*0.61}, {X: left, Y: top + h*0.39}, {X: neck, Y: top + h*0.39}, {X: neck, Y: top}})
	s.Paint(opaque)
	a.dart = [2]float32{left + w/2, top + h/2}
	for i, d := range beadSizes {
		const bx = 167
		by, r := float32(4+16*i), float32(d)/2
		spot(s, bx+r, by+r, r, grey(0xb4))
		spot(s, bx+r*0.95, by+r*0.95, r*0.8, grey(0xea))
		spot(s, bx+r*0.82, by+r*0.82, r*0.42, opaque)
		a.beads[i] = image.Rect(bx-1, int(by)-1, bx+d+1, int(by)+d+1)
	}
	a.salt = image.Rect(129, 29, 163, 63)
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
	in := a.salt.Inset(1)
	a.img.SubImage(in).(*ebiten.Image).Fill(pal.Role[viewmodel.InkSoft])
	a.img.SubImage(in.Inset(max(1, int(w*float64(in.Dx())+0.5)))).(*ebiten.Image).Fill(pal.Role[viewmodel.SaltFace])
}

func (b *batch) reset() { b.vs, b.is = b.vs[:0], b.is[:0] }

// corners adds the faces of four corners that have the sprite t on them.
func (b *batch) corners(x0, y0, x1, y1, x2, y2, x3, y3 float64, t image.Rectangle, c [4]float32) {
	n := len(b.vs)
	b.vs = slices.Grow(b.vs, 4)[:n+4]
	v := b.vs[n : n+4]
	at := ebiten.Vertex{ColorR: c[0] * c[3], ColorG: c[1] * c[3], ColorB: c[2] * c[3], ColorA: c[3]}
	sx0, sy0, sx1, sy1 := float32(t.Min.X), float32(t.Min.Y), float32(t.Max.X), float32(t.Max.Y)
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(x0), b.Y(y0), sx0, sy0
	v[0] = at
	at.DstX, at.DstY, at.SrcX = b.X(x1), b.Y(y1), sx1
	v[1] = at
	at.DstX, at.DstY, at.SrcY = b.X(x2), b.Y(y2), sy1
	v[2] = at
	at.DstX, at.DstY, at.SrcX = b.X(x3), b.Y(y3), sx0
	v[3] = at
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+2, i, i+2, i+3)
}

func (b *batch) flat(x, y float64, c [4]float32) {
	b.vs = append(b.vs, ebiten.Vertex{
		DstX: b.X(x), DstY: b.Y(y), SrcX: b.atlas.white[0], SrcY: b.atlas.white[1],
		ColorR: c[0] * c[3], ColorG: c[1] * c[3], ColorB: c[2] * c[3], ColorA: c[3],
	})
}

func tint(c color.RGBA, alpha float64) [4]float32 {
	return [4]float32{float32(c.R) / 255, float32(c.G) / 255, float32(c.B) / 255, float32(alpha)}
}

// mesh draws a triangulated face in one colour.
func (b *batch) mesh(m *viewmodel.Mesh, c [4]float32) {
	base := uint32(len(b.vs))
	for _, p := range m.V {
		b.flat(p.X, p.Y, c)
	}
	for _, i := range m.I {
		b.is = append(b.is, base+uint32(i))
	}
}

// quad draws a convex four-sided face; c0 colours the first two corners, c1 the others.
func (b *batch) quad(p, q, r, s viewmodel.Pt, c0, c1 [4]float32) {
	n := uint32(len(b.vs))
	b.flat(p.X, p.Y, c0)
	b.flat(q.X, q.Y, c0)
	b.flat(r.X, r.Y, c1)
	b.flat(s.X, s.Y, c1)
	b.is = append(b.is, n, n+1, n+2, n, n+2, n+3)
}

func (b *batch) rect(x, y, w, h float64, c [4]float32) {
	b.quad(viewmodel.Pt{X: x, Y: y}, viewmodel.Pt{X: x + w, Y: y}, viewmodel.Pt{X: x + w, Y: y + h}, viewmodel.Pt{X: x, Y: y + h}, c, c)
}

// box is a rectangle with an outline of width w inside its edge.
func (b *batch) box(r viewmodel.Rect, w float64, ink, fill [4]float32) {
	b.rect(r.X, r.Y, r.W, r.H, ink)
	b.rect(r.X+w, r.Y+w, r.W-2*w, r.H-2*w, fill)
}

// line draws a segment of width w with soft edges.
func (b *batch) line(p, q viewmodel.Pt, w float64, c [4]float32) {
	dx, dy := q.X-p.X, q.Y-p.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	soft := 1 / b.Scale // one device px
	in := math.Max(0, w/2-soft/2)
	nx, ny := -dy/l, dx/l
	clear := c
	clear[3] = 0
	at := func(t viewmodel.Pt, k float64) viewmodel.Pt { return viewmodel.Pt{X: t.X + nx*k, Y: t.Y + ny*k} }
	b.quad(at(p, -in-soft), at(q, -in-soft), at(q, -in), at(p, -in), clear, c)
	b.quad(at(p, -in), at(q, -in), at(q, in), at(p, in), c, c)
	b.quad(at(p, in), at(q, in), at(q, in+soft), at(p, in+soft), c, clear)
}

// disc draws a filled circle.
func (b *batch) disc(x, y, r float64, c [4]float32) {
	px := 2 * r * b.Scale
	k := 0
	for k < len(discSizes)-1 && float64(discSizes[k]) < px {
		k++
	}
	b.sprite(b.atlas.discs[k], x, y, r, c)
}

// bead draws a shaded ball.
func (b *batch) bead(x, y, r float64, c [4]float32) {
	k := 0
	if 2*r*b.Scale > 12 {
		k = 1
	}
	b.sprite(b.atlas.beads[k], x, y, r, c)
}

// sprite draws a round sprite of the atlas with radius r.
func (b *batch) sprite(t image.Rectangle, x, y, r float64, c [4]float32) {
	r *= float64(t.Dx()) / float64(t.Dx()-2) // the sprite has a clear border
	b.corners(x-r, y-r, x+r, y-r, x+r, y+r, x-r, y+r, t, c)
}

// The flow mark's sprite with its border, and the triangle round it from its middle:
// texels to its tip, to its base, and half its base.
const (
	dartW, dartH                = 50, 22
	dartTip, dartBase, dartHalf = 27.0, 25.0, 18.6
)

// dart draws a flow mark of length l and width w, pointing along the unit vector d. One
// triangle does for it, and marks are most of what a frame has.
func (b *batch) dart(c, d viewmodel.Pt, l, w float64, col [4]float32) {
	ax, ay := d.X*l/dartW, d.Y*l/dartW
	nx, ny := -d.Y*w/dartH*dartHalf, d.X*w/dartH*dartHalf
	n := len(b.vs)
	b.vs = slices.Grow(b.vs, 3)[:n+3]
	v := b.vs[n : n+3]
	at := ebiten.Vertex{ColorR: col[0] * col[3], ColorG: col[1] * col[3], ColorB: col[2] * col[3], ColorA: col[3]}
	x, y := b.atlas.dart[0], b.atlas.dart[1]
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(c.X+dartTip*ax), b.Y(c.Y+dartTip*ay), x+dartTip, y
	v[0] = at
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(c.X-dartBase*ax-nx), b.Y(c.Y-dartBase*ay-ny), x-dartBase, y-dartHalf
	v[1] = at
	at.DstX, at.DstY, at.SrcY = b.X(c.X-dartBase*ax+nx), b.Y(c.Y-dartBase*ay+ny), y+dartHalf
	v[2] = at
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+2)
}

// crystal draws a salt crystal of half diagonal d about p, turned by a.
func (b *batch) crystal(c viewmodel.Pt, d, a float64) {
	sin, cos := math.Sincos(a)
	sin, cos = sin*d, cos*d
	b.corners(c.X+cos, c.Y+sin, c.X-sin, c.Y+cos, c.X-cos, c.Y-sin, c.X+sin, c.Y-cos, b.atlas.salt, [4]float32{1, 1, 1, 0.95})
}

// ring draws a circle with an outline.
func (b *batch) ring(x, y, r, w float64, ink, fill [4]float32) {
	b.disc(x, y, r, ink)
	b.disc(x, y, r-w, fill)
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
