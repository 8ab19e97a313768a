// Package view draws the unit with Ebitengine: the static art from a cache,
// everything that moves in a few calls on top.
package view

import (
	"image"
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game"
	"brinebench/game/figure"
	"brinebench/game/say"
	"brinebench/game/still"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// Look is how the picture is to be shown.
type Look struct {
	Dark    bool
	Strong  bool // more contrast
	SI      bool // metric letterings
	Lang    say.Lang
	Veiled  bool // hardness is not shown
	Layers  viewmodel.Layers
	Reduced bool    // reduced motion: marks do not move
	Pace    float64 // simulated seconds per real second
	Marks   int     // at least so many flow marks: to measure what a frame costs; 0 as they come
}

// Source is what the picture is drawn from.
type Source interface {
	Frame(dtS float64) // called once per frame before drawing: paces the simulation
	Setup() *sim.Setup // nil until a call is loaded
	View() *sim.View   // the present view; read only until the next Frame
	Selected() sim.Part
	Select(p sim.Part) // a part was touched; "" for the ground
	Look() Look
}

// Stage is the canvas. It implements ebiten.Game.
type Stage struct {
	src     Source
	onDrawn func()

	w, h, scale float64 // CSS px, device px per CSS px
	scene       *viewmodel.Scene
	built       signature
	asked       signature // the size the stage is being brought to
	settle      float64   // s until that is taken to be the size
	plates      plates
	batch       batch
	frame       viewmodel.Frame
	look        Look
	pal         *viewmodel.Palette
	painted     still.Pen // of the plates
	words       words
	motion      motion
	crowd       crowd
	sight       sight
	poise       viewmodel.Poise
	figure      figure.Figure
	hover       sim.Part
}

// New returns the canvas of src. onFirstDraw, when not nil, is called once, at
// the end of the first Draw that shows the unit.
func New(src Source, onFirstDraw func()) *Stage {
	return &Stage{src: src, onDrawn: onFirstDraw, pal: viewmodel.PaletteFor(false), sight: sight{lens: viewmodel.Whole}}
}

// Layout implements ebiten.Game: the canvas has the device's resolution.
func (g *Stage) Layout(outsideW, outsideH int) (int, int) {
	scale := ebiten.Monitor().DeviceScaleFactor()
	g.resize(float64(outsideW), float64(outsideH), scale)
	return max(1, int(float64(outsideW)*scale)), max(1, int(float64(outsideH)*scale))
}

// LayoutF is Layout without rounding; Ebitengine prefers it.
func (g *Stage) LayoutF(outsideW, outsideH float64) (float64, float64) {
	scale := ebiten.Monitor().DeviceScaleFactor()
	g.resize(outsideW, outsideH, scale)
	return max(1, float64(int(outsideW*scale))), max(1, float64(int(outsideH*scale)))
}

func (g *Stage) resize(w, h, scale float64) { g.w, g.h, g.scale = w, h, scale }

// Draw implements ebiten.Game. The picture is drawn on the screen itself, for by way of
// this image every px would be filled once more; it is only changed, for else Ebitengine
// thinks that there is nothing new to show.
func (g *Stage) Draw(off *ebiten.Image) { off.Set(0, 0, color.Black) }

// DrawFinalScreen implements ebiten.FinalScreenDrawer.
func (g *Stage) DrawFinalScreen(screen ebiten.FinalScreen, _ *ebiten.Image, _ ebiten.GeoM) {
	g.drawOn(screen)
}

// drawOn draws the frame.
func (g *Stage) drawOn(screen ebiten.FinalScreen) {
	dt := g.motion.tick()
	g.src.Frame(dt)
	g.look = g.src.Look()
	g.pal = viewmodel.PaletteFor(g.look.Dark)
	if g.look.Strong {
		g.pal = viewmodel.StrongFor(g.look.Dark)
	}
	set, v := g.src.Setup(), g.src.View()
	if set == nil || v == nil || g.w < 50 || g.h < 50 {
		screen.Fill(g.role(viewmodel.Ground))
		return
	}
	g.drawUnit(screen, set, v, dt)
	if g.onDrawn != nil {
		g.onDrawn()
		g.onDrawn = nil
	}
}

func (g *Stage) drawUnit(screen ebiten.FinalScreen, set *sim.Setup, v *sim.View, dt float64) {
	g.rebuild(set, v, dt)
	g.poise.Follow(v, dt, g.look.Reduced)
	now := &g.poise.View
	g.frame.Update(g.scene, now, set, g.pal)
	g.motion.advance(g.scene, &g.frame, g.look, dt)
	g.batch.dst, g.batch.Pen = screen, penOf(g.sight.lens, g.scale)
	if g.batch.Pen != g.painted || g.plates.under.img.Bounds() != screen.Bounds() { // else the plate covers all of it
		screen.Fill(g.role(viewmodel.Ground))
	}
	g.plates.under.draw(screen, g.painted, g.batch.Pen)
	g.figure = figure.Figure{
		Brush: &g.batch, Scene: g.scene, Set: set, View: now, Pal: g.pal, Frame: &g.frame, Poise: &g.poise,
		Meter: g.motion.meter, Churn: g.motion.churn,
	}
	g.drawWater()
	g.batch.draw()
	g.plates.over.draw(screen, g.painted, g.batch.Pen)
	g.drawParts(now)
	g.batch.draw()
	if len(g.scene.Card) > 0 {
		g.plates.card.draw(screen, g.painted, g.batch.Pen)
	}
	g.words.refresh(g, set, v, dt)
	g.plates.words.draw(screen, g.painted, g.batch.Pen)
}

// units are those of the page.
func (g *Stage) units() game.Look { return game.Look{SI: g.look.SI} }

// signature is all that the static art depends on.
type signature struct {
	w, h, scale float64
	pal         *viewmodel.Palette
	si          bool
	lang        say.Lang
	veiled      bool
	layers      viewmodel.Layers
	set         *sim.Setup
	call        string
	inside      viewmodel.InsideKey
	chosen      sim.Part
}

func (g *Stage) rebuild(set *sim.Setup, v *sim.View, dt float64) {
	sig := signature{w: g.w, h: g.h, scale: g.scale, pal: g.pal, si: g.look.SI, lang: g.look.Lang, veiled: g.look.Veiled, layers: g.look.Layers, set: set, call: set.CallID, inside: viewmodel.KeyOf(v), chosen: viewmodel.Sectioned(g.src.Selected(), v, g.w, g.h)}
	if g.scene != nil && (sig == g.built || g.resizing(sig, dt)) {
		g.follow(dt)
		return
	}
	if sig.w != g.built.w || sig.h != g.built.h {
		g.sight.lens = viewmodel.Whole
	}
	g.built = sig
	g.scene = viewmodel.Build(g.w, g.h, set, viewmodel.Options{Units: g.units(), SI: g.look.SI, Veiled: g.look.Veiled, Layers: g.look.Layers, Measure: measure, Inside: v, Chosen: sig.chosen})
	if g.batch.atlas == nil {
		g.batch.atlas = newAtlas()
	}
	g.batch.atlas.dress(g.pal, g.scene.Thin/(20*g.scene.Unit))
	g.paint()
	g.motion.fit(g.scene)
}

// size is the stage's, device px.
func (g *Stage) size() image.Point { return image.Pt(int(g.w*g.scale), int(g.h*g.scale)) }

// paint makes the plates anew for the scene and the lens.
func (g *Stage) paint() {
	g.painted = penOf(g.sight.lens, g.scale)
	size := g.size()
	g.plates.paint(g.scene, g.pal, g.painted, size.X, size.Y)
	g.words.stale()
}

// settleS is how long the stage's size must rest before the art is made anew:
// while a window is being dragged the old picture stays.
const settleS = 0.12

// resizing tells whether the stage is still being made larger or smaller.
func (g *Stage) resizing(sig signature, dt float64) bool {
	if sig.w == g.built.w && sig.h == g.built.h {
		return false
	}
	if sig.w != g.asked.w || sig.h != g.asked.h {
		g.asked, g.settle = sig, settleS
	}
	g.settle -= dt
	return g.settle > 0
}
