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

// atlas is one image of all that is drawn many times: sprites, each with clear room about
// it for the one triangle that it is drawn with.
type atlas struct {
	img   *ebiten.Image
	discs [len(discSizes)]sprite
	beads [len(beadSizes)]sprite // a shaded ball
	dart  sprite                 // a flow mark pointing right
	salt  sprite                 // a salt crystal, in the theme's colours
	edge  sprite                 // the soft edge of a line, which lies to the right of its middle
	white sprite                 // a spot without an edge
}

// sprite is where something is in the atlas, texels.
type sprite struct {
	x, y float32 // its middle
	r    float64 // its radius; half of a side of a crystal
}

// discSizes are the diameters of the atlas discs in texels.
var discSizes = [...]int{4, 8, 16, 48}

// beadSizes are the diameters of the atlas beads in texels.
var beadSizes = [...]int{9, 20}

const atlasW, atlasH = 256, 128

// edgeLen is how much of a line the atlas has beside its soft edge, texels.
const edgeLen = 110

func newAtlas() *atlas {
	a := &atlas{
		img:   ebiten.NewImage(atlasW, atlasH),
		white: sprite{x: 3, y: 3},
		discs: [...]sprite{{84, 92, 2}, {67, 94, 4}, {230, 22, 8}, {52, 52, 24}},
		beads: [...]sprite{{103.5, 95.5, 4.5}, {190, 26, 10}},
		dart:  sprite{x: 27, y: 104},
		salt:  sprite{x: 133, y: 53, r: 16},
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

// tri is a triangle about the middle of a sprite: the tip on its y axis and two corners,
// texels.
type tri struct{ tip, foot, half float64 }

// The triangles about a disc of radius 1, and about a square of half a side of 1.
var (
	aboutDisc   = tri{tip: -2, foot: 1, half: math.Sqrt(3)}
	aboutSquare = tri{tip: -3, foot: 1, half: 2}
)

// put draws a sprite with one triangle, which is large times t, so that its middle lies
// at c and its axes along u, the length of a texel, and across.
func (b *batch) put(s sprite, t tri, large float64, c, u viewmodel.Pt, col [4]float32) {
	n := len(b.vs)
	b.vs = slices.Grow(b.vs, 3)[:n+3]
	v := b.vs[n : n+3]
	tip, foot, half := t.tip*large, t.foot*large, t.half*large
	at := ebiten.Vertex{ColorR: col[0] * col[3], ColorG: col[1] * col[3], ColorB: col[2] * col[3], ColorA: col[3]}
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(c.X-u.Y*tip), b.Y(c.Y+u.X*tip), s.x, s.y+float32(tip)
	v[0] = at
	x, y := c.X-u.Y*foot, c.Y+u.X*foot
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(x+u.X*half), b.Y(y+u.Y*half), s.x+float32(half), s.y+float32(foot)
	v[1] = at
	at.DstX, at.DstY, at.SrcX = b.X(x-u.X*half), b.Y(y-u.Y*half), s.x-float32(half)
	v[2] = at
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+2)
}

func (b *batch) flat(x, y float64, c [4]float32) {
	b.vs = append(b.vs, ebiten.Vertex{
		DstX: b.X(x), DstY: b.Y(y), SrcX: b.atlas.white.x, SrcY: b.atlas.white.y,
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

// disc draws a filled circle.
func (b *batch) disc(x, y, r float64, c [4]float32) {
	px := 2 * r * b.Scale
	k := 0
	for k < len(discSizes)-1 && float64(discSizes[k]) < px {
		k++
	}
	b.ball(&b.atlas.discs[k], x, y, r, c)
}

// bead draws a shaded ball.
func (b *batch) bead(x, y, r float64, c [4]float32) {
	k := 0
	if 2*r*b.Scale > 12 {
		k = 1
	}
	b.ball(&b.atlas.beads[k], x, y, r, c)
}

// ball draws a round sprite with radius r.
func (b *batch) ball(s *sprite, x, y, r float64, c [4]float32) {
	b.put(*s, aboutDisc, s.r+1, viewmodel.Pt{X: x, Y: y}, viewmodel.Pt{X: r / s.r}, c) // it has a soft edge
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
	x, y := b.atlas.dart.x, b.atlas.dart.y
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(c.X+dartTip*ax), b.Y(c.Y+dartTip*ay), x+dartTip, y
	v[0] = at
	at.DstX, at.DstY, at.SrcX, at.SrcY = b.X(c.X-dartBase*ax-nx), b.Y(c.Y-dartBase*ay-ny), x-dartBase, y-dartHalf
	v[1] = at
	at.DstX, at.DstY, at.SrcY = b.X(c.X-dartBase*ax+nx), b.Y(c.Y-dartBase*ay+ny), y+dartHalf
	v[2] = at
	i := uint32(n)
	b.is = append(b.is, i, i+1, i+2)
}

// crystal draws a salt crystal of half diagonal d about c, turned by a.
func (b *batch) crystal(c viewmodel.Pt, d, a float64) {
	salt := &b.atlas.salt
	sin, cos := math.Sincos(a - math.Pi/4)
	k := d / math.Sqrt2 / (salt.r + 1) // with its clear border
	b.put(*salt, aboutSquare, salt.r+1, c, viewmodel.Pt{X: k * cos, Y: k * sin}, [4]float32{1, 1, 1, 0.95})
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
