package view

import (
	"image"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/ink"
	"brinebench/game/still"
)

// plate is a cached image of what seldom changes. Only the tiles of it that have
// something on them are drawn: most of a plate is clear, and what a frame takes of the
// graphics card goes by the px that it fills.
type plate struct {
	img   *ebiten.Image
	inked []bool // of each tile, row by row: there is something on it
	cols  int    // tiles in a row
	solid bool   // it covers what is below it
	vs    []ebiten.Vertex
	is    []uint32 // faces of the inked tiles, those beside each other joined
	piece []byte   // scratch of patch
}

// tilePx is the side of a plate's tiles, device px.
const tilePx = 32

// show makes the plate anew, w by h device px, with what paint puts on a clear sheet.
func (p *plate) show(w, h int, paint func(on *ink.Sheet)) {
	sheet := ink.New(w, h)
	paint(sheet)
	p.put(sheet.RGBA)
}

// put brings a sheet, which lies at 0, 0, onto the plate.
func (p *plate) put(sheet *image.RGBA) {
	size := sheet.Rect.Size()
	if p.img == nil || p.img.Bounds().Size() != size {
		if p.img != nil {
			p.img.Deallocate()
		}
		p.img = ebiten.NewImage(size.X, size.Y)
		p.cols = (size.X + tilePx - 1) / tilePx
		p.inked = make([]bool, p.cols*((size.Y+tilePx-1)/tilePx))
	}
	p.img.WritePixels(sheet.Pix)
	p.survey(sheet, sheet.Rect)
	p.lay()
}

// patch brings the part of a sheet that has changed onto the plate.
func (p *plate) patch(sheet *image.RGBA, at image.Rectangle) {
	p.piece = slices.Grow(p.piece[:0], 4*at.Dx()*at.Dy())
	for y := at.Min.Y; y < at.Max.Y; y++ {
		p.piece = append(p.piece, sheet.Pix[sheet.PixOffset(at.Min.X, y):sheet.PixOffset(at.Max.X, y)]...)
	}
	p.img.SubImage(at).(*ebiten.Image).WritePixels(p.piece)
	if p.survey(sheet, at) {
		p.lay()
	}
}

// survey looks which tiles of a part have something on them, and tells whether that
// has changed.
func (p *plate) survey(sheet *image.RGBA, at image.Rectangle) (changed bool) {
	for y := at.Min.Y / tilePx * tilePx; y < at.Max.Y; y += tilePx {
		for x := at.Min.X / tilePx * tilePx; x < at.Max.X; x += tilePx {
			i, inked := y/tilePx*p.cols+x/tilePx, !isClear(sheet, image.Rect(x, y, x+tilePx, y+tilePx))
			changed = changed || p.inked[i] != inked
			p.inked[i] = inked
		}
	}
	return changed
}

// lay makes the faces of the inked tiles.
func (p *plate) lay() {
	p.vs, p.is = p.vs[:0], p.is[:0]
	for i := 0; i < len(p.inked); i++ {
		from, row := i, i/p.cols
		for i < len(p.inked) && i/p.cols == row && p.inked[i] {
			i++
		}
		if i == from {
			continue
		}
		i-- // a run ends where the next row begins, too
		run := image.Rect(from%p.cols, row, i%p.cols+1, row+1)
		p.face(image.Rectangle{Min: run.Min.Mul(tilePx), Max: run.Max.Mul(tilePx)}.Intersect(p.img.Bounds()))
	}
}

func (p *plate) face(r image.Rectangle) {
	n := uint32(len(p.vs))
	for _, c := range [4]image.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}} {
		x, y := float32(c.X), float32(c.Y)
		p.vs = append(p.vs, ebiten.Vertex{DstX: x, DstY: y, SrcX: x, SrcY: y, ColorR: 1, ColorG: 1, ColorB: 1, ColorA: 1})
	}
	p.is = append(p.is, n, n+1, n+2, n, n+2, n+3)
}

// draw draws a plate that was painted with the pen was; with another one as it is, larger
// or smaller.
func (p *plate) draw(on ebiten.FinalScreen, was, now still.Pen) {
	if now == was {
		how := &laid
		if p.solid {
			how = &copied
		}
		on.DrawTriangles32(p.vs, p.is, p.img, how)
		return
	}
	var opt ebiten.DrawImageOptions
	k := now.Scale / was.Scale
	opt.GeoM.Translate(-was.OX, -was.OY)
	opt.GeoM.Scale(k, k)
	opt.GeoM.Translate(now.OX, now.OY)
	opt.Filter = ebiten.FilterLinear
	on.DrawImage(p.img, &opt)
}

// A plate is laid on what is there, or copied there where nothing shines through it,
// which takes less of the graphics card.
var (
	laid   = ebiten.DrawTrianglesOptions{ColorScaleMode: ebiten.ColorScaleModePremultipliedAlpha, DisableMipmaps: true}
	copied = ebiten.DrawTrianglesOptions{ColorScaleMode: ebiten.ColorScaleModePremultipliedAlpha, DisableMipmaps: true, Blend: ebiten.BlendCopy}
)

// isClear tells whether a part of a sheet has nothing on it.
func isClear(sheet *image.RGBA, part image.Rectangle) bool {
	part = part.Intersect(sheet.Rect)
	for y := part.Min.Y; y < part.Max.Y; y++ {
		row := sheet.Pix[sheet.PixOffset(part.Min.X, y):sheet.PixOffset(part.Max.X, y)]
		for i := 3; i < len(row); i += 4 {
			if row[i] != 0 {
				return false
			}
		}
	}
	return true
}
