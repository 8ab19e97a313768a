package view

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2/vector"

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
		t := rs[i].Text(v, set, g.units(), g.scene.Tall)
		if v.Controller.ClockUnset && rs[i].Kind == viewmodel.ReadClock && !g.look.Reduced && !g.motion.on() {
			t = "" // it blinks
		}
		if t != w.shown[i] {
			w.shown[i], changed = t, true
		}
	}
	if changed {
		w.draw(g)
	}
}

func (w *words) draw(g *Stage) {
	g.plates.words.Clear()
	for i := range g.scene.Plates {
		p := &g.scene.Plates[i]
		k := float32(g.scale)
		x, y := float32(p.X)*k, float32(p.Y)*k
		w := float32(measure(p.Text, p.Size, p.Bold)) * k
		vector.FillRect(g.plates.words, x-2*k, y, w+4*k, float32(p.Size)*1.2*k, g.role(viewmodel.Ground), false)
		drawText(g.plates.words, p.Text, p.X, p.Y, p.Size, p.Bold, g.role(p.Role), g.scale)
	}
	for i := range g.scene.Readouts {
		g.drawReadout(&g.scene.Readouts[i], w.shown[i])
	}
}

// drawReadout writes a readout, on two lines when it is too long for one.
func (g *Stage) drawReadout(r *viewmodel.Readout, s string) {
	size, y := r.Size, r.At.Y-r.Size*0.62
	wide := measure(s, size, r.Bold)
	if r.MaxW > 0 && wide > r.MaxW {
		cut := middleSpace(s)
		first, second := s[:cut], s[min(cut+1, len(s)):]
		longer := max(measure(first, size, r.Bold), measure(second, size, r.Bold))
		size *= math.Min(0.8, r.MaxW/longer)
		y = r.At.Y - size*1.2
		drawText(g.plates.words, first, r.At.X, y, size, r.Bold, g.role(r.Role), g.scale)
		s, y = second, y+size*1.2
	}
	x := r.At.X - r.Align*wide
	if r.Plate {
		k := float32(g.scale)
		vector.FillRect(g.plates.words, float32(x-3)*k, float32(y)*k, float32(wide+6)*k, float32(size*1.25)*k, g.role(viewmodel.Ground), false)
	}
	drawText(g.plates.words, s, x, y, size, r.Bold, g.role(r.Role), g.scale)
}

// middleSpace returns the index of the space nearest the middle of s, or its length.
func middleSpace(s string) int {
	best, far := len(s), len(s)
	for i, c := range s {
		if d := max(i-len(s)/2, len(s)/2-i); c == ' ' && d < far {
			best, far = i, d
		}
	}
	return best
}
