package view

import (
	"image/color"
	"math"

	"brinebench/game/figure"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

func (g *Stage) role(r viewmodel.Role) color.RGBA { return g.pal.Role[r] }
func (g *Stage) ink() color.RGBA                  { return g.pal.Role[viewmodel.Ink] }

// drawParts draws what stands in front of the outlines.
func (g *Stage) drawParts(v *sim.View) {
	g.figure.Parts()
	g.drawChart(v)
	g.drawFace(v)
	g.drawLegend()
	g.drawSelection()
}

func (g *Stage) drawChart(v *sim.View) {
	c := &g.scene.Chart
	if c.Box.W == 0 {
		return
	}
	x := c.Cursor(v.DrumDeg)
	ink := figure.Of(g.ink(), 1)
	foot := c.Box.Y + c.Box.H
	g.batch.Rect(x-g.scene.Heavy/2, c.Box.Y, g.scene.Heavy, c.Box.H+3, ink)
	g.batch.Dart(pt{X: x, Y: foot + 6}, pt{Y: -1}, 11, 9, ink)
}

// drawFace draws the controller's face: dark without power, else the lamp of an
// alarm and the bar.
func (g *Stage) drawFace(v *sim.View) {
	if !v.Face.Powered {
		r := g.scene.Face
		g.batch.Rect(r.X, r.Y, r.W, r.H, figure.Of(g.role(viewmodel.Unlit), 1))
		return
	}
	if v.Controller.Alarm && g.lit() {
		r := 6 * math.Max(1, g.scene.Unit)
		g.figure.Ring(g.scene.Lamp.X, g.scene.Lamp.Y, r, g.scene.Thin, figure.Of(g.ink(), 1), figure.Of(g.role(viewmodel.Wrong), 1))
	}
	g.drawProgress(&v.Controller)
}

// lit tells whether what blinks is to be seen now; it stands while motion is not
// wanted or time does.
func (g *Stage) lit() bool { return g.look.Reduced || g.look.Pace == 0 || g.motion.on() }

// drawProgress draws how much of the station's time has gone, in service how much
// of a demand controller's capacity is left.
func (g *Stage) drawProgress(c *sim.ControllerView) {
	part, total := c.ElapsedS, c.ElapsedS+c.RemainingS
	if c.RemainingS <= 0 {
		part, total = c.RemainingM3, c.CapacityM3
		if !c.Demand || c.Regenerating || c.Alarm {
			return
		}
	}
	r := g.scene.Progress
	if r.W == 0 || total <= 0 {
		return
	}
	g.batch.Rect(r.X, r.Y, r.W, r.H, figure.Of(g.role(viewmodel.Faint), 1))
	g.batch.Rect(r.X, r.Y, r.W*math.Min(1, part/total), r.H, figure.Of(g.ink(), 1))
}

// drawLegend draws the samples of brine and air.
func (g *Stage) drawLegend() {
	b, l := &g.batch, &g.scene.Legend
	if l.Brine.W == 0 {
		return
	}
	dot := g.scene.Dot()
	for i := range 26 {
		x, y := scatter(i, 21), (float64(i)+0.5)/26
		b.Disc(l.Brine.X+2+x*(l.Brine.W-4), l.Brine.Y+2+y*(l.Brine.H-4), dot, figure.Of(g.pal.Light, 1))
	}
	for i := range 5 {
		x := l.Air.X + l.Air.W*(float64(i)+0.5)/5
		y := l.Air.Y + l.Air.H*(0.3+0.4*float64(i%2))
		g.figure.Ring(x, y, dot*bubble, g.scene.Thin*0.7, figure.Of(g.pal.Dark, 1), figure.Of(g.pal.Air, 1))
	}
}

// drawSelection frames the selected part with corner brackets, and lightly the
// one under the pointer.
func (g *Stage) drawSelection() {
	if r, ok := g.scene.PartBox(g.src.Selected()); ok {
		g.brackets(r.Inset(-3), g.scene.Heavy*1.4, 1)
	}
	if r, ok := g.scene.PartBox(g.hover); ok && g.hover != g.src.Selected() {
		g.brackets(r.Inset(-2), g.scene.Thin*1.2, 0.7)
	}
}

func (g *Stage) brackets(r viewmodel.Rect, w, alpha float64) {
	arms := g.scene.Brackets(r, w)
	for _, pen := range []struct {
		role viewmodel.Role
		out  float64
	}{{viewmodel.Ground, 1}, {viewmodel.Ink, 0}} { // an edge, so that they stand out on water too
		c := figure.Of(g.role(pen.role), alpha)
		for _, arm := range arms {
			if arm.W > 0 {
				g.batch.Rect(arm.X-pen.out, arm.Y-pen.out, arm.W+2*pen.out, arm.H+2*pen.out, c)
			}
		}
	}
}
