//go:build js

package sizing

import (
	"strings"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

// forms of the page, by the id of their element.
const (
	ownForm    = "own"
	answerForm = "answer"
	seedForm   = "seed-form"
)

// handle is a figure's id as part of the id of an element.
func handle(id string) string { return strings.ReplaceAll(id, ".", "-") }

// field makes the label, the text and the unit of a figure; trouble stands below it.
func (p *page) field(form string, f *sizing.Form, e *sim.SizingEntry, label string) dom.Node {
	h, t := handle(e.ID), f.Typed[e.ID]
	input := dom.El("input", dom.Attrs{"type": "text", "id": "f-" + h, "data-figure-of": form, "data-id": e.ID, "value": t.Text, "autocomplete": "off", "inputmode": "decimal", "maxlength": "60"})
	if e.Whole {
		input.SetAttr("inputmode", "numeric")
	}
	row := dom.El("div", dom.Attrs{"class": "field"}, dom.El("label", dom.Attrs{"for": "f-" + h}, label))
	with := dom.El("div", dom.Attrs{"class": "with-unit"}, input)
	units := e.Units[p.system()]
	switch {
	case len(distinct(units)) > 1:
		with.Add(p.unitList(form, e, t, label))
	case units[0].Name != "":
		with.Add(dom.El("span", dom.Attrs{"class": "unit", "id": "u-" + h}, sizing.UnitName(units[0].Name)))
		input.SetAttr("aria-describedby", "u-"+h)
	}
	row.Add(with, dom.El("p", dom.Attrs{"class": "trouble", "id": "e-" + h}))
	return row
}

// distinct are units, each name once.
func distinct(units []sim.SizingUnit) (list []sim.SizingUnit) {
	seen := map[string]bool{}
	for _, u := range units {
		if !seen[u.Name] {
			seen[u.Name] = true
			list = append(list, u)
		}
	}
	return list
}

func (p *page) unitList(form string, e *sim.SizingEntry, t sizing.Typed, label string) dom.Node {
	pick := dom.El("select", dom.Attrs{"id": "u-" + handle(e.ID), "data-unit-of": form, "data-id": e.ID, "aria-label": say.Text("sizing.unit-of", label)})
	for _, u := range distinct(e.Units[p.system()]) {
		o := dom.El("option", dom.Attrs{"value": u.Name}, sizing.UnitName(u.Name))
		o.Flag("selected", u.Name == t.Unit)
		pick.Add(o)
	}
	return pick
}

// choice makes a list to choose from; options are pairs of value and name.
func choice(form, id, label, chosen string, options ...string) dom.Node {
	pick := dom.El("select", dom.Attrs{"id": "c-" + handle(id), "data-choice-of": form, "data-id": id})
	for i := 0; i+1 < len(options); i += 2 {
		o := dom.El("option", dom.Attrs{"value": options[i]}, options[i+1])
		o.Flag("selected", options[i] == chosen)
		pick.Add(o)
	}
	return dom.El("div", dom.Attrs{"class": "field"}, dom.El("label", dom.Attrs{"for": "c-" + handle(id)}, label), dom.El("div", dom.Attrs{"class": "with-unit"}, pick))
}

// form returns the form of an id to change, and what keeps the change.
func (p *page) form(id string) (f *sizing.Form, keep func()) {
	if id == ownForm {
		return &p.Own, p.keep
	}
	answer := p.Answer()
	return &answer, func() {
		p.SetAnswer(answer)
		p.keep()
		p.fillFilled()
	}
}

// typed keeps what is being typed, at every key.
func (p *page) typed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	if form := n.Data("figureOf"); form != "" {
		p.take(form, n.Data("id"))
	} else if n.Data("textOf") == ownForm {
		p.Own.Choose(n.Data("id"), n.Get("value").String())
		p.keep()
	}
}

// take keeps what a figure's text and unit hold now. A unit counts only beside a text, so
// that empty fields follow the system.
func (p *page) take(form, id string) {
	f, keep := p.form(form)
	t := sizing.Typed{Text: dom.ByID("f-" + handle(id)).Get("value").String()}
	if t.Text != "" {
		if u := dom.Document.Call("querySelector", "select#u-"+handle(id)); !u.IsNull() {
			t.Unit = u.Get("value").String()
		}
	}
	f.Set(id, t)
	keep()
}

// adoptUnit chooses the unit that was typed behind a figure, as who types one means it.
func (p *page) adoptUnit(form, id string) {
	name := sizing.TypedUnit(p.entry(form, id), dom.ByID("f-"+handle(id)).Get("value").String())
	u := dom.Document.Call("querySelector", "select#u-"+handle(id))
	if name == "" || u.IsNull() {
		return
	}
	u.Set("value", name)
	p.take(form, id)
}

// changed takes what lists are set to, and looks at a figure that was left.
func (p *page) changed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	switch {
	case n.Data("choiceOf") != "":
		f, keep := p.form(n.Data("choiceOf"))
		f.Choose(n.Data("id"), n.Get("value").String())
		keep()
	case n.Data("checkOf") != "":
		f, keep := p.form(n.Data("checkOf"))
		f.Choose(n.Data("id"), map[bool]string{true: "on"}[n.Get("checked").Bool()])
		keep()
	case n.Data("unitOf") != "":
		p.take(n.Data("unitOf"), n.Data("id"))
		p.recheck(n.Data("unitOf"), n.Data("id"))
	case n.Data("figureOf") != "":
		p.adoptUnit(n.Data("figureOf"), n.Data("id"))
		p.left = figureLeft{n.Data("figureOf"), n.Data("id")}
	case n.Get("id").String() == "sheet-choice":
		if p.Open(n.Get("value").String()) {
			p.taken()
		}
	}
}

// settle looks at the figure that was left. It waits for the end of the click or the key
// that left it, so that no message moves a button away under the finger.
func (p *page) settle() {
	if at := p.left; at.id != "" {
		p.left = figureLeft{}
		p.recheck(at.form, at.id)
	}
}

// recheck tells what is wrong with one figure, as soon as somebody leaves it; that it is
// still empty is told only where the whole was asked for.
func (p *page) recheck(form, id string) {
	f, _ := p.form(form)
	entry := p.entry(form, id)
	was := p.troubles[form]
	var list []sizing.Trouble
	for _, t := range was.list {
		if t.Field != id {
			list = append(list, t)
		}
	}
	if bad := f.Check(entry); bad != nil && (was.summed || bad.ID != "sizing.bad.empty") {
		list = append(list, *bad)
	}
	p.troubles[form] = troubled{list, was.summed && len(list) > 0}
	p.tellTroubles(form)
}

func (p *page) entry(form, id string) *sim.SizingEntry {
	if form == answerForm {
		return sizing.Figure(&p.Job, id)
	}
	for _, e := range sim.SizingEntries() {
		if e.ID == id {
			return &e
		}
	}
	panic("sizing: no figure " + id)
}

// tellTroubles shows what is wrong with a form: at each field, and in a list above it
// once the whole was asked for.
func (p *page) tellTroubles(form string) {
	now := p.troubles[form]
	for _, e := range dom.All("#" + form + " .trouble") {
		e.SetText("")
	}
	for _, f := range dom.All("#" + form + " [aria-invalid]") {
		f.Call("removeAttribute", "aria-invalid")
		f.Call("removeAttribute", "aria-describedby")
	}
	links := dom.El("ul", nil)
	for _, t := range now.list {
		if t.Field == "" {
			links.Add(dom.El("li", nil, t.String()))
			continue
		}
		h := handle(t.Field)
		dom.ByID("e-" + h).SetText(t.String())
		field := dom.ByID("f-" + h)
		field.SetAttr("aria-invalid", "true")
		field.SetAttr("aria-describedby", "e-"+h)
		name := dom.Document.Call("querySelector", "label[for=f-"+h+"]").Get("textContent").String()
		links.Add(dom.El("li", nil, dom.El("a", dom.Attrs{"href": "#f-" + h, "data-field": h}, name), ": ", t.String()))
	}
	box := dom.ByID(form + "-troubles")
	box.Become()
	if now.summed && len(now.list) > 0 {
		box.Add(dom.El("div", dom.Attrs{"class": "refused"}, dom.El("p", nil, dom.El("strong", nil, say.Text("sizing.wrong", len(now.list)))), links))
	}
}

// refuse shows what is wrong with a whole form and goes to the first of it.
func (p *page) refuse(form string, list []sizing.Trouble) {
	p.troubles[form], p.left = troubled{list, true}, figureLeft{}
	p.tellTroubles(form)
	if len(list) > 0 && list[0].Field != "" {
		focus("f-" + handle(list[0].Field))
	}
}
