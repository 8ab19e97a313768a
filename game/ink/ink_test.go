package ink

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

var white = color.RGBA{0xff, 0xff, 0xff, 0xff}

// covered is the area that has colour, px².
func covered(s *Sheet) (area float64) {
	for i := 3; i < len(s.Pix); i += 4 {
		area += float64(s.Pix[i]) / 255
	}
	return area
}

func polygon(x, y, r float64, corners int) (pts []Pt) {
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		pts = append(pts, Pt{float32(x + r*cos), float32(y + r*sin)})
	}
	return pts
}

// The areas are those of plane geometry.
func TestShapesCoverTheirArea(t *testing.T) {
	tests := map[string]struct {
		draw func(s *Sheet)
		area float64
	}{
		"face":                      {func(s *Sheet) { s.Face([]Pt{{10.5, 10.25}, {30.5, 10.25}, {30.5, 20.75}, {10.5, 20.75}}) }, 20 * 10.5},
		"disc":                      {func(s *Sheet) { s.Face(polygon(40, 40, 20, 200)) }, math.Pi * 400},
		"straight line":             {func(s *Sheet) { s.Line([]Pt{{10, 10.3}, {50, 10.3}}, false, 3) }, 120},
		"oblique line":              {func(s *Sheet) { s.Line([]Pt{{10, 10}, {40, 50}}, false, 2.5) }, 125},
		"line in two pieces":        {func(s *Sheet) { s.Line([]Pt{{10, 10}, {30, 10}, {30, 10}, {50, 10}}, false, 3) }, 120},
		"bend at a right angle":     {func(s *Sheet) { s.Line([]Pt{{10, 10}, {50, 10}, {50, 40}}, false, 4) }, 160 + 120 - 4 + math.Pi},
		"the same the other way":    {func(s *Sheet) { s.Line([]Pt{{50, 40}, {50, 10}, {10, 10}}, false, 4) }, 160 + 120 - 4 + math.Pi},
		"ring":                      {func(s *Sheet) { s.Line(polygon(40, 40, 20, 100), true, 3) }, 2 * math.Pi * 20 * 3},
		"ring with its first again": {func(s *Sheet) { p := polygon(40, 40, 20, 100); s.Line(append(p, p[0]), true, 3) }, 2 * math.Pi * 20 * 3},
		"two lines that cross":      {func(s *Sheet) { s.Line([]Pt{{10, 30}, {50, 30}}, false, 2); s.Line([]Pt{{30, 10}, {30, 50}}, false, 2) }, 156},
		"partly off the sheet":      {func(s *Sheet) { s.Face([]Pt{{-20, -20}, {10, -20}, {10, 10}, {-20, 10}}) }, 100},
		"line across the sheet":     {func(s *Sheet) { s.Line([]Pt{{-500, 40}, {500, 40}}, false, 2) }, 160},
		"off the sheet":             {func(s *Sheet) { s.Face(polygon(-40, 40, 20, 20)) }, 0},
		"a point":                   {func(s *Sheet) { s.Line([]Pt{{10, 10}, {10, 10}}, true, 2) }, 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := New(80, 80)
			test.draw(s)
			s.Paint(white)
			require.InDelta(t, test.area, covered(s), 0.01*test.area+0.5)
		})
	}
}

func TestErasingLeavesNothingOfTheShapeAndAllOfTheRest(t *testing.T) {
	s := New(80, 80)
	s.Face([]Pt{{10, 10}, {70, 10}, {70, 70}, {10, 70}})
	s.Paint(white)
	for range 2 { // the second time nothing is left to clear
		s.Face(polygon(40, 40, 20, 200))
		s.Erase()
		require.Zero(t, s.RGBAAt(40, 40).A)
		require.Equal(t, white, s.RGBAAt(12, 12))
	}
	require.InDelta(t, 3600-math.Pi*400, covered(s), 20) // the edge was softened twice
	s.Line([]Pt{{0, 12}, {80, 12}}, false, 2)
	s.Erase()
	require.Zero(t, s.RGBAAt(40, 12).A)
}

func TestColourOfALaterShapeLiesOnTop(t *testing.T) {
	s, red := New(20, 20), color.RGBA{0xc0, 0x20, 0x10, 0xff}
	s.Face(polygon(10, 10, 8, 50))
	s.Paint(white)
	s.Face(polygon(10, 10, 4, 50))
	s.Paint(red)
	require.Equal(t, red, s.RGBAAt(10, 10))
	require.Equal(t, white, s.RGBAAt(10, 4))
}
