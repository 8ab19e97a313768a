package view

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
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
	img  *ebiten.Image // white; nil for a space
	x, y int           // of img's corner from the pen, px
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

// drawText writes s with its top left corner at x, y, in CSS px of the whole picture.
func drawText(dst *ebiten.Image, s string, x, y, size float64, bold bool, c color.RGBA, to pen) {
	var opt ebiten.DrawImageOptions
	opt.ColorScale.ScaleWithColor(c)
	set(s, x, y, size, bold, to, func(f *face, r rune, dot fixed.Int26_6, base int) {
		if l := f.letter(r, dot&63); l.img != nil {
			opt.GeoM.Reset()
			opt.GeoM.Translate(float64(dot.Floor()+l.x), float64(base+l.y))
			dst.DrawImage(l.img, &opt)
		}
	})
}

// printText writes s into an image in memory as drawText does on the canvas.
func printText(dst draw.Image, s string, x, y, size float64, bold bool, c color.RGBA, to pen) {
	src := image.NewUniform(c)
	set(s, x, y, size, bold, to, func(f *face, r rune, dot fixed.Int26_6, base int) {
		if box, mask, at, _, ok := f.Glyph(fixed.Point26_6{X: dot &^ 15}, r); ok {
			draw.DrawMask(dst, box.Add(image.Pt(0, base)), src, image.Point{}, mask, at, draw.Over)
		}
	})
}

// set tells of each letter of s where its pen stands: dot across, base down, device px.
func set(s string, x, y, size float64, bold bool, to pen, letter func(f *face, r rune, dot fixed.Int26_6, base int)) {
	f := faceOf(round(4*size*to.scale)/4, bold)
	dot := fixed.Int26_6(round(x*to.scale+to.ox)) << 6
	base := int(round(y*to.scale+to.oy)) + f.ascent.Round()
	last := rune(-1)
	for _, r := range s {
		if last >= 0 {
			dot += f.Kern(last, r)
		}
		letter(f, r, dot, base)
		advance, _ := f.GlyphAdvance(r)
		dot += advance
		last = r
	}
}

// letter returns a letter at the quarter of a pixel that is nearest below part.
func (f *face) letter(r rune, part fixed.Int26_6) letter {
	k := letterKey{r, part &^ 15}
	l, known := f.letters[k]
	if !known {
		box, mask, at, _, ok := f.Glyph(fixed.Point26_6{X: k.quarter}, r)
		if ok && !box.Empty() {
			l = letter{stamp(mask, at, box.Size()), box.Min.X, box.Min.Y}
		}
		f.letters[k] = l
	}
	return l
}

// stamp makes a white image of a mask.
func stamp(mask image.Image, at, size image.Point) *ebiten.Image {
	pix := make([]byte, 4*size.X*size.Y)
	for i := range size.X * size.Y {
		_, _, _, a := mask.At(at.X+i%size.X, at.Y+i/size.X).RGBA()
		for c := range 4 {
			pix[4*i+c] = byte(a >> 8)
		}
	}
	img := ebiten.NewImage(size.X, size.Y)
	img.WritePixels(pix)
	return img
}

func round(x float64) float64 { return math.Floor(x + 0.5) }
