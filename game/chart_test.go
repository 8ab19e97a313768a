package game

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/strip"
	"brinebench/sim"
)

func chartsOf(levels ...float64) *Charts {
	var c Charts
	for i, l := range levels {
		v := sim.View{TimeS: float64(i)}
		v.Tank.LevelM = l
		c.add(&v)
	}
	return &c
}

func TestChartColumnsKeepTheExtremes(t *testing.T) {
	c := chartsOf(1, 5, 2, 2, 0, 3)
	require.Equal(t, []strip.Span{{Low: 1, High: 5}, {Low: 2, High: 2}, {Low: 0, High: 3}}, c.Columns(nil, TraceBrine, 6, 3))
}

func TestChartIsEmptyBeforeTheFirstSample(t *testing.T) {
	cols := chartsOf(1, 2).Columns(nil, TraceBrine, 4, 4)
	require.Greater(t, cols[0].Low, cols[0].High)
	require.Equal(t, []strip.Span{{Low: 1, High: 1}, {Low: 2, High: 2}}, cols[2:])
}

func TestChartKeepsOneSamplePerSecond(t *testing.T) {
	b := newBench(&fakeSession{})
	b.SetPace(60)
	b.frames(10)
	require.InDelta(t, 600, len(b.charts.samples), 2)
}

func TestChartForgetsTheDayBeforeYesterday(t *testing.T) {
	var c Charts
	for i := range 3 * keepLast {
		c.add(&sim.View{TimeS: float64(i)})
	}
	require.LessOrEqual(t, len(c.samples), 2*keepLast)
	require.Equal(t, float64(3*keepLast-1), c.EndS())
}
