package view

import (
	"image"
	"image/draw"

	"brinebench/game/ink"
	"brinebench/game/still"
	"brinebench/game/viewmodel"
)

// penOf is the pen of a lens on a screen with that many device px per CSS px.
func penOf(l viewmodel.Lens, scale float64) still.Pen {
	return still.Pen{Scale: l.K * scale, OX: -l.X * l.K * scale, OY: -l.Y * l.K * scale}
}

// plates are the cached images of what seldom changes.
type plates struct {
	under, over plate // static art below and above the water
	words       plate // letterings that change
	card        plate // enlarged section of an opened part
}

// paint draws the static art of a scene on sheets of w by h device px.
func (p *plates) paint(s *viewmodel.Scene, pal *viewmodel.Palette, to still.Pen, w, h int) {
	p.under.solid = true
	p.under.show(w, h, func(on *ink.Sheet) {
		draw.Draw(on.RGBA, on.Rect, image.NewUniform(pal.Role[viewmodel.Ground]), image.Point{}, draw.Src)
		still.Art(on, s.Under, pal, to)
	})
	p.over.show(w, h, func(on *ink.Sheet) {
		still.Art(on, s.Over, pal, to)
		drawPlaced(on.RGBA, s.Labels, pal, to)
	})
	if len(s.Card) > 0 {
		p.card.show(w, h, func(on *ink.Sheet) {
			still.Art(on, s.Card, pal, to)
			drawPlaced(on.RGBA, s.CardText, pal, to)
		})
	}
}

func drawPlaced(dst *image.RGBA, ls []viewmodel.Placed, pal *viewmodel.Palette, to still.Pen) {
	for i := range ls {
		l := &ls[i]
		printText(dst, l.Text, l.X, l.Y, l.Size, l.Bold, pal.Role[l.Role], to)
	}
}
