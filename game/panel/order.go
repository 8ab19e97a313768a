//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/game/say"
	"brinebench/sim"
)

// buildOrder makes the form that begins a line of the work order, once.
func (p *Panels) buildOrder() {
	suspect := el("select", attrs{"id": "suspect"}, el("option", attrs{"value": ""}, say.Text("order.open")))
	for i, place := range places {
		for _, part := range p.game.Setup().Parts {
			if !atPlace(part.ID, i) {
				continue
			}
			group := el("optgroup", attrs{"label": say.Text("order.group", place.name(), say.Sim(part.Name))})
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					group.add(el("option", attrs{"value": c.ID}, say.Sim(c.Name)))
				}
			}
			if group.Get("childElementCount").Int() > 0 {
				suspect.add(group)
			}
		}
	}
	suspect.add(el("option", attrs{"value": sim.NoFault}, p.faultName(sim.NoFault)))
	form := el("form", attrs{"id": "order-form", "class": "entry"},
		el("label", attrs{"for": "suspect"}, say.Text("order.suspect")), suspect,
		el("label", attrs{"for": "expected"}, say.Text("order.expected")),
		el("input", attrs{"type": "text", "id": "expected", "maxlength": "100", "autocomplete": "off"}),
		button(say.Text("order.write"), attrs{"data-act": "plan", "class": "act"}))
	form.on("submit", func(e js.Value) { e.Call("preventDefault"); p.plan() })
	byID("order").become(
		el("p", attrs{"class": "none"}, say.Text("order.words")),
		form, el("div", attrs{"id": "order-lines"}), el("div", attrs{"class": "pushes"}, button(say.Text("order.print"), attrs{"data-act": "print"})))
}

// plan begins a line of the work order with what the form holds.
func (p *Panels) plan() {
	said := byID("expected").Get("value").String()
	p.do(sim.Action{Kind: sim.ActPlan, ID: byID("suspect").Get("value").String(), Text: said})
	byID("expected").Value.Set("value", "")
}

// conclude draws the conclusion that a button "LINE CONCLUSION" stands for.
func (p *Panels) conclude(line int, what string) {
	p.do(sim.Action{Kind: sim.ActConclude, ID: what, Value: float64(line)})
}

// fillOrder lists the lines of the work order, oldest first.
func (p *Panels) fillOrder() {
	box := byID("order-lines")
	lines := p.game.Call().Order
	if len(lines) == 0 {
		box.become()
		return
	}
	l := el("ol", attrs{"class": "lines"})
	for i := range lines {
		line := p.orderLine(&lines[i])
		line.set("data-line", strconv.Itoa(i))
		if lines[i].Result >= 0 {
			line.add(p.conclusion(i, &lines[i]))
		}
		l.add(line)
	}
	held := ""
	if active := (node{document.Get("activeElement")}); !active.IsNull() && active.data("conclude") != "" {
		held = "#order-lines [data-conclude=" + quote(active.data("conclude")) + "][data-of-line=" + quote(active.data("ofLine")) + "]"
	}
	box.become(l)
	focusAgain(held)
}

// orderLine is a line of the work order in words.
func (p *Panels) orderLine(l *sim.OrderLine) node {
	suspect, expected := say.Text("order.an-open"), l.Expected
	if l.Suspect != "" {
		suspect = p.faultName(l.Suspect)
	}
	got := say.Text("order.no-reading")
	if l.Result >= 0 {
		if r := p.game.Call().Journal[l.Result].Reading; r != nil {
			got = named(say.Sim(r.Name), result(r, p.game.Look()))
		}
	}
	return el("li", nil, pairs(say.Text("order.suspected"), suspect, say.Text("order.expects"), expected, say.Text("order.result"), got))
}

// conclusion are the buttons that draw one, pressed on the one drawn.
func (p *Panels) conclusion(i int, l *sim.OrderLine) node {
	choice := el("div", attrs{"class": "choice act", "role": "group", "aria-label": say.Text("order.conclusion", i+1)})
	for _, c := range p.game.Setup().Conclusions {
		choice.add(button(say.Text("conclusion."+c), attrs{
			"data-conclude": c, "data-of-line": strconv.Itoa(i), "aria-pressed": strconv.FormatBool(c == l.Conclusion),
		}))
	}
	return choice
}
