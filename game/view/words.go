package view

import (
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
	rs := g.scene.Readouts
	changed := len(w.shown) != len(rs)
	if changed {
		w.shown = make([]string, len(rs))
	}
	for i := range rs {
		if t := rs[i].Text(v, set, g.look.SI, g.scene.Tall); t != w.shown[i] {
			w.shown[i], changed = t, true
		}
	}
	if changed {
		w.draw(g)
	}
}

func (w *words) draw(g *Stage) {
	g.plates.words.Clear()
	for i, r := range g.scene.Readouts {
		x := r.At.X - r.Align*measure(w.shown[i], r.Size, r.Bold)
		drawText(g.plates.words, w.shown[i], x, r.At.Y-r.Size*0.62, r.Size, r.Bold, g.pal.Role[r.Role], g.scale)
	}
	_ = viewmodel.TextSmall
}
