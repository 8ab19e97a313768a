//go:build js

package bench

import (
	"slices"
	"strconv"

	core "brinebench/game/bench"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// figure is one row of the table of figures.
type figure struct {
	quantity int
	cells    []dom.Node // of each column
}

// column is one unit whose figures are told: as it is, or as it was.
type column struct {
	unit int
	was  bool
}

// columns are those of the figures and of the charts' lines.
func (p *Page) columns() (list []column) {
	for i := range p.Bench.Units() {
		list = append(list, column{i, false})
	}
	if _, on := p.Bench.WhatIf(); on {
		for i := range p.Bench.Units() {
			list = append(list, column{i, true})
		}
	}
	return list
}

// name is what a column is called: beside others by its side, and by what it was.
func (p *Page) name(c column) string {
	many := len(p.Bench.Units()) > 1
	_, whatIf := p.Bench.WhatIf()
	side := say.Text("bench.side." + strconv.Itoa(c.unit))
	switch {
	case many && c.was:
		return say.Text("bench.side-was", side)
	case many:
		return side
	case c.was:
		return say.Text("bench.was")
	case whatIf:
		return say.Text("bench.now")
	}
	return say.Text("bench.value")
}

// quantityName says what a quantity is.
func quantityName(q *core.Quantity) string {
	switch {
	case q.Kind == "pressure":
		return say.Text("bench.node." + strconv.Itoa(q.At))
	case q.At >= 0:
		return say.Text("cycle.passage." + strconv.Itoa(q.At))
	}
	return say.Text("bench.figure." + q.ID)
}

// fullName says it where nothing about it tells its kind.
func fullName(q *core.Quantity) string {
	if q.At < 0 {
		return quantityName(q)
	}
	return say.Text("bench.of."+q.Kind, quantityName(q))
}

// syncFigures makes the table of figures anew where its columns have changed.
func (p *Page) syncFigures() {
	columns := p.columns()
	key := ""
	for _, c := range columns {
		key += p.name(c) + "|"
	}
	if key == p.seen.figures {
		return
	}
	p.seen.figures = key
	p.figures = nil
	box := dom.ByID("figures")
	box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("bench.figures-hint", mostCharts)))
	all := core.Quantities()
	head := []string{say.Text("bench.chart"), say.Text("bench.quantity")}
	for _, c := range columns {
		head = append(head, p.name(c))
	}
	for _, kind := range core.Kinds {
		body := dom.El("tbody", nil)
		for i := range all {
			if all[i].Kind == kind {
				body.Add(p.figureRow(i, len(columns)))
			}
		}
		name := say.Text("bench.kind." + kind)
		fold := dom.El("details", dom.Attrs{"class": "fold", "data-fold": kind}, dom.El("summary", nil, name), dom.Table(name, head, body))
		fold.Flag("open", kind == "pressure" || kind == "bed" || kind == "tank")
		box.Add(fold)
	}
	p.showCharted()
}

func (p *Page) figureRow(quantity, columns int) dom.Node {
	q := &core.Quantities()[quantity]
	name := quantityName(q)
	pick := dom.El("input", dom.Attrs{"type": "checkbox", "data-chart": q.ID, "aria-label": say.Text("bench.chart-it", name)})
	row := dom.El("tr", dom.Attrs{"data-quantity": q.ID}, dom.El("td", nil, pick), dom.El("th", dom.Attrs{"scope": "row"}, name))
	f := figure{quantity: quantity}
	for range columns {
		cell := dom.El("td", nil)
		f.cells = append(f.cells, cell)
		row.Add(cell)
	}
	p.figures = append(p.figures, f)
	return row
}

// fillFigures tells the figures of the moment, while they are to be seen.
func (p *Page) fillFigures() {
	if dom.ByID("page").Data("current") != "figures" {
		return
	}
	columns := p.columns()
	for i := range p.figures {
		f := &p.figures[i]
		if len(f.cells) != len(columns) || f.cells[0].Get("offsetParent").IsNull() {
			continue
		}
		for k, c := range columns {
			q := &core.Quantities()[f.quantity]
			f.cells[k].SetText(p.look.Quantity(q.Value(p.Bench.View(c.unit, c.was)), q.Unit))
		}
	}
}

// showCharted ticks what is charted.
func (p *Page) showCharted() {
	for _, pick := range dom.All("[data-chart]") {
		q, _ := core.QuantityAt(pick.Data("chart"))
		on := slices.Contains(p.charts, q)
		pick.Value.Set("checked", on)
		pick.Disable(!on && len(p.charts) >= mostCharts || on && len(p.charts) == 1)
	}
}

// toggleChart charts a quantity, or no longer.
func (p *Page) toggleChart(id string, on bool) {
	q, ok := core.QuantityAt(id)
	if !ok {
		return
	}
	p.charts = slices.DeleteFunc(p.charts, func(x int) bool { return x == q })
	if on && len(p.charts) < mostCharts {
		p.charts = append(p.charts, q)
	}
	p.strips = nil
	p.showCharted()
	p.changes++
}
