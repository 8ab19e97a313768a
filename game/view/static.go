package view

import (
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"github.com/hajimehoshi/ebiten/v2/vector"

	"brinebench/game/viewmodel"
)

// plates are the cached images of the static art: below and above the water.
type plates struct {
	under, over *ebiten.Image
	words       *ebiten.Image // letterings that change
}

func (p *plates) resize(w, h int) {
	if p.under != nil && p.under.Bounds().Dx() == w && p.under.Bounds().Dy() == h {
		p.under.Clear()
		p.over.Clear()
		p.words.Clear()
		return
	}
	for _, img := range []**ebiten.Image{&p.under, &p.over, &p.words} {
		if *img != nil {
			(*img).Deallocate()
		}
		*img = ebiten.NewImage(w, h)
	}
}

// paint draws the static art of a scene.
func (p *plates) paint(s *viewmodel.Scene, pal *viewmodel.Palette, scale float64) {
	p.under.Fill(pal.Role[viewmodel.Ground])
	drawOps(p.under, s.Under, pal, scale)
	drawOps(p.over, s.Over, pal, scale)
	for i := range s.Labels {
		l := &s.Labels[i]
		drawText(p.over, l.Text, l.X, l.Y, l.Size, l.Bold, pal.Role[l.Role], scale)
	}
}

func drawOps(dst *ebiten.Image, ops []viewmodel.Op, pal *viewmodel.Palette, scale float64) {
	for i := range ops {
		drawOp(dst, &ops[i], pal, scale)
	}
}

func drawOp(dst *ebiten.Image, op *viewmodel.Op, pal *viewmodel.Palette, scale float64) {
	var path vector.Path
	trace(&path, op, float32(scale))
	opt := vector.DrawPathOptions{AntiAlias: true}
	switch op.Kind {
	case viewmodel.OpErase, viewmodel.OpEraseStroke:
		opt.Blend = ebiten.BlendDestinationOut
	case viewmodel.OpScale:
		opt.ColorScale.ScaleWithColor(viewmodel.Cividis(op.Value))
	default:
		opt.ColorScale.ScaleWithColor(pal.Role[op.Role])
	}
	switch op.Kind {
	case viewmodel.OpFill, viewmodel.OpErase, viewmodel.OpScale:
		vector.FillPath(dst, &path, nil, &opt)
	default:
		vector.StrokePath(dst, &path, &vector.StrokeOptions{Width: float32(op.Width * scale), LineJoin: vector.LineJoinRound}, &opt)
	}
}

func trace(path *vector.Path, op *viewmodel.Op, k float32) {
	for i, p := range op.Pts {
		x, y := float32(p.X)*k, float32(p.Y)*k
		if i == 0 || op.Kind == viewmodel.OpLines && i%2 == 0 {
			path.MoveTo(x, y)
		} else {
			path.LineTo(x, y)
		}
	}
	if op.Closed || op.Kind != viewmodel.OpStroke && op.Kind != viewmodel.OpEraseStroke && op.Kind != viewmodel.OpLines {
		path.Close()
	}
}

func drawText(dst *ebiten.Image, s string, x, y, size float64, bold bool, c color.RGBA, scale float64) {
	var opt text.DrawOptions
	opt.GeoM.Translate(round(x*scale), round(y*scale))
	opt.ColorScale.ScaleWithColor(c)
	text.Draw(dst, s, face(size*scale, bold), &opt)
}
