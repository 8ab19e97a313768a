//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildOrder makes the form that begins a line of the work order, once.
func (p *Panels) buildOrder() {
	suspect := dom.El("select", dom.Attrs{"id": "suspect"}, dom.El("option", dom.Attrs{"value": ""}, say.Text("order.open")))
	for i, place := range places {
		for _, part := range p.game.Setup().Parts {
			if !atPlace(part.ID, i) {
				continue
			}
			group := dom.El("optgroup", dom.Attrs{"label": say.Text("order.group", place.name(), say.Sim(part.Name))})
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					group.Add(dom.El("option", dom.Attrs{"value": c.ID}, say.Sim(c.Name)))
				}
			}
			if group.Get("childElementCount").Int() > 0 {
				suspect.Add(group)
			}
		}
	}
	suspect.Add(dom.El("option", dom.Attrs{"value": sim.NoFault}, faultName(sim.NoFault)))
	form := dom.El("form", dom.Attrs{"id": "order-form", "class": "entry"},
		dom.El("label", dom.Attrs{"for": "suspect"}, say.Text("order.suspect")), suspect,
		dom.El("label", dom.Attrs{"for": "expected"}, say.Text("order.expected")),
		dom.El("input", dom.Attrs{"type": "text", "id": "expected", "maxlength": "100", "autocomplete": "off"}),
		dom.Button(say.Text("order.write"), dom.Attrs{"data-act": "plan", "class": "act"}))
	form.On("submit", func(e js.Value) { e.Call("preventDefault"); p.plan() })
	dom.ByID("order").Become(
		dom.El("p", dom.Attrs{"class": "none"}, say.Text("order.words")),
		form, dom.El("div", dom.Attrs{"id": "order-lines"}), dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("order.print"), dom.Attrs{"data-act": "print"})))
}

// plan begins a line of the work order with what the form holds.
func (p *Panels) plan() {
	said := dom.ByID("expected").Get("value").String()
	p.do(sim.Action{Kind: sim.ActPlan, ID: dom.ByID("suspect").Get("value").String(), Text: said})
	dom.ByID("expected").Value.Set("value", "")
}

// conclude draws the conclusion that a button "LINE CONCLUSION" stands for.
func (p *Panels) conclude(line int, what string) {
	p.do(sim.Action{Kind: sim.ActConclude, ID: what, Value: float64(line)})
}

// fillOrder lists the lines of the work order, oldest first.
func (p *Panels) fillOrder() {
	box := dom.ByID("order-lines")
	lines := p.game.Call().Order
	if len(lines) == 0 {
		box.Become()
		return
	}
	l := dom.El("ol", dom.Attrs{"class": "lines"})
	for i := range lines {
		line := p.orderLine(&lines[i])
		line.SetAttr("data-line", strconv.Itoa(i))
		if lines[i].Result >= 0 {
			line.Add(p.conclusion(i, &lines[i]))
		}
		l.Add(line)
	}
	held := ""
	if active := dom.Wrap(dom.Document.Get("activeElement")); !active.IsNull() && active.Data("conclude") != "" {
		held = "#order-lines [data-conclude=" + dom.Quote(active.Data("conclude")) + "][data-of-line=" + dom.Quote(active.Data("ofLine")) + "]"
	}
	box.Become(l)
	focusAgain(held)
}

// orderLine is a line of the work order in words.
func (p *Panels) orderLine(l *sim.OrderLine) dom.Node {
	suspect, expected := say.Text("order.an-open"), l.Expected
	if l.Suspect != "" {
		suspect = faultName(l.Suspect)
	}
	got := say.Text("order.no-reading")
	if l.Result >= 0 {
		if r := p.game.Call().Journal[l.Result].Reading; r != nil {
			got = named(say.Sim(r.Name), result(r, p.game.Look()))
		}
	}
	return dom.El("li", nil, dom.Pairs(say.Text("order.suspected"), suspect, say.Text("order.expects"), expected, say.Text("order.result"), got))
}

// conclusion are the buttons that draw one, pressed on the one drawn.
func (p *Panels) conclusion(i int, l *sim.OrderLine) dom.Node {
	choice := dom.El("div", dom.Attrs{"class": "choice act", "role": "group", "aria-label": say.Text("order.conclusion", i+1)})
	for _, c := range p.game.Setup().Conclusions {
		choice.Add(dom.Button(say.Text("conclusion."+c), dom.Attrs{
			"data-conclude": c, "data-of-line": strconv.Itoa(i), "aria-pressed": strconv.FormatBool(c == l.Conclusion),
		}))
	}
	return choice
}
