//go:build js

package bench

import (
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game"
	core "brinebench/game/bench"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/strip"
	"brinebench/sim"
)

// chart is a line for each column.
type chart struct {
	figure, value, top, foot, now, rules dom.Node
	cursors                              [2]dom.Node
	lines                                []dom.Node
}

// over is the time that the charts show, in ticks.
func (p *Page) over() int64 {
	s, err := strconv.ParseInt(dom.ByID("charts-over").Get("value").String(), 10, 64)
	if err != nil {
		return 1800 * ticksPerS
	}
	return s * ticksPerS
}

// buildStrips makes the charts, and the list of what the cursors tell.
func (p *Page) buildStrips() {
	columns := p.columns()
	box := dom.ByID("charts-strips")
	box.Become()
	box.SetAttr("data-many", strconv.Itoa(len(p.charts)))
	p.strips = make([]chart, len(p.charts))
	for i, quantity := range p.charts {
		q, s := &core.Quantities()[quantity], &p.strips[i]
		s.value = dom.El("strong", nil)
		s.top, s.foot = dom.El("span", dom.Attrs{"class": "top-value", "aria-hidden": "true"}), dom.El("span", dom.Attrs{"class": "foot-value", "aria-hidden": "true"})
		drawing := dom.SVG("svg", dom.Attrs{"viewBox": "0 0 240 60", "preserveAspectRatio": "none", "aria-hidden": "true"})
		s.rules, s.now = dom.SVG("path", dom.Attrs{"class": "rule"}), dom.SVG("path", dom.Attrs{"class": "mark"})
		drawing.Add(s.rules)
		drawing.Add(s.now)
		for k := range s.cursors {
			s.cursors[k] = dom.SVG("path", dom.Attrs{"class": "cursor cursor-" + strconv.Itoa(k+1)})
			drawing.Add(s.cursors[k])
		}
		for _, c := range columns {
			line := dom.SVG("path", dom.Attrs{"class": "line " + lineClass(c)})
			s.lines = append(s.lines, line)
			drawing.Add(line)
		}
		s.figure = dom.El("figure", dom.Attrs{"data-trace": q.ID},
			dom.El("figcaption", nil, fullName(q)+" ", s.value), dom.El("div", dom.Attrs{"class": "plot"}, s.top, s.foot, drawing))
		box.Add(s.figure)
	}
	p.buildKey(columns)
	p.buildCursors()
}

func lineClass(c column) string {
	class := "unit-" + strconv.Itoa(c.unit)
	if c.was {
		class += " was"
	}
	return class
}

// buildKey tells which line is whose, where there is more than one.
func (p *Page) buildKey(columns []column) {
	key := dom.ByID("charts-key")
	key.Become()
	if len(columns) < 2 {
		return
	}
	for _, c := range columns {
		sample := dom.SVG("svg", dom.Attrs{"viewBox": "0 0 30 8", "aria-hidden": "true", "class": "sample"}, dom.SVG("path", dom.Attrs{"class": "line " + lineClass(c), "d": "M0 4H30"}))
		key.Add(dom.El("span", nil, sample, p.name(c)))
	}
}

// syncCharts draws the strips anew.
func (p *Page) syncCharts() {
	columns := p.columns()
	if p.strips == nil || len(p.strips) != len(p.charts) || len(p.strips) > 0 && len(p.strips[0].lines) != len(columns) {
		p.buildStrips()
	}
	from, to := p.Bench.Window(p.over())
	x := func(tick int64) float64 { return strip.Wide * float64(tick-from) / float64(to-from) }
	ruled := strip.Ruled(float64((to - from) / ticksPerS))
	for i := range p.strips {
		p.drawStrip(&p.strips[i], p.charts[i], columns, from, to)
		s := &p.strips[i]
		s.rules.SetAttr("d", ruled)
		s.now.SetAttr("d", strip.Upright(x(p.Bench.Tick())))
		for k := range s.cursors {
			s.cursors[k].SetAttr("d", strip.Upright(x(p.cursors[k])))
		}
	}
	p.syncCursors(from, to)
}

func (p *Page) drawStrip(s *chart, quantity int, columns []column, from, to int64) {
	q := &core.Quantities()[quantity]
	all := make([][]strip.Span, len(columns))
	seen := strip.Span{High: 4 * p.look.Grain(q.Unit)} // else what cannot be read would fill the paper
	for k, c := range columns {
		all[k] = p.Bench.Spans(nil, c.unit, c.was, quantity, from, to, strip.Wide)
		seen = seen.Over(all[k])
	}
	factor, unit := p.look.Scale(q.Unit)
	low, high := -strip.Top(-seen.Low*factor), strip.Top(seen.High*factor)
	paper := strip.Span{Low: low / factor, High: high / factor}
	for k := range columns {
		s.lines[k].SetAttr("d", string(strip.Line(nil, all[k], paper)))
	}
	s.top.SetText(p.look.ScaleEnd(high, q.Unit))
	s.foot.SetText("")
	if low < 0 {
		s.foot.SetText(p.look.ScaleEnd(low, q.Unit))
	}
	var now []string
	for _, c := range columns[:min(len(columns), core.MostUnits)] { // there is no room for more
		now = append(now, p.brief(q.Value(p.Bench.View(c.unit, c.was)), q.Unit))
	}
	for i := range now[:len(now)-1] { // said once, after the last
		now[i] = strings.TrimSpace(strings.TrimSuffix(now[i], strings.TrimSuffix(unit, say.Text("unit.as-caco3"))))
	}
	s.value.SetText(strings.Join(now, " · "))
}

// brief is a quantity for a strip, which has no room to say what hardness is counted as.
func (p *Page) brief(value float64, unit sim.Unit) string {
	return strings.TrimSuffix(p.look.Quantity(value, unit), say.Text("unit.as-caco3"))
}

// point puts a cursor where a strip is pressed: the second with Shift.
func (p *Page) point(plot dom.Node, e js.Value) {
	box := plot.Call("getBoundingClientRect")
	part := (e.Get("clientX").Float() - box.Get("left").Float()) / box.Get("width").Float()
	from, to := p.Bench.Window(p.over())
	k := 0
	if e.Get("shiftKey").Bool() {
		k = 1
	}
	p.cursors[k] = min(max(from+int64(part*float64(to-from)), 0), p.Bench.EndTick())
	p.syncCharts()
}

// buildCursors makes the sliders of the cursors, and the table of what stands there.
func (p *Page) buildCursors() {
	box := dom.ByID("cursors")
	box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("bench.cursors-hint")))
	for k := range p.cursors {
		id := "cursor-" + strconv.Itoa(k+1)
		box.Add(dom.El("div", dom.Attrs{"class": "knob cursor"}, dom.El("label", dom.Attrs{"for": id}, say.Text("bench."+id)),
			dom.El("input", dom.Attrs{"type": "range", "id": id, "step": "1"}), dom.El("output", dom.Attrs{"for": id, "id": id + "-at"})))
	}
	box.Add(dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("bench.cursor-show"), dom.Attrs{"data-bench": "cursor-show"}),
		dom.Button(say.Text("bench.csv"), dom.Attrs{"data-bench": "csv"})), dom.El("div", dom.Attrs{"id": "readout"}))
}

// syncCursors tells what stands at the cursors. They stay within what the charts show.
func (p *Page) syncCursors(from, to int64) {
	if dom.ByID("page").Data("current") != "charts" {
		return
	}
	low, high := max(from, p.Bench.FirstTick()), min(to, max(p.Bench.EndTick(), 1))
	for k := range p.cursors {
		if p.cursors[k] < low || p.cursors[k] > high {
			p.cursors[k] = low + int64(k+1)*(high-low)/3
		}
		id := "cursor-" + strconv.Itoa(k+1)
		n, at := dom.ByID(id), game.TimeSpan(seconds(p.cursors[k]))
		n.SetAttr("min", strconv.FormatInt(low, 10))
		n.SetAttr("max", strconv.FormatInt(high, 10))
		n.SetAttr("aria-valuetext", at)
		n.Value.Set("value", strconv.FormatInt(p.cursors[k], 10))
		dom.ByID(id + "-at").SetText(at)
	}
	body := dom.El("tbody", nil)
	for _, quantity := range p.charts {
		for _, c := range p.columns() {
			body.Add(p.readout(quantity, c))
		}
	}
	name := say.Text("bench.readout")
	dom.ByID("readout").Become(dom.Table(name, []string{say.Text("bench.quantity"), "1", "2", say.Text("bench.difference")}, body))
}

// readout is the row of what the cursors read off one line.
func (p *Page) readout(quantity int, c column) dom.Node {
	q := &core.Quantities()[quantity]
	name := fullName(q)
	if len(p.columns()) > 1 {
		name += ", " + p.name(c)
	}
	row := dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, name))
	var v [2]float64
	known := true
	for k := range v {
		var ok bool
		v[k], ok = p.Bench.Logged(c.unit, c.was, quantity, p.cursors[k])
		text := "–"
		if ok {
			text = p.look.Quantity(v[k], q.Unit)
		}
		known = known && ok
		row.Add(dom.El("td", nil, text))
	}
	difference := "–"
	if known {
		difference = p.look.Quantity(v[1]-v[0], q.Unit)
	}
	row.Add(dom.El("td", nil, difference))
	return row
}

// saveCSV hands what the charts show to the person as a table.
func (p *Page) saveCSV() {
	from, to := p.Bench.Window(p.over())
	var columns []core.Column
	for _, quantity := range p.charts {
		q := &core.Quantities()[quantity]
		factor, unit := p.look.Scale(q.Unit)
		for _, c := range p.columns() {
			title := fullName(q)
			if len(p.columns()) > 1 {
				title += ", " + p.name(c)
			}
			if unit != "" {
				title += " (" + unit + ")"
			}
			columns = append(columns, core.Column{Title: title, Unit: c.unit, Was: c.was, Quantity: quantity, Scale: func(si float64) float64 { return si * factor }})
		}
	}
	text := p.Bench.CSV(say.Text("bench.csv-time"), columns, max(from, 0), to)
	blob := js.Global().Get("Blob").New([]any{text}, map[string]any{"type": "text/csv"})
	url := js.Global().Get("URL").Call("createObjectURL", blob)
	link := dom.El("a", dom.Attrs{"href": url.String(), "download": "bench.csv"})
	link.Call("click")
	js.Global().Get("URL").Call("revokeObjectURL", url)
	p.tell(say.Text("bench.csv-saved"))
}
