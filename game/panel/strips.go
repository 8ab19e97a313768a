//go:build js

package panel

import (
	"math"
	"strconv"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// strip is one chart of the recorder: a line over the last stretch of time.
type strip struct {
	value, top, line, marks, rules dom.Node
	spans                          []game.Span
	path                           []byte // scratch of the line's path
}

// charted is what the strips depend on: they are drawn anew when it changes.
type charted struct {
	endS, overS float64
	marks       int
	look        game.Look
}

// The drawing's own units: it is stretched to its place on the page.
const (
	stripWide = 240
	stripHigh = 60
)

var traces = [game.NumTraces]struct {
	id   string
	unit sim.Unit
}{
	game.TracePressure: {"pressure", sim.UnitPressure},
	game.TraceDrain:    {"drain", sim.UnitFlow},
	game.TraceBrine:    {"brine", sim.UnitLength},
	game.TraceHardness: {"hardness", sim.UnitHardness},
}

func (p *Panels) buildCharts() {
	box := dom.ByID("charts-strips")
	box.Become()
	p.charted = charted{}
	for i := range p.strips {
		s := &p.strips[i]
		s.value, s.top = dom.El("strong", nil), dom.El("span", dom.Attrs{"class": "top-value", "aria-hidden": "true"})
		s.rules, s.marks = dom.SVG("path", dom.Attrs{"class": "rule"}), dom.SVG("path", dom.Attrs{"class": "mark"})
		s.line = dom.SVG("path", dom.Attrs{"class": "line"})
		drawing := dom.SVG("svg", dom.Attrs{"viewBox": "0 0 240 60", "preserveAspectRatio": "none", "aria-hidden": "true"}, s.rules, s.marks, s.line)
		box.Add(dom.El("figure", dom.Attrs{"data-trace": strconv.Itoa(i)},
			dom.El("figcaption", nil, say.Text("trace."+traces[i].id)+" ", s.value), dom.El("div", dom.Attrs{"class": "plot"}, s.top, drawing)))
	}
}

// syncCharts draws the strips anew: four lines, one attribute each.
func (p *Panels) syncCharts() {
	charts := p.game.Charts()
	overS, err := strconv.ParseFloat(dom.ByID("charts-over").Get("value").String(), 64)
	if err != nil {
		return
	}
	startS := charts.EndS() - overS
	since := charts.MarksSince(startS)
	now := charted{charts.EndS(), overS, len(since), p.game.Look()}
	if now == p.charted {
		return
	}
	p.charted = now
	ruled := game.Ruled(overS, stripWide, stripHigh)
	marks := markPath(since, startS, overS)
	for i := range p.strips {
		s, l := &p.strips[i], now.look
		s.spans = charts.Columns(s.spans[:0], game.Trace(i), overS, stripWide)
		factor, unit := l.Scale(traces[i].unit)
		top := roundUp(headroom * p.highest(game.Trace(i), s.spans) * factor)
		s.path = linePath(s.path[:0], s.spans, top/factor)
		s.line.SetAttr("d", string(s.path))
		s.marks.SetAttr("d", marks)
		s.rules.SetAttr("d", ruled)
		s.top.SetText(say.Number(top, -1) + " " + unit)
		if n := len(s.spans); n > 0 && s.spans[n-1].Low <= s.spans[n-1].High {
			value, _ := strings.CutSuffix(l.Quantity(s.spans[n-1].High, traces[i].unit), say.Text("unit.as-caco3")) // no room
			s.value.SetText(value)
		}
	}
}

// highest is the value that must fit on a strip: what was seen, and never so
// little that noise fills the paper.
func (p *Panels) highest(t game.Trace, spans []game.Span) float64 {
	s := p.game.Setup()
	least := [game.NumTraces]float64{s.SupplyPa, 0.5 * 6.31e-5, s.FloatM, s.FeedHardnessMolM3}
	h := least[t]
	for _, c := range spans {
		if c.Low <= c.High {
			h = max(h, c.High)
		}
	}
	return h
}

// headroom keeps a curve off the top, where the scale is written.
const headroom = 1.02

// roundUp gives the next 1, 1.5, 2, 3, 4, 5, 6 or 8 times a power of ten.
func roundUp(x float64) float64 {
	if x <= 0 {
		return 1
	}
	ten := 1.0
	for ten*10 <= x {
		ten *= 10
	}
	for ten > x {
		ten /= 10
	}
	for _, m := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10} {
		if m*ten >= x {
			return math.Round(m*ten*1e6) / 1e6
		}
	}
	return 10 * ten
}

// linePath appends a line through each column's lowest and highest value.
func linePath(path []byte, spans []game.Span, top float64) []byte {
	pen := byte('M')
	for x, c := range spans {
		if c.Low > c.High {
			pen = 'M'
			continue
		}
		for _, v := range [2]float64{c.Low, c.High} {
			y := stripHigh * (1 - v/top)
			path = strconv.AppendInt(append(path, pen), int64(x), 10)
			path = strconv.AppendFloat(append(path, ' '), math.Max(y, 0), 'f', 1, 64)
			pen = 'L'
			if c.Low == c.High {
				break
			}
		}
	}
	return path
}

// markPath draws an upright line for each act.
func markPath(marks []game.Mark, startS, overS float64) string {
	var b strings.Builder
	for _, m := range marks {
		x := strconv.FormatFloat((m.TimeS-startS)/overS*stripWide, 'f', 1, 64)
		b.WriteString("M" + x + " 0V" + strconv.Itoa(stripHigh))
	}
	return b.String()
}
