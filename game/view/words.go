package view

import (
	"image"
	"image/draw"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// words keeps the changing letterings; what has changed of them is drawn anew at most
// five times a second. They are drawn in memory: the graphics card would be given each
// letter by itself.
type words struct {
	shown []string
	boxes []image.Rectangle // of each, px of the plate
	sheet *image.RGBA       // what the plate has; nil before there is anything on it
	dark  bool              // the controller's face has no power
	wait  float64
}

func (w *words) stale() { w.sheet, w.wait = nil, 0 }

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
	all := w.sheet == nil || w.dark == v.Face.Powered
	if all {
		w.sheet, w.dark = image.NewRGBA(image.Rectangle{Max: g.size()}), !v.Face.Powered
		w.shown, w.boxes = make([]string, len(rs)), make([]image.Rectangle, len(rs))
	}
	for i := range rs {
		t := rs[i].Text(v, set, units, g.scene.Tall)
		if t == w.shown[i] {
			continue
		}
		w.shown[i] = t
		if !all {
			w.renew(g, i)
		}
	}
	if all {
		w.paint(g, w.sheet)
		g.plates.words.put(w.sheet)
	}
}

// renew draws a lettering anew, with all that its old and its new words touch.
func (w *words) renew(g *Stage, i int) {
	was := w.boxes[i]
	nowhere := &image.RGBA{}
	w.readout(g, nowhere, i)
	at := was.Union(w.boxes[i]).Intersect(w.sheet.Rect)
	if at.Empty() {
		return
	}
	part := w.sheet.SubImage(at).(*image.RGBA)
	draw.Draw(part, at, image.Transparent, image.Point{}, draw.Src)
	w.paint(g, part)
	g.plates.words.patch(w.sheet, at)
}

// paint draws all letterings as far as they lie on dst.
func (w *words) paint(g *Stage, dst *image.RGBA) {
	for i := range g.scene.Plates {
		p := &g.scene.Plates[i]
		if g.strip(dst, p.X-2, p.Y, measure(p.Text, p.Size, p.Bold)+4, p.Size*1.2).Overlaps(dst.Rect) {
			printText(dst, p.Text, p.X, p.Y, p.Size, p.Bold, g.role(p.Role), g.painted)
		}
	}
	for i := range g.scene.Readouts {
		if w.boxes[i].Empty() || w.boxes[i].Overlaps(dst.Rect) {
			w.readout(g, dst, i)
		}
	}
}

// strip clears the ground for a lettering, and returns where.
func (g *Stage) strip(dst *image.RGBA, x, y, w, h float64) image.Rectangle {
	px := func(v float32) int { return int(round(float64(v))) }
	at := image.Rect(px(g.painted.X(x)), px(g.painted.Y(y)), px(g.painted.X(x+w)), px(g.painted.Y(y+h)))
	if at.Overlaps(dst.Bounds()) {
		draw.Draw(dst, at, image.NewUniform(g.role(viewmodel.Ground)), image.Point{}, draw.Src)
	}
	return at
}

// readout writes a readout, on two lines when it is too long for one, and notes where.
func (w *words) readout(g *Stage, dst *image.RGBA, i int) {
	r := &g.scene.Readouts[i]
	lines, size := r.Lines(w.shown[i], measure)
	y, ink := r.At.Y-size*0.62, g.role(r.Role)
	if len(lines) > 1 {
		y = r.At.Y - size*1.2
	}
	if r.Face && w.dark {
		ink = g.role(viewmodel.UnlitInk)
	}
	w.boxes[i] = image.Rectangle{}
	for _, line := range lines {
		wide := measure(line, size, r.Bold)
		x := r.At.X - r.Align*wide
		if r.Plate {
			w.boxes[i] = w.boxes[i].Union(g.strip(dst, x-2, y, wide+4, size*1.25))
		}
		w.boxes[i] = w.boxes[i].Union(printText(dst, line, x, y, size, r.Bold, ink, g.painted))
		y += size * 1.2
	}
}

// blank are units whose clock has blinked out.
type blank struct{ viewmodel.Units }

// Clock is what is left of the time.
func (blank) Clock(float64) string { return "--:--" }
