//go:build js

package panel

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// The belief chart's own units.
const (
	beliefWide  = 560 // at most
	beliefSlim  = 280 // at least
	beliefEdge  = 28  // of the panel, beside the chart
	beliefHigh  = 226
	beliefLeft  = 44
	beliefRight = 14
	beliefTop   = 46 // room for the words of two turns and a letter
	beliefFoot  = 26
	beliefApart = 45 // between two numbers of the axis
	mostCurves  = 6
)

// curve is the belief in one candidate, or in all that are not drawn, over the steps.
type curve struct {
	letter, name string
	told         float64 // by what the customer told when he called
	share        []float64
	true         bool
}

// peak is the greatest belief, and the step after which it was; −1 before the first.
func (c *curve) peak() (share float64, step int) {
	share, step = c.told, -1
	for k, s := range c.share {
		if s > share {
			share, step = s, k
		}
	}
	return share, step
}

// beliefPlot is the chart's field.
type beliefPlot struct {
	steps int
	wide  float64
}

func plotOf(r *sim.Report) beliefPlot { return beliefPlot{len(r.Steps), beliefWidth()} }

// beliefWidth is the chart's width, in its own units: that of its place in CSS px, so
// that its letters keep their size, but no more than the chart needs.
func beliefWidth() float64 {
	return min(max(dom.ByID("panels").Get("clientWidth").Float()-beliefEdge, beliefSlim), beliefWide)
}

func (b beliefPlot) x(step int) float64 {
	return beliefLeft + (b.wide-beliefLeft-beliefRight)*(float64(step)+0.5)/float64(b.steps)
}

// beliefChart draws the belief in the likeliest causes after each step; lines
// are told apart by their dashes and by letters, which a list below explains.
func beliefChart(r *sim.Report, curves []curve, turns turns) dom.Node {
	plot := plotOf(r)
	chart := dom.SVG("svg", dom.Attrs{
		"class": "belief", "role": "img",
		"viewBox": "0 0 " + dom.Decimals(plot.wide, 0) + " " + strconv.Itoa(beliefHigh),
	})
	chart.SetAttr("aria-label", say.Text("belief.label"))
	chart.Add(turns.after(plot))
	for _, share := range []float64{0, 0.5, 1} {
		y := beliefY(share)
		chart.Add(dom.SVG("path", dom.Attrs{"class": "grid", "d": "M" + dom.Decimals(beliefLeft, 0) + " " + y + "H" + dom.Decimals(plot.wide-beliefRight, 0)}),
			dom.SVG("text", dom.Attrs{"x": strconv.Itoa(beliefLeft - 6), "y": y, "class": "axis end"}, dom.Percent(share)))
	}
	every := 1 + int(float64(plot.steps*beliefApart)/plot.wide)
	for i := range r.Steps {
		if i%every == 0 {
			chart.Add(dom.SVG("text", dom.Attrs{"x": dom.Decimals(plot.x(i), 1), "y": strconv.Itoa(beliefHigh - 8), "class": "axis middle"}, strconv.Itoa(i+1)))
		}
	}
	chart.Add(turns.lines(plot))
	key := dom.El("ul", dom.Attrs{"class": "key"})
	for k := range curves {
		c := &curves[k]
		class := "curve c" + strconv.Itoa(k)
		if c.true {
			class += " true"
		}
		chart.Add(dom.SVG("path", dom.Attrs{"class": class, "d": plot.path(r, c)}))
		key.Add(dom.El("li", nil, dom.SVG("svg", dom.Attrs{"class": "belief sample", "viewBox": "0 0 34 8", "aria-hidden": "true"}, dom.SVG("path", dom.Attrs{"class": class, "d": "M0 4h34"})),
			dom.El("strong", nil, c.letter), dom.El("span", nil, c.name), dom.El("span", dom.Attrs{"class": "share"}, dom.Percent(c.share[turns.named()]))))
	}
	lx, ly := letterAt(curves, plot)
	for k := range curves { // above all curves
		chart.Add(dom.SVG("text", dom.Attrs{"class": "axis letter", "x": dom.Decimals(lx[k], 1), "y": dom.Decimals(ly[k], 1)}, curves[k].letter))
	}
	return dom.El("figure", nil, dom.El("div", dom.Attrs{"class": "scroll", "tabindex": "0", "role": "region", "aria-label": say.Text("belief.region")}, chart), key,
		dom.El("figcaption", nil, say.Text("belief.caption")+" "+turns.words()))
}

// likeliest are the curves of the true causes and of those believed most at any
// time, and of all others together.
func likeliest(r *sim.Report) []curve {
	var curves []curve
	heavy := r.Truth()
	for i, c := range r.Candidates {
		isTrue := slices.Contains(heavy, c.ID)
		share := make([]float64, len(r.Steps))
		for k := range share {
			share[k] = r.Steps[k].Belief[i]
		}
		told := 0.0
		if i < len(r.Told.Belief) {
			told = r.Told.Belief[i]
		}
		curves = append(curves, curve{name: faultTitle(c), told: told, share: share, true: isTrue})
	}
	slices.SortStableFunc(curves, func(a, b curve) int {
		if a.true != b.true {
			return map[bool]int{true: -1, false: 1}[a.true]
		}
		x, _ := a.peak()
		y, _ := b.peak()
		return cmp.Compare(y, x)
	})
	if len(curves) > mostCurves+1 {
		curves = append(curves[:mostCurves], together(curves[mostCurves:]))
	}
	for k := range curves {
		curves[k].letter = string(rune('A' + k))
	}
	return curves
}

// together is the belief in any of some causes.
func together(of []curve) curve {
	all := curve{name: say.Text("belief.others", len(of)), share: make([]float64, len(of[0].share))}
	for _, c := range of {
		all.told += c.told
		for k, s := range c.share {
			all.share[k] += s
		}
	}
	return all
}

// letterAt places the letter of every curve at its peak, beside those that are
// there already.
func letterAt(curves []curve, plot beliefPlot) (x, y []float64) {
	const apart = 14
	for k := range curves {
		peak, step := curves[k].peak()
		lx, ly := max(plot.x(step), beliefLeft+0.5*apart), beliefYOf(peak)-5
		for moved := true; moved; {
			moved = false
			for i := range x {
				if math.Abs(lx-x[i]) < apart && math.Abs(ly-y[i]) < apart {
					lx, moved = x[i]+1.05*apart, true // clear of it whatever the rounding
				}
			}
		}
		x, y = append(x, lx), append(y, ly)
	}
	return x, y
}

func beliefYOf(share float64) float64 {
	return beliefTop + (1-share)*(beliefHigh-beliefTop-beliefFoot)
}

func beliefY(share float64) string { return dom.Decimals(beliefYOf(share), 1) }

// path is a curve from the edge, where the customer has called, over all steps.
func (b beliefPlot) path(r *sim.Report, c *curve) string {
	var d strings.Builder
	pen := "M"
	if r.Told.Belief != nil {
		d.WriteString("M" + strconv.Itoa(beliefLeft) + " " + beliefY(c.told))
		pen = "L"
	}
	for i, s := range c.share {
		d.WriteString(pen + dom.Decimals(b.x(i), 1) + " " + beliefY(s))
		pen = "L"
	}
	if len(c.share) == 1 {
		d.WriteString("h8") // a single step has no length of its own
	}
	return d.String()
}

// beliefTable gives the numbers of the chart and what was done at each step.
func (p *Panels) beliefTable(r *sim.Report, curves []curve, turns turns) dom.Node {
	head := []string{say.Text("col.step"), say.Text("col.minute"), say.Text("col.done")}
	for _, c := range curves {
		head = append(head, c.letter)
	}
	body := dom.El("tbody", nil)
	if len(r.Says) > 0 {
		row := dom.El("tr", nil, dom.El("td", nil, "0"), dom.El("td", nil, wholeMinutes(0)), dom.El("th", dom.Attrs{"scope": "row"}, customersWords(r)))
		for _, c := range curves {
			row.Add(dom.El("td", nil, dom.Percent(c.told)))
		}
		body.Add(row)
	}
	for i := range r.Steps {
		s := &r.Steps[i]
		done := dom.El("th", dom.Attrs{"scope": "row"}, p.stepText(s))
		row := dom.El("tr", nil, dom.El("td", nil, strconv.Itoa(i+1)), dom.El("td", nil, wholeMinutes(s.Minute)), done)
		if s.Unsafe {
			row.SetAttr("data-unsafe", "")
		}
		if word, at := turns.at(i); at {
			row.SetAttr("data-turn", "")
			done.Add(" ", dom.El("small", nil, word))
		}
		for _, c := range curves {
			row.Add(dom.El("td", nil, dom.Percent(c.share[i])))
		}
		body.Add(row)
	}
	t := dom.Stacked(say.Text("belief.table"), "beliefs", head, body)
	for k, c := range curves { // the list above has the names; who hears the table gets them here
		dom.Wrap(t.Call("querySelectorAll", "thead th").Index(len(head)-len(curves)+k)).SetAttr("aria-label", c.letter+" "+c.name)
	}
	return t
}
