package viewmodel

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func contrast(a, b color.RGBA) float64 {
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	l := func(c color.RGBA) float64 { return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B) }
	x, y := l(a), l(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func TestHatchStaysInsideItsRings(t *testing.T) {
	outer := Rect{0, 0, 100, 60}
	hole := Rect{30, 20, 30, 20}
	total := 0.0
	for _, s := range hatch([][]Pt{outer.corners(), hole.corners()}, 5, true) {
		mid := lerp(s[0], s[1], 0.5)
		require.True(t, outer.Contains(mid) && !hole.Contains(mid), "%v", s)
		require.InDelta(t, math.Abs(s[1].X-s[0].X), math.Abs(s[1].Y-s[0].Y), 1e-9, "45°")
		total += dist(s[0], s[1])
	}
	require.InEpsilon(t, (100*60-30*20)/5.0, total, 0.03, "length × gap is the area")
}

func TestRibbonKeepsItsWidthRoundABend(t *testing.T) {
	pts := fillet([]Pt{{0, 0}, {50, 0}, {50, 50}}, 12)
	m := ribbon(pts, 10)
	for i := 0; i+1 < len(m.V); i += 2 {
		d := dist(m.V[i], m.V[i+1])
		require.True(t, d > 9.9 && d < 10.6, "%v", d)
	}
	require.Len(t, m.I, 6*(len(pts)-1))
}

func TestScatterFillsEvenlyWhateverPartIsUsed(t *testing.T) {
	pts := scatter(400, 1)
	for _, n := range []int{40, 100, 400} {
		var quarter [4]int
		for _, p := range pts[:n] {
			quarter[2*int(p.Y*2)+int(p.X*2)]++
		}
		for _, q := range quarter {
			require.InDelta(t, n/4, q, 0.06*float64(n)+2)
		}
	}
}

func TestSegmentCrossesARectOnlyWhereItTouchesIt(t *testing.T) {
	r := Rect{10, 10, 20, 10}
	for _, row := range []struct {
		name string
		p, q Pt
		want bool
	}{
		{"through", Pt{0, 15}, Pt{40, 15}, true},
		{"slanting through a corner", Pt{5, 18}, Pt{15, 25}, false},
		{"slanting through", Pt{0, 0}, Pt{40, 30}, true},
		{"ends inside", Pt{0, 0}, Pt{15, 15}, true},
		{"inside", Pt{12, 12}, Pt{14, 14}, true},
		{"stops before it", Pt{0, 15}, Pt{8, 15}, false},
		{"above", Pt{0, 5}, Pt{40, 5}, false},
		{"upright beside it", Pt{35, 0}, Pt{35, 40}, false},
		{"a point", Pt{15, 15}, Pt{15, 15}, true},
	} {
		require.Equal(t, row.want, crosses(row.p, row.q, r), row.name)
		require.Equal(t, row.want, crosses(row.q, row.p, r), row.name)
	}
}
