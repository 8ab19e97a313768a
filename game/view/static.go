package view

import (
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/vector"

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
	p.under.Fill(pal.Role[viewmodel.Ground])
	drawOps(p.under, s.Under, pal, to)
	drawOps(p.over, s.Over, pal, to)
	drawPlaced(p.over, s.Labels, pal, to)
	if len(s.Card) == 0 {
		return
	}
	if p.card == nil {
		p.card = ebiten.NewImage(p.over.Bounds().Dx(), p.over.Bounds().Dy())
	}
	drawOps(p.card, s.Card, pal, to)
	drawPlaced(p.card, s.CardText, pal, to)
}

func drawPlaced(dst *ebiten.Image, ls []viewmodel.Placed, pal *viewmodel.Palette, to pen) {
	for i := range ls {
		l := &ls[i]
		drawText(dst, l.Text, l.X, l.Y, l.Size, l.Bold, pal.Role[l.Role], to)
	}
}

// drawOps draws strokes of the pen; neighbours with the same pen go in one path.
func drawOps(dst *ebiten.Image, ops []viewmodel.Op, pal *viewmodel.Palette, to pen) {
	for i := 0; i < len(ops); {
		var path vector.Path
		op := &ops[i]
		for ; i < len(ops) && samePen(op, &ops[i]); i++ {
			trace(&path, &ops[i], to)
			if isFill(op.Kind) { // overlapping faces in one path may cancel out
				i++
				break
			}
		}
		drawPath(dst, &path, op, pal, to)
	}
}

func samePen(a, b *viewmodel.Op) bool {
	return a.Kind == b.Kind && a.Role == b.Role && a.Width == b.Width
}

func isFill(k viewmodel.OpKind) bool {
	return k == viewmodel.OpFill || k == viewmodel.OpErase || k == viewmodel.OpScale
}

func drawPath(dst *ebiten.Image, path *vector.Path, op *viewmodel.Op, pal *viewmodel.Palette, to pen) {
	opt := vector.DrawPathOptions{AntiAlias: true}
	switch op.Kind {
	case viewmodel.OpErase, viewmodel.OpEraseStroke:
		opt.Blend = ebiten.BlendDestinationOut
	case viewmodel.OpScale:
		opt.ColorScale.ScaleWithColor(viewmodel.Cividis(op.Value))
	default:
		opt.ColorScale.ScaleWithColor(pal.Role[op.Role])
	}
	if isFill(op.Kind) {
		vector.FillPath(dst, path, nil, &opt)
		return
	}
	pen := vector.StrokeOptions{Width: float32(op.Width * to.scale), LineJoin: vector.LineJoinRound}
	vector.StrokePath(dst, path, &pen, &opt)
}

func trace(path *vector.Path, op *viewmodel.Op, to pen) {
	for i, p := range op.Pts {
		x, y := to.x(p.X), to.y(p.Y)
		if i == 0 || op.Kind == viewmodel.OpLines && i%2 == 0 {
			path.MoveTo(x, y)
		} else {
			path.LineTo(x, y)
		}
	}
	if op.Closed || isFill(op.Kind) {
		path.Close()
	}
}
