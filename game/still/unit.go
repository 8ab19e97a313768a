package still

import (
	"image"
	"image/draw"

	"brinebench/game"
	"brinebench/game/figure"
	"brinebench/game/ink"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// Unit draws a unit at rest as the canvas would on a stage of w × h CSS px, scale px to
// each. It has no words, which belong to a language, and none of what moves with the
// water. v is the unit's view.
func Unit(w, h, scale float64, set *sim.Setup, v *sim.View, dark bool) *image.RGBA {
	pal, to := viewmodel.PaletteFor(dark), Pen{Scale: scale}
	scene := viewmodel.Build(w, h, set, viewmodel.Options{Layers: viewmodel.Layers{Bare: true, Plain: true}, Units: game.Look{}})
	scene.Layers.Plain = false // a legend says nothing without its words, the water's colour does
	var frame viewmodel.Frame
	frame.Update(scene, v, set, pal)
	var poise viewmodel.Poise
	poise.Follow(v, 0, true)
	sheet := ink.New(int(w*scale), int(h*scale))
	unit := figure.Figure{
		Brush: &brush{Sheet: sheet, to: to, pal: pal, thin: scene.Thin},
		Scene: scene, Set: set, View: v, Pal: pal, Frame: &frame, Poise: &poise,
	}
	draw.Draw(sheet, sheet.Rect, image.NewUniform(pal.Role[viewmodel.Ground]), image.Point{}, draw.Src)
	Art(sheet, scene.Under, pal, to)
	unit.Liquid()
	unit.Surface()
	unit.Passages()
	unit.Above()
	unit.Cells()
	unit.Beads()
	over := ink.New(sheet.Rect.Dx(), sheet.Rect.Dy())
	Art(over, scene.Over, pal, to)
	draw.Draw(sheet, sheet.Rect, over, image.Point{}, draw.Over)
	unit.Parts()
	return sheet.RGBA
}
