package view

import (
	"image"
	"image/draw"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/ink"
	"brinebench/game/still"
	"brinebench/game/viewmodel"
)

// pen takes the picture to the canvas: device px per CSS px of the picture, and
// where its corner lies, device px.
type pen struct{ scale, ox, oy float64 }

// penOf is the pen of a lens on a screen with that many device px per CSS px.
func penOf(l viewmodel.Lens, scale float64) pen {
	return pen{l.K * scale, -l.X * l.K * scale, -l.Y * l.K * scale}
}

func (p pen) x(x float64) float32 { return float32(x*p.scale + p.ox) }
func (p pen) y(y float64) float32 { return float32(y*p.scale + p.oy) }

// still is the same pen for still art.
func (p pen) still() still.Pen { return still.Pen{Scale: p.scale, OX: p.ox, OY: p.oy} }

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
func (p *plates) paint(s *viewmodel.Scene, pal *viewmodel.Palette, to pen) {
	w, h := p.over.Bounds().Dx(), p.over.Bounds().Dy()
	under := ink.New(w, h)
	draw.Draw(under.RGBA, under.Rect, image.NewUniform(pal.Role[viewmodel.Ground]), image.Point{}, draw.Src)
	still.Art(under, s.Under, pal, to.still())
	p.under.WritePixels(under.Pix)
	over := ink.New(w, h)
	still.Art(over, s.Over, pal, to.still())
	drawPlaced(over.RGBA, s.Labels, pal, to)
	p.over.WritePixels(over.Pix)
	if len(s.Card) == 0 {
		return
	}
	if p.card == nil {
		p.card = ebiten.NewImage(w, h)
	}
	card := ink.New(w, h)
	still.Art(card, s.Card, pal, to.still())
	drawPlaced(card.RGBA, s.CardText, pal, to)
	p.card.WritePixels(card.Pix)
}

func drawPlaced(dst *image.RGBA, ls []viewmodel.Placed, pal *viewmodel.Palette, to pen) {
	for i := range ls {
		l := &ls[i]
		printText(dst, l.Text, l.X, l.Y, l.Size, l.Bold, pal.Role[l.Role], to)
	}
}
