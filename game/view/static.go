package view

import (
	"image"
	"image/draw"

	"github.com/hajimehoshi/ebiten/v2"

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
	under, over *ebiten.Image // static art below and above the water
	words       *ebiten.Image // letterings that change
	card        *ebiten.Image // enlarged section of an opened part; nil until one is opened
}

func (p *plates) resize(w, h int) {
	for _, img := range []**ebiten.Image{&p.under, &p.over, &p.words, &p.card} {
		if *img == nil {
			continue
		}
		if b := (*img).Bounds(); b.Dx() == w && b.Dy() == h {
			(*img).Clear()
			continue
		}
		(*img).Deallocate()
		*img = nil
	}
	for _, img := range []**ebiten.Image{&p.under, &p.over, &p.words} {
		if *img == nil {
			*img = ebiten.NewImage(w, h)
		}
	}
}

// paint draws the static art of a scene.
func (p *plates) paint(s *viewmodel.Scene, pal *viewmodel.Palette, to still.Pen) {
	w, h := p.over.Bounds().Dx(), p.over.Bounds().Dy()
	under := ink.New(w, h)
	draw.Draw(under.RGBA, under.Rect, image.NewUniform(pal.Role[viewmodel.Ground]), image.Point{}, draw.Src)
	still.Art(under, s.Under, pal, to)
	p.under.WritePixels(under.Pix)
	over := ink.New(w, h)
	still.Art(over, s.Over, pal, to)
	drawPlaced(over.RGBA, s.Labels, pal, to)
	p.over.WritePixels(over.Pix)
	if len(s.Card) == 0 {
		return
	}
	if p.card == nil {
		p.card = ebiten.NewImage(w, h)
	}
	card := ink.New(w, h)
	still.Art(card, s.Card, pal, to)
	drawPlaced(card.RGBA, s.CardText, pal, to)
	p.card.WritePixels(card.Pix)
}

func drawPlaced(dst *image.RGBA, ls []viewmodel.Placed, pal *viewmodel.Palette, to still.Pen) {
	for i := range ls {
		l := &ls[i]
		printText(dst, l.Text, l.X, l.Y, l.Size, l.Bold, pal.Role[l.Role], to)
	}
}
