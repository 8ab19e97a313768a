package game

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

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
	require.Equal(t, []Span{{1, 5}, {2, 2}, {0, 3}}, c.Columns(nil, TraceBrine, 6, 3))
}

func TestChartIsEmptyBeforeTheFirstSample(t *testing.T) {
	cols := chartsOf(1, 2).Columns(nil, TraceBrine, 4, 4)
	require.Greater(t, cols[0].Low, cols[0].High)
	require.Equal(t, []Span{{1, 1}, {2, 2}}, cols[2:])
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

func TestChartPaperIsRuledByTheClock(t *testing.T) {
	require.Equal(t, "M192.0 0V60M144.0 0V60M96.0 0V60M48.0 0V60", Ruled(300, 240, 60), "a minute apart")
	require.Equal(t, "M200.0 0V60M160.0 0V60M120.0 0V60M80.0 0V60M40.0 0V60", Ruled(1800, 240, 60), "five minutes")
	require.Equal(t, Ruled(1800, 240, 60), Ruled(10800, 240, 60), "half an hour")
	require.Equal(t, 7, strings.Count(Ruled(28800, 240, 60), "M"), "an hour")
}
