package viewmodel

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLensKeepsThePointUnderTheFinger(t *testing.T) {
	at := Pt{300, 200}
	l := Whole
	for _, factor := range []float64{1.5, 2, 0.7} {
		before := l.Picture(at)
		l = l.Zoomed(factor, at, 1000, 640)
		after := l.Picture(at)
		require.InDelta(t, before.X, after.X, 1e-9)
		require.InDelta(t, before.Y, after.Y, 1e-9)
	}
	require.InDelta(t, 1.5*2*0.7, l.K, 1e-12)
}

func TestLensNeverShowsMoreThanThePicture(t *testing.T) {
	const w, h = 390, 380
	l := Whole.Panned(50, 50, w, h)
	require.Equal(t, Whole, l, "there is nothing to move")
	for i := range 200 {
		l = l.Zoomed(0.6+1.2*Scatter(i, 1), Pt{w * Scatter(i, 2), h * Scatter(i, 3)}, w, h).Panned(600*(Scatter(i, 4)-0.5), 600*(Scatter(i, 5)-0.5), w, h)
		a, z := l.Picture(Pt{}), l.Picture(Pt{w, h})
		require.GreaterOrEqual(t, min(a.X, a.Y), 0.0)
		require.LessOrEqual(t, z.X, w+1e-9)
		require.LessOrEqual(t, z.Y, h+1e-9)
		require.True(t, l.K >= 1 && l.K <= MaxLens)
	}
	require.Equal(t, Whole, l.Zoomed(0.01, Pt{}, w, h))
}

func TestLensBringsAPartOntoTheStage(t *testing.T) {
	const w, h = 390, 380
	l := Whole.Zoomed(3, Pt{}, w, h)
	part := Rect{300, 250, 60, 40}
	require.False(t, part.Contains(l.Picture(Pt{w / 2, h / 2})))
	l = l.Showing(part, w, h)
	a, z := l.Picture(Pt{}), l.Picture(Pt{w, h})
	require.True(t, a.X <= part.X && a.Y <= part.Y && z.X >= part.X+part.W && z.Y >= part.Y+part.H)
	require.Equal(t, l, l.Showing(part, w, h), "what is on the stage stays where it is")
	large := l.Showing(Rect{100, 0, 200, 380}, w, h)
	require.InDelta(t, 200, large.X+w/large.K/2, 1e-9, "the middle of a large part")
}
