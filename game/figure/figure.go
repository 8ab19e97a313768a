// Package figure draws what a unit holds and what of it moves, with a brush: the canvas has
// one that gathers triangles, the still picture one that inks a sheet.
package figure

import (
	"image/color"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

type pt = viewmodel.Pt

// Tint is a colour, red, green and blue not multiplied, and how opaque it is, all 0..1.
type Tint = [4]float32

// Of is a colour so opaque, 0..1.
func Of(c color.RGBA, opaque float64) Tint {
	return Tint{float32(c.R) / 255, float32(c.G) / 255, float32(c.B) / 255, float32(opaque)}
}

// Brush draws shapes, each over those before it. Lengths are CSS px of the picture.
type Brush interface {
	Mesh(m *viewmodel.Mesh, c Tint)
	Rect(x, y, w, h float64, c Tint)
	Quad(p, q, r, s viewmodel.Pt, c0, c1 Tint)      // convex; c0 colours the first two corners, c1 the others
	Line(p, q viewmodel.Pt, w float64, c Tint)      // a segment of width w
	Disc(x, y, r float64, c Tint)                   // a filled circle
	Bead(x, y, r float64, c Tint)                   // a shaded ball
	Dart(at, to viewmodel.Pt, l, w float64, c Tint) // an arrow about at, pointing along the unit vector to
	Crystal(at viewmodel.Pt, d, turn float64)       // of salt: a square of half diagonal d, turned
}

// Figure is a unit to be drawn: what it is, how it stands, and the brush.
type Figure struct {
	Brush
	Scene *viewmodel.Scene
	Set   *sim.Setup
	View  *sim.View // read only
	Pal   *viewmodel.Palette
	Frame *viewmodel.Frame
	Poise *viewmodel.Poise
	Meter float64 // angle of the meter's needle, rad
	Churn float64 // how far a lifted bed has churned, rad
}

func (f *Figure) role(r viewmodel.Role) Tint { return Of(f.Pal.Role[r], 1) }
func (f *Figure) ink() Tint                  { return f.role(viewmodel.Ink) }

// box is a rectangle with an outline of width w inside its edge.
func (f *Figure) box(r viewmodel.Rect, w float64, fill Tint) {
	f.Rect(r.X, r.Y, r.W, r.H, f.ink())
	f.Rect(r.X+w, r.Y+w, r.W-2*w, r.H-2*w, fill)
}

// Ring is a disc with an outline of width w inside its edge.
func (f *Figure) Ring(x, y, r, w float64, line, fill Tint) {
	f.Disc(x, y, r, line)
	f.Disc(x, y, r-w, fill)
}

// Parts draws the moving parts, which stand in front of the outlines.
func (f *Figure) Parts() {
	for i := range f.Scene.Seats {
		f.stem(&f.Scene.Seats[i])
	}
	f.drum()
	for i := range f.Scene.Seats {
		f.roller(&f.Scene.Seats[i])
	}
	for i := range f.Scene.Gauges {
		f.needle(&f.Scene.Gauges[i])
	}
	f.valves()
	f.meter()
	f.check()
	f.float()
}
