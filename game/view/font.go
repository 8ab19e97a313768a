package view

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"brinebench/game/still"
)

// The Go fonts, set letter by letter with kerning: all that the languages of the
// page need. A shaping engine would be a tenth of the program.
var (
	regular = mustFont(goregular.TTF)
	bold    = mustFont(gobold.TTF)
	faces   = map[faceKey]*face{}
)

type faceKey struct {
	size float64
	bold bool
}

// face is a Go font at one size; its letters are drawn once.
type face struct {
	font.Face
	ascent  fixed.Int26_6
	letters map[letterKey]letter
}

// letterKey is a letter and the quarter of a pixel that it stands at.
type letterKey struct {
	r       rune
	quarter fixed.Int26_6
}

type letter struct {
	mask *image.Alpha    // nil for a space
	box  image.Rectangle // of the mask, px from the pen
}

func mustFont(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("view: the Go fonts do not parse: " + err.Error())
	}
	return f
}

// faceOf returns the Go font at a size in device px.
func faceOf(size float64, isBold bool) *face {
	k := faceKey{size, isBold}
	f := faces[k]
	if f == nil {
		src := regular
		if isBold {
			src = bold
		}
		made, err := opentype.NewFace(src, &opentype.FaceOptions{Size: size, DPI: 72})
		if err != nil {
			panic("view: the Go fonts have no such face: " + err.Error())
		}
		f = &face{Face: made, ascent: made.Metrics().Ascent, letters: map[letterKey]letter{}}
		faces[k] = f
	}
	return f
}

// measure is the viewmodel's Measure with the real fonts.
func measure(s string, size float64, isBold bool) float64 {
	return float64(font.MeasureString(faceOf(size, isBold), s)) / 64
}

// printText writes s into an image in memory with its top left corner at x, y, in CSS px
// of the whole picture. It returns where the letters lie, on the image or off it.
func printText(dst *image.RGBA, s string, x, y, size float64, bold bool, c color.RGBA, to still.Pen) (inked image.Rectangle) {
	f := faceOf(round(4*size*to.Scale)/4, bold)
	src := image.NewUniform(c)
	dot := fixed.Int26_6(round(x*to.Scale+to.OX)) << 6
	base := int(round(y*to.Scale+to.OY)) + f.ascent.Round()
	last := rune(-1)
	for _, r := range s {
		if last >= 0 {
			dot += f.Kern(last, r)
		}
		if l := f.letter(r, dot&63); l.mask != nil {
			at := l.box.Add(image.Pt(dot.Floor(), base))
			draw.DrawMask(dst, at, src, image.Point{}, l.mask, image.Point{}, draw.Over)
			inked = inked.Union(at)
		}
		advance, _ := f.GlyphAdvance(r)
		dot += advance
		last = r
	}
	return inked
}

// letter returns a letter at the quarter of a pixel that is nearest below part.
func (f *face) letter(r rune, part fixed.Int26_6) letter {
	k := letterKey{r, part &^ 15}
	l, known := f.letters[k]
	if !known {
		box, mask, at, _, ok := f.Glyph(fixed.Point26_6{X: k.quarter}, r)
		if ok && !box.Empty() {
			l = letter{image.NewAlpha(image.Rectangle{Max: box.Size()}), box}
			draw.Draw(l.mask, l.mask.Rect, mask, at, draw.Src) // the next Glyph draws over its mask
		}
		f.letters[k] = l
	}
	return l
}

func round(x float64) float64 { return math.Floor(x + 0.5) }
