package view

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// sight is where the person looks: the lens on the picture, and the pointer.
type sight struct {
	lens    viewmodel.Lens
	rest    float64  // s since the lens moved
	shown   sim.Part // the selected part that the lens was last brought to
	pointed bool     // the pointer has been over the canvas
	held    bool     // its button is down
	drags   bool     // and it has moved the picture since
	last    pt       // where it was, CSS px of the stage
}

// dragPx is how far the pointer moves before it drags, CSS px.
const dragPx = 4

// Update implements ebiten.Game: it reads the pointer. A tap
// arrives as the mouse events that the browser makes of it (see stage.js).
func (g *Stage) Update() error {
	if g.scene == nil {
		return nil
	}
	if g.sight.pointed = g.sight.pointed || moved(); g.sight.pointed {
		g.point(pointer(g.scale))
	}
	return nil
}

// pointer is where the pointer is on the canvas, CSS px.
func pointer(scale float64) pt {
	x, y := ebiten.CursorPosition()
	return pt{X: float64(x) / scale, Y: float64(y) / scale}
}

// moved tells whether the pointer has been over the canvas: before its first move it
// is said to be at 0, 0.
func moved() bool {
	x, y := ebiten.CursorPosition()
	return x != 0 || y != 0
}

// point lets the pointer, at a place of the stage, show and do what it does there.
func (g *Stage) point(at pt) {
	s := &g.sight
	g.hover = g.scene.At(s.lens.Picture(at))
	shape := ebiten.CursorShapeDefault
	switch {
	case s.drags:
		shape = ebiten.CursorShapeMove
	case g.hover != "":
		shape = ebiten.CursorShapePointer
	}
	ebiten.SetCursorShape(shape)
	g.drag(at)
}

// drag selects what is pressed; on an enlarged picture, when the button comes up
// where it went down, for between the two the pointer drags the picture.
func (g *Stage) drag(at pt) {
	s := &g.sight
	if inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) {
		s.held, s.drags, s.last = true, false, at
		if s.lens == viewmodel.Whole {
			s.held = false
			g.src.Select(g.hover)
		}
	}
	if !s.held {
		return
	}
	if inpututil.IsMouseButtonJustReleased(ebiten.MouseButtonLeft) {
		if !s.drags {
			g.src.Select(g.hover)
		}
		s.held, s.drags = false, false
		return
	}
	if d := (pt{X: at.X - s.last.X, Y: at.Y - s.last.Y}); s.drags || math.Hypot(d.X, d.Y) > dragPx {
		s.drags, s.last = true, at
		g.Pan(d.X, d.Y)
	}
}

// Zoom enlarges the picture by a factor about a point of the stage, CSS px; about
// the selected part when the point is no number.
func (g *Stage) Zoom(factor, x, y float64) {
	at := pt{X: x, Y: y}
	if l := g.sight.lens; math.IsNaN(x) {
		at = pt{X: g.w / 2, Y: g.h / 2}
		if box, ok := g.selected(); ok {
			c := box.Centre()
			at = pt{X: min(max((c.X-l.X)*l.K, 0), g.w), Y: min(max((c.Y-l.Y)*l.K, 0), g.h)}
		}
	}
	g.see(g.sight.lens.Zoomed(factor, at, g.w, g.h))
}

// Pan moves an enlarged picture by CSS px of the stage.
func (g *Stage) Pan(dx, dy float64) { g.see(g.sight.lens.Panned(dx, dy, g.w, g.h)) }

// Whole shows the whole picture again.
func (g *Stage) Whole() { g.see(viewmodel.Whole) }

// Enlarged tells whether a lens is on the picture.
func (g *Stage) Enlarged() bool { return g.sight.lens != viewmodel.Whole }

func (g *Stage) see(l viewmodel.Lens) {
	if l != g.sight.lens {
		g.sight.lens, g.sight.rest = l, 0
	}
}

func (g *Stage) selected() (box viewmodel.Rect, ok bool) {
	if g.scene == nil {
		return box, false
	}
	return g.scene.PartBox(g.src.Selected())
}

// follow brings a part that has just been selected under the lens, and paints the
// plates anew once the lens rests; until then they are drawn as they are, larger
// or smaller.
func (g *Stage) follow(dt float64) {
	s := &g.sight
	if p := g.src.Selected(); p != s.shown {
		s.shown = p
		if box, ok := g.selected(); ok && g.Enlarged() && p != g.hover {
			g.see(s.lens.Showing(box, g.w, g.h))
		}
	}
	s.rest += dt
	if s.rest > settleS && g.painted != penOf(s.lens, g.scale) {
		g.paint()
	}
}
