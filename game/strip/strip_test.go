package strip

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPaperIsRuledByTheClock(t *testing.T) {
	require.Equal(t, "M192.0 0V60M144.0 0V60M96.0 0V60M48.0 0V60", Ruled(300), "a minute apart")
	require.Equal(t, "M200.0 0V60M160.0 0V60M120.0 0V60M80.0 0V60M40.0 0V60", Ruled(1800), "five minutes")
	require.Equal(t, Ruled(1800), Ruled(10800), "half an hour")
	require.Equal(t, 7, strings.Count(Ruled(28800), "M"), "an hour")
}

func TestPaperReachesARoundValueAboveTheCurve(t *testing.T) {
	for value, top := range map[string]struct{ value, top float64 }{
		"a pressure":               {58, 60},
		"one that touches the top": {60, 80},
		"a trickle":                {0.012, 0.015},
		"as it is written":         {0.29, 0.3},
		"near a power of ten":      {9.9, 15},
		"a power of ten":           {100, 150},
		"next to nothing":          {1e-4, 0},
		"below nothing":            {-3, 0},
	} {
		require.Equal(t, top.top, Top(top.value), value)
	}
	for v := 0.002; v < 1e5; v *= 1.07 {
		require.Greater(t, Top(v), v)
		require.LessOrEqual(t, Top(v), 1.6*v, "the curve has most of it")
	}
}

func TestLineGoesThroughBothEndsOfAColumn(t *testing.T) {
	paper := Span{0, 58}
	require.Equal(t, "M0 59.0L1 49.0L2 39.0L2 1.0", string(Line(nil, []Span{{0, 0}, {10, 10}, {20, 58}}, paper)))
	require.Equal(t, "M1 59.0M3 59.0", string(Line(nil, []Span{Nothing, {0, 0}, Nothing, {0, 0}}, paper)), "it breaks where nothing is known")
	require.Equal(t, "M0 30.0", string(Line(nil, []Span{{0, 0}}, Span{-5, 5})), "below nothing too")
	require.Equal(t, "M0 59.0", string(Line(nil, []Span{{3, 3}}, Span{})), "paper that reaches nowhere")
}

func TestASpanReachesWhatItIsGiven(t *testing.T) {
	require.True(t, Nothing.Empty())
	require.Equal(t, Span{2, 2}, Nothing.With(2))
	require.Equal(t, Span{-1, 5}, Span{0, 0}.Over([]Span{Nothing, {-1, 0}, {2, 5}}))
	require.Equal(t, Span{0, 3}, Span{0, 3}.Over([]Span{Nothing}))
}

func TestNothingIsDrawnBesideThePaper(t *testing.T) {
	require.Equal(t, "M12.5 0V60", Upright(12.5))
	require.Empty(t, Upright(-0.1))
	require.Empty(t, Upright(Wide+0.1))
	require.NotEmpty(t, Upright(Wide))
	require.Empty(t, Upright(math.Inf(1)))
}
