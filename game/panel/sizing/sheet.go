//go:build js

package sizing

import (
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// fillSheet shows the job sheet, with its tables folded away.
func (p *page) fillSheet() {
	lines := []string{say.Text("sizing.customer"), say.Sim(p.Job.Customer)}
	for _, l := range p.Job.Lines[p.system()] {
		lines = append(lines, say.Sim(l.Label), say.Amounts(l.Text))
	}
	tables := dom.El("details", dom.Attrs{"class": "fold", "data-fold": "tables"}, dom.El("summary", nil, say.Text("sizing.tables")))
	box := dom.El("div", nil)
	tables.Add(box)
	tables.On("toggle", func(js.Value) {
		p.fillTables(box, "")
		if tables.Get("open").Bool() { // or they may open below all that is seen
			tablesToTop(tables)
		}
	})
	dom.ByID("sheet").Become(dom.El("h2", nil, say.Sim(p.Job.Title)), dom.Pairs(lines...), tables)
	p.fillLookUp()
}

// fillLookUp makes the buttons by which who answers on a small screen looks up house and
// tables, which there stand above the form.
func (p *page) fillLookUp() {
	back := dom.Button(say.Text("sizing.back"), dom.Attrs{"class": "main", "data-desk": "look-back"})
	back.Hide(p.lookedFrom < 0)
	dom.ByID("look-up").Become(dom.Button(say.Text("sizing.sheet"), dom.Attrs{"data-desk": "look-house"}), dom.Button(say.Text("sizing.tables-short"), dom.Attrs{"data-desk": "look-tables"}), back)
}

// lookUp brings the house or its tables into view, and keeps the place to come back to.
func (p *page) lookUp(what string) {
	if p.lookedFrom < 0 {
		p.lookedFrom = max(0, js.Global().Get("scrollY").Float()-dom.ByID("sheet").Get("offsetHeight").Float())
	}
	p.fillLookUp()
	tables := dom.Wrap(dom.Document.Call("querySelector", `[data-fold="tables"]`))
	switch {
	case what == "look-house":
		toTop(dom.ByID("sheet"))
	case tables.Get("open").Bool():
		tablesToTop(tables)
	default:
		tables.Set("open", true) // and its toggle brings it into view
	}
}

// lookBack goes back to the place in the form, however long the tables above it have become.
func (p *page) lookBack() {
	y := p.lookedFrom + dom.ByID("sheet").Get("offsetHeight").Float()
	p.lookedFrom = -1
	p.fillLookUp()
	js.Global().Call("scrollTo", 0, y)
}

// tablesToTop brings the tables into view: in the sheet where that scrolls by itself, or the
// page would move too, and otherwise in the page.
func tablesToTop(tables dom.Node) {
	if sheet := dom.ByID("sheet"); tables.Get("offsetParent").Equal(sheet.Value) {
		sheet.Set("scrollTop", tables.Get("offsetTop"))
		return
	}
	toTop(tables)
}

func toTop(n dom.Node) { n.Call("scrollIntoView", map[string]any{"block": "start"}) }

// printed is the class of tables that come on paper.
const printed = "printed"

// fillTables fills in the tables once somebody wants them: they take a while.
func (p *page) fillTables(box dom.Node, class string) {
	if box.Get("childElementCount").Int() > 0 {
		return
	}
	tables, err := sim.SizingTables("job", p.Job.JSON, p.look.SI)
	if err != nil {
		panic("sizing: " + err.Error()) // it was opened before
	}
	for _, t := range tables {
		if class == printed && t.ID == sim.SizingRuleTable {
			continue // each stands with its blank
		}
		body := dom.El("tbody", nil)
		for _, row := range t.Rows {
			tr := dom.El("tr", nil)
			for i, cell := range row {
				tag, a := "td", dom.Attrs(nil)
				if i == 0 {
					tag, a = "th", dom.Attrs{"scope": "row"}
				}
				tr.Add(dom.El(tag, a, say.Sim(cell)))
			}
			body.Add(tr)
		}
		var head []string
		for _, h := range t.Head {
			head = append(head, say.Capital(say.Sim(h)))
		}
		title := say.Sim(t.Title)
		box.Add(dom.El("figure", dom.Attrs{"class": "table " + class, "data-table": t.ID}, dom.El("h3", nil, title), dom.Table(title, head, body), dom.El("figcaption", nil, say.Sim(t.Source))))
	}
}
