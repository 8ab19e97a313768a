//go:build js

package panel

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"brinebench/sim"
)

// The belief chart's own units.
const (
	beliefWide  = 600
	beliefHigh  = 200
	beliefLeft  = 44
	beliefRight = 210 // room for the names
	beliefTop   = 12
	beliefFoot  = 26
	mostCurves  = 5
)

// curve is one candidate's belief over the steps.
type curve struct {
	candidate int
	name      string
	true      bool
}

// beliefChart draws the belief in the likeliest causes after each step; lines
// are told apart by their dashes and the names at their ends.
func beliefChart(r *sim.Report) node {
	chart := svg("svg", attrs{
		"class": "belief", "role": "img",
		"viewBox": "0 0 " + strconv.Itoa(beliefWide) + " " + strconv.Itoa(beliefHigh),
	})
	chart.set("aria-label", "Belief in each cause after each step; the same numbers are in the table below.")
	for _, share := range []float64{0, 0.5, 1} {
		y := beliefY(share)
		chart.add(svg("path", attrs{"class": "grid", "d": "M" + decimals(beliefLeft, 0) + " " + y + "H" + strconv.Itoa(beliefWide-beliefRight)}),
			svg("text", attrs{"x": strconv.Itoa(beliefLeft - 6), "y": y, "class": "axis end"}, percent(share)))
	}
	for i := range r.Steps {
		if len(r.Steps) <= 12 || i%(len(r.Steps)/12+1) == 0 {
			chart.add(svg("text", attrs{"x": beliefX(i, r), "y": strconv.Itoa(beliefHigh - 8), "class": "axis middle"}, strconv.Itoa(i+1)))
		}
	}
	curves := likeliest(r)
	names := spread(curves, r)
	for k, c := range curves {
		class := "curve c" + strconv.Itoa(k)
		if c.true {
			class += " true"
		}
		x := beliefWide - beliefRight + 6
		chart.add(svg("path", attrs{"class": class, "d": beliefPath(r, c.candidate)}),
			svg("path", attrs{"class": class, "d": "M" + strconv.Itoa(x) + " " + decimals(names[k]-4, 1) + "h24"}),
			svg("text", attrs{"class": "axis", "x": strconv.Itoa(x + 30), "y": decimals(names[k], 1)}, c.name))
	}
	return el("figure", nil, el("div", attrs{"class": "scroll", "tabindex": "0", "role": "region", "aria-label": "Chart of beliefs"}, chart), el("figcaption", nil, "How likely each cause was, after each step, by the readings you had. The steps are numbered as in the table; the heavy line is the true cause."))
}

// likeliest picks the true causes and those believed most at any time, by their last belief.
func likeliest(r *sim.Report) []curve {
	peak := func(i int) float64 {
		h := 0.0
		for _, s := range r.Steps {
			h = max(h, s.Belief[i])
		}
		return h
	}
	var curves []curve
	for i, c := range r.Candidates {
		isTrue := slices.ContainsFunc(r.True, func(t sim.FaultInfo) bool { return t.ID == c.ID }) || len(r.True) == 0 && c.ID == sim.NoFault
		curves = append(curves, curve{i, faultTitle(c), isTrue})
	}
	slices.SortStableFunc(curves, func(a, b curve) int {
		if a.true != b.true {
			return map[bool]int{true: -1, false: 1}[a.true]
		}
		return compare(peak(b.candidate), peak(a.candidate))
	})
	return curves[:min(len(curves), mostCurves)]
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func lastBelief(r *sim.Report, candidate int) float64 {
	return r.Steps[len(r.Steps)-1].Belief[candidate]
}

// spread sets the names at the ends of their curves, a line's height apart.
func spread(curves []curve, r *sim.Report) []float64 {
	const apart = 15
	order := make([]int, len(curves))
	y := make([]float64, len(curves))
	for k, c := range curves {
		order[k] = k
		y[k] = beliefYOf(lastBelief(r, c.candidate)) + 4
	}
	slices.SortStableFunc(order, func(a, b int) int { return compare(y[a], y[b]) })
	for i, k := range order[1:] {
		y[k] = math.Max(y[k], y[order[i]]+apart)
	}
	lowest := float64(beliefHigh - beliefFoot + 4)
	for i := len(order) - 1; i >= 0; i-- {
		y[order[i]] = math.Min(y[order[i]], lowest)
		lowest = y[order[i]] - apart
	}
	return y
}

func beliefYOf(share float64) float64 {
	return beliefTop + (1-share)*(beliefHigh-beliefTop-beliefFoot)
}

func beliefY(share float64) string { return decimals(beliefYOf(share), 1) }

func beliefX(step int, r *sim.Report) string {
	span := float64(beliefWide - beliefLeft - beliefRight)
	return decimals(beliefLeft+span*(float64(step)+0.5)/float64(len(r.Steps)), 1)
}

func beliefPath(r *sim.Report, candidate int) string {
	var b strings.Builder
	for i, s := range r.Steps {
		pen := "L"
		if i == 0 {
			pen = "M"
		}
		b.WriteString(pen + beliefX(i, r) + " " + beliefY(s.Belief[candidate]))
	}
	if len(r.Steps) == 1 {
		b.WriteString("h8") // a single step has no length of its own
	}
	return b.String()
}

// beliefTable gives the numbers of the chart and what was done at each step.
func (p *Panels) beliefTable(r *sim.Report) node {
	curves := likeliest(r)
	head := []string{"Step", "Minute", "What was done"}
	for _, c := range curves {
		head = append(head, c.name)
	}
	body := el("tbody", nil)
	for i := range r.Steps {
		s := &r.Steps[i]
		row := el("tr", nil, el("td", nil, strconv.Itoa(i+1)), el("td", nil, wholeMinutes(s.Minute)), el("th", attrs{"scope": "row"}, p.stepText(s)))
		if s.Unsafe {
			row.set("data-unsafe", "")
		}
		for _, c := range curves {
			row.add(el("td", nil, percent(s.Belief[c.candidate])))
		}
		body.add(row)
	}
	return table("Belief after each step", head, body)
}
