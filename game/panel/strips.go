//go:build js

package panel

import (
	"strconv"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/strip"
	"brinebench/sim"
)

// chart is one of the recorder: a line over the last stretch of time.
type chart struct {
	value, top, line, marks, rules dom.Node
	drawing                        dom.Node
	still                          dom.Node // tells that nothing flows where it is taken
	spans                          []strip.Span
	path                           []byte // scratch of the line's path
	course                         course // as it is told
}

// course is what the words for a chart's course depend on.
type course struct {
	all   strip.Span
	overS float64
	look  game.Look
}

// charted is what the strips depend on: they are drawn anew when it changes.
type charted struct {
	endS, overS float64
	marks       int
	look        game.Look
}

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
		s.course = course{}
		s.value, s.still = dom.El("strong", nil), dom.El("small", dom.Attrs{"hidden": ""}, say.Text("trace.stands"))
		s.top = dom.El("span", dom.Attrs{"class": "top-value", "aria-hidden": "true"})
		s.rules, s.marks = dom.SVG("path", dom.Attrs{"class": "rule"}), dom.SVG("path", dom.Attrs{"class": "mark"})
		s.line = dom.SVG("path", dom.Attrs{"class": "line"})
		s.drawing = dom.SVG("svg", dom.Attrs{"viewBox": "0 0 240 60", "preserveAspectRatio": "none", "role": "img", "aria-label": say.Text("trace." + traces[i].id)}, s.rules, s.marks, s.line)
		box.Add(dom.El("figure", dom.Attrs{"data-trace": strconv.Itoa(i)},
			dom.El("figcaption", nil, say.Text("trace."+traces[i].id)+" ", dom.El("span", nil, s.value, s.still)), dom.El("div", dom.Attrs{"class": "plot"}, s.top, s.drawing)))
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
	ruled := strip.Ruled(overS)
	marks := markPath(since, startS, overS)
	p.strips[game.TraceHardness].still.Hide(!p.game.OutletStands())
	for i := range p.strips {
		s, l := &p.strips[i], now.look
		s.spans = charts.Columns(s.spans[:0], game.Trace(i), overS, strip.Wide)
		factor, _ := l.Scale(traces[i].unit)
		top := strip.Top(p.highest(game.Trace(i), s.spans) * factor)
		s.path = strip.Line(s.path[:0], s.spans, strip.Span{High: top / factor})
		s.line.SetAttr("d", string(s.path))
		s.marks.SetAttr("d", marks)
		s.rules.SetAttr("d", ruled)
		s.top.SetText(l.ScaleEnd(top, traces[i].unit))
		if c := (course{strip.Nothing.Over(s.spans), overS, l}); c != s.course && !c.all.Empty() {
			s.course = c
			over := dom.ByID("charts-over").Get("selectedOptions").Index(0).Get("textContent").String()
			s.drawing.SetAttr("aria-label", say.Text("trace.course", say.Text("trace."+traces[i].id), over, l.Quantity(c.all.Low, traces[i].unit), l.Quantity(c.all.High, traces[i].unit)))
		}
		if n := len(s.spans); n > 0 && !s.spans[n-1].Empty() {
			value, _ := strings.CutSuffix(l.Quantity(s.spans[n-1].High, traces[i].unit), say.Text("unit.as-caco3")) // no room
			s.value.SetText(value)
		}
	}
}

// highest is the value that must fit on a strip: what was seen, and never so
// little that noise fills the paper.
func (p *Panels) highest(t game.Trace, spans []strip.Span) float64 {
	s := p.game.Setup()
	least := [game.NumTraces]float64{s.SupplyPa, 0.5 * sim.GPM, s.FloatM, s.FeedHardnessMolM3}
	return strip.Span{High: least[t]}.Over(spans).High
}

// markPath draws an upright line for each act.
func markPath(marks []game.Mark, startS, overS float64) string {
	var b strings.Builder
	for _, m := range marks {
		b.WriteString(strip.Upright((m.TimeS - startS) / overS * strip.Wide))
	}
	return b.String()
}
