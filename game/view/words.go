package view

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// words keeps the changing letterings; they are drawn anew at most five times a
// second, and only when one has changed.
type words struct {
	shown []string
	wait  float64
}

func (w *words) stale() { w.shown, w.wait = w.shown[:0], 0 }

func (w *words) refresh(g *Stage, set *sim.Setup, v *sim.View, dt float64) {
	w.wait -= dt
	if w.wait > 0 {
		return
	}
	w.wait = 0.2
	rs, units := g.scene.Readouts, viewmodel.Units(g.units())
	if v.Face.ClockLost && !g.lit() {
		units = blank{units}
	}
	changed := len(w.shown) != len(rs)
	if changed {
		w.shown = make([]string, len(rs))
	}
	for i := range rs {
		t := rs[i].Text(v, set, units, g.scene.Tall)
		if t != w.shown[i] {
			w.shown[i], changed = t, true
		}
	}
	if changed {
		w.draw(g, !v.Face.Powered)
	}
}

// blank are units whose clock has blinked out.
type blank struct{ viewmodel.Units }

// Clock is what is left of the time.
func (blank) Clock(float64) string { return "--:--" }

func (w *words) draw(g *Stage, dark bool) {
	g.plates.words.Clear()
	for i := range g.scene.Plates {
		p := &g.scene.Plates[i]
		g.strip(p.X-2, p.Y, measure(p.Text, p.Size, p.Bold)+4, p.Size*1.2)
		drawText(g.plates.words, p.Text, p.X, p.Y, p.Size, p.Bold, g.role(p.Role), g.painted)
	}
	for i := range g.scene.Readouts {
		g.drawReadout(&g.scene.Readouts[i], w.shown[i], dark)
	}
}

// strip clears the ground for a lettering.
func (g *Stage) strip(x, y, w, h float64) {
	px := func(v float32) int { return int(round(float64(v))) }
	at := image.Rect(px(g.painted.x(x)), px(g.painted.y(y)), px(g.painted.x(x+w)), px(g.painted.y(y+h)))
	g.plates.words.SubImage(at).(*ebiten.Image).Fill(g.role(viewmodel.Ground))
}

// drawReadout writes a readout, on two lines when it is too long for one; dark is
// the controller's face.
func (g *Stage) drawReadout(r *viewmodel.Readout, s string, dark bool) {
	lines, size := r.Lines(s, measure)
	y, role := r.At.Y-size*0.62, r.Role
	if len(lines) > 1 {
		y = r.At.Y - size*1.2
	}
	if r.Face && dark {
		role = viewmodel.UnlitInk
	}
	for _, line := range lines {
		wide := measure(line, size, r.Bold)
		x := r.At.X - r.Align*wide
		if r.Plate {
			g.strip(x-2, y, wide+4, size*1.25)
		}
		drawText(g.plates.words, line, x, y, size, r.Bold, g.role(role), g.painted)
		y += size * 1.2
	}
}
