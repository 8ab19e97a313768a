// Package strip draws strip charts on their paper: what a column holds, how high the
// paper reaches, the line, the lines of time. It knows neither units nor pages.
package strip

import (
	"math"
	"strconv"
)

// The paper's own measures: it is stretched to its place on a page, and so ruled in
// as many columns as it is wide.
const (
	Wide = 240
	High = 60
)

// Span is the least and the greatest value in one column of a chart.
type Span struct{ Low, High float64 }

// Nothing is the Span of a column without a sample: its Low is above its High.
var Nothing = Span{math.Inf(1), math.Inf(-1)}

// Empty reports whether a column has no sample.
func (s Span) Empty() bool { return s.Low > s.High }

// With is a span that reaches a value too.
func (s Span) With(v float64) Span { return Span{min(s.Low, v), max(s.High, v)} }

// Over is a span that covers what columns hold too.
func (s Span) Over(columns []Span) Span {
	for _, c := range columns {
		s = Span{min(s.Low, c.Low), max(s.High, c.High)}
	}
	return s
}

// headroom keeps a curve off the top, where the scale is written.
const headroom = 1.02

// Top is how high a paper reaches on which a value finds room: 1, 1.5, 2, 3, 4, 5, 6 or
// 8 times a power of ten; 0 for what is next to nothing.
func Top(value float64) float64 {
	if value <= 1e-3 {
		return 0
	}
	tens := int(math.Floor(math.Log10(headroom * value)))
	for _, m := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
		if top := shifted(m, tens); top >= headroom*value {
			return top
		}
	}
	return shifted(1, tens+1)
}

// shifted is m·10ⁿ as it is written: 0.3 and no more.
func shifted(m float64, n int) float64 {
	if n < 0 {
		return m / math.Pow10(-n)
	}
	return m * math.Pow10(n)
}

// Line appends the path of a line through each column's least and greatest value, on paper
// that reaches from low to high. It breaks where a column is empty.
func Line(path []byte, columns []Span, paper Span) []byte {
	pen := byte('M')
	for x, c := range columns {
		if c.Empty() {
			pen = 'M'
			continue
		}
		for _, v := range [2]float64{c.Low, c.High} {
			path = strconv.AppendInt(append(path, pen), int64(x), 10)
			path = strconv.AppendFloat(append(path, ' '), y(v, paper), 'f', 1, 64)
			pen = 'L'
			if c.Low == c.High {
				break
			}
		}
	}
	return path
}

// y is where a value lies: a line keeps its breadth at the edges.
func y(v float64, paper Span) float64 {
	if paper.High <= paper.Low {
		return High - 1
	}
	return 1 + (High-2)*(1-min(max((v-paper.Low)/(paper.High-paper.Low), 0), 1))
}

// Upright is the path of a line from top to foot; nothing beside the paper.
func Upright(x float64) string {
	if x < 0 || x > Wide {
		return ""
	}
	return string(upright(nil, x))
}

func upright(path []byte, x float64) []byte {
	path = strconv.AppendFloat(append(path, 'M'), x, 'f', 1, 64)
	return strconv.AppendInt(append(path, " 0V"...), High, 10)
}

// Ruled is the path of the lines of time on paper that shows overS seconds: how far apart
// they are, the page says beside it.
func Ruled(overS float64) string {
	apartS := 3600.0
	for _, s := range []float64{60, 300, 1800} {
		if overS <= 6*s {
			apartS = s
			break
		}
	}
	var path []byte
	for s := overS - apartS; s > 0; s -= apartS {
		path = upright(path, s/overS*Wide)
	}
	return string(path)
}
