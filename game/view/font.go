package view

import (
	"bytes"
	"math"

	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

var (
	regular = mustSource(goregular.TTF)
	bold    = mustSource(gobold.TTF)
	faces   = map[faceKey]*text.GoTextFace{}
)

type faceKey struct {
	size float64
	bold bool
}

func mustSource(ttf []byte) *text.GoTextFaceSource {
	s, err := text.NewGoTextFaceSource(bytes.NewReader(ttf))
	if err != nil {
		panic("view: the Go fonts do not parse: " + err.Error())
	}
	return s
}

// face returns the Go font at a size in device px.
func face(size float64, isBold bool) *text.GoTextFace {
	k := faceKey{size, isBold}
	f := faces[k]
	if f == nil {
		src := regular
		if isBold {
			src = bold
		}
		f = &text.GoTextFace{Source: src, Size: size}
		faces[k] = f
	}
	return f
}

// measure is the viewmodel's Measure with the real fonts.
func measure(s string, size float64, isBold bool) float64 {
	return text.Advance(s, face(size, isBold))
}

func round(x float64) float64 { return math.Floor(x + 0.5) }
