package still

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"brinebench/game"
	"brinebench/game/ink"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

type pt = viewmodel.Pt

// Unit draws a unit at rest as the canvas would on a stage of w × h CSS px, scale px to
// each. It has no words, which belong to a language, and none of what moves with the
// water. v is the unit's view.
func Unit(w, h, scale float64, set *sim.Setup, v *sim.View, dark bool) *image.RGBA {
	d := &drawing{set: set, view: v, pal: viewmodel.PaletteFor(dark), to: Pen{Scale: scale}}
	d.scene = viewmodel.Build(w, h, set, viewmodel.Options{Layers: viewmodel.Layers{Bare: true, Plain: true}, Units: game.Look{}})
	d.scene.Layers.Plain = false // a legend says nothing without its words, the water's colour does
	d.frame.Update(d.scene, v, set, d.pal)
	d.poise.Follow(v, 0, true)
	d.Sheet = ink.New(int(w*scale), int(h*scale))
	draw.Draw(d.RGBA, d.Rect, image.NewUniform(d.role(viewmodel.Ground)), image.Point{}, draw.Src)
	Art(d.Sheet, d.scene.Under, d.pal, d.to)
	d.water()
	over := ink.New(d.Rect.Dx(), d.Rect.Dy())
	Art(over, d.scene.Over, d.pal, d.to)
	draw.Draw(d.RGBA, d.Rect, over.RGBA, image.Point{}, draw.Over)
	d.parts()
	return d.RGBA
}

// drawing is a unit being drawn. Its shapes are in CSS px.
type drawing struct {
	*ink.Sheet
	to    Pen
	set   *sim.Setup
	view  *sim.View
	pal   *viewmodel.Palette
	scene *viewmodel.Scene
	frame viewmodel.Frame
	poise viewmodel.Poise
}

func (d *drawing) role(r viewmodel.Role) color.RGBA { return d.pal.Role[r] }

func (d *drawing) placed(pts []pt) []ink.Pt {
	out := make([]ink.Pt, len(pts))
	for i, p := range pts {
		out[i] = d.to.At(p)
	}
	return out
}

func (d *drawing) face(c color.RGBA, pts ...pt) {
	d.Face(d.placed(pts))
	d.Paint(c)
}

func (d *drawing) line(c color.RGBA, w float64, pts ...pt) {
	d.Line(d.placed(pts), false, float32(w*d.to.Scale))
	d.Paint(c)
}

func (d *drawing) rect(c color.RGBA, r viewmodel.Rect) {
	d.face(c, pt{X: r.X, Y: r.Y}, pt{X: r.X + r.W, Y: r.Y}, pt{X: r.X + r.W, Y: r.Y + r.H}, pt{X: r.X, Y: r.Y + r.H})
}

// box is a rectangle with an outline of width w inside its edge.
func (d *drawing) box(fill color.RGBA, r viewmodel.Rect, w float64) {
	d.rect(d.role(viewmodel.Ink), r)
	d.rect(fill, r.Inset(w))
}

func (d *drawing) disc(c color.RGBA, x, y, r float64) {
	const corners = 24
	var pts [corners]pt
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		pts[i] = pt{X: x + r*cos, Y: y + r*sin}
	}
	d.face(c, pts[:]...)
}

// ring is a disc with an outline of width w.
func (d *drawing) ring(fill color.RGBA, x, y, r, w float64) {
	d.disc(d.role(viewmodel.Ink), x, y, r)
	d.disc(fill, x, y, r-w)
}
