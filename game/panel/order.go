//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/sim"
)

// buildOrder makes the form that begins a line of the work order, once.
func (p *Panels) buildOrder() {
	suspect := el("select", attrs{"id": "suspect"}, el("option", attrs{"value": ""}, "An open question"))
	for i, place := range places {
		for _, part := range p.game.Setup().Parts {
			if !atPlace(part.ID, i) {
				continue
			}
			group := el("optgroup", attrs{"label": place.name + ": " + part.Name})
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					group.add(el("option", attrs{"value": c.ID}, c.Name))
				}
			}
			if group.Get("childElementCount").Int() > 0 {
				suspect.add(group)
			}
		}
	}
	suspect.add(el("option", attrs{"value": sim.NoFault}, p.faultName(sim.NoFault)))
	form := el("form", attrs{"id": "order-form", "class": "entry"},
		el("label", attrs{"for": "suspect"}, "I suspect"), suspect,
		el("label", attrs{"for": "expected"}, "If so, the next reading shows"),
		el("input", attrs{"type": "text", "id": "expected", "maxlength": "100", "autocomplete": "off"}),
		button("Write it down", attrs{"data-act": "plan", "class": "act"}))
	form.on("submit", func(e js.Value) { e.Call("preventDefault"); p.plan() })
	byID("order").become(
		el("p", attrs{"class": "none"}, "Before a test, write down what you suspect and what the test should show if you are right. The next reading becomes the line's result. Writing costs no time; the debrief tells what each reading was worth for it."),
		form, el("div", attrs{"id": "order-lines"}), el("div", attrs{"class": "pushes"}, button("Print the work order", attrs{"data-act": "print"})))
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

var conclusionWords = map[string]string{"for": "speaks for it", "against": "speaks against it", "neither": "says nothing"}

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
	suspect, expected := "an open question", l.Expected
	if l.Suspect != "" {
		suspect = p.faultName(l.Suspect)
	}
	got := "no reading yet"
	if l.Result >= 0 {
		if r := p.game.Call().Journal[l.Result].Reading; r != nil {
			got = named(r.Name, result(r, p.game.Look()))
		}
	}
	return el("li", nil, pairs("Suspected", suspect, "Expected", expected, "Result", got))
}

// conclusion are the buttons that draw one, pressed on the one drawn.
func (p *Panels) conclusion(i int, l *sim.OrderLine) node {
	choice := el("div", attrs{"class": "choice act", "role": "group", "aria-label": "Conclusion of line " + strconv.Itoa(i+1)})
	for _, c := range p.game.Setup().Conclusions {
		choice.add(button(conclusionWords[c], attrs{
			"data-conclude": c, "data-of-line": strconv.Itoa(i), "aria-pressed": strconv.FormatBool(c == l.Conclusion),
		}))
	}
	return choice
}
