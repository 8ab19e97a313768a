//go:build js

package sizing

import (
	"strconv"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
)

// choose shows the ways to a job of a source; the present job stays until another is taken.
func (p *page) choose(s sizing.Source) {
	p.from = s
	for _, b := range dom.All("[data-source]") {
		b.Press(b.Data("source") == string(s))
	}
	for _, box := range dom.All("[data-from]") {
		box.Hide(box.Data("from") != string(s))
	}
}

// fillJob shows where a job may come from.
func (p *page) fillJob() {
	sources := dom.El("div", dom.Attrs{"class": "pushes", "role": "group", "aria-label": say.Text("sizing.sources")})
	for _, s := range []sizing.Source{sizing.Drawn, sizing.Library, sizing.Own} {
		sources.Add(dom.Button(say.Text("sizing.source."+string(s)), dom.Attrs{"data-source": string(s)}))
	}
	dom.ByID("job").Become(sources, p.drawnBox(), p.libraryBox(), p.ownBox())
	p.choose(p.from)
	p.tellTroubles(seedForm)
	p.tellTroubles(ownForm)
}

func from(s sizing.Source, children ...any) dom.Node {
	return dom.El("div", dom.Attrs{"data-from": string(s)}, children...)
}

func (p *page) drawnBox() dom.Node {
	seed := dom.El("input", dom.Attrs{"type": "text", "inputmode": "numeric", "id": "f-seed", "value": strconv.FormatUint(p.Seed, 10), "autocomplete": "off", "maxlength": "12"})
	return from(sizing.Drawn, dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.drawn-note")),
		dom.El("div", dom.Attrs{"id": seedForm}, dom.El("div", dom.Attrs{"id": seedForm + "-troubles"}),
			dom.El("div", dom.Attrs{"class": "field"}, dom.El("label", dom.Attrs{"for": "f-seed"}, say.Text("sizing.seed")),
				dom.El("div", dom.Attrs{"class": "with-unit"}, seed, dom.Button(say.Text("sizing.draw"), dom.Attrs{"data-desk": "draw"}), dom.Button(say.Text("sizing.another"), dom.Attrs{"data-desk": "another"})),
				dom.El("p", dom.Attrs{"class": "trouble", "id": "e-seed"}))))
}

func (p *page) draw() {
	if bad := p.Draw(dom.ByID("f-seed").Get("value").String()); bad != nil {
		p.troubles[seedForm] = troubled{list: []sizing.Trouble{*bad}}
		p.tellTroubles(seedForm)
		focus("f-seed")
		return
	}
	p.taken()
}

func (p *page) libraryBox() dom.Node {
	pick := dom.El("select", dom.Attrs{"id": "sheet-choice"}, dom.El("option", dom.Attrs{"value": "", "disabled": "", "selected": ""}, say.Text("sizing.choose")))
	for _, t := range p.Titles() {
		o := dom.El("option", dom.Attrs{"value": t.ID}, say.Sim(t.Title))
		o.Flag("selected", p.Source == sizing.Library && t.ID == p.Sheet)
		pick.Add(o)
	}
	return from(sizing.Library, dom.El("div", dom.Attrs{"class": "field"}, dom.El("label", dom.Attrs{"for": "sheet-choice"}, say.Text("sizing.sheet")), dom.El("div", dom.Attrs{"class": "with-unit"}, pick)))
}

// ownBox is the form of a job written by hand.
func (p *page) ownBox() dom.Node {
	form := dom.El("div", dom.Attrs{"id": ownForm, "class": "form"})
	form.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.own-note")), dom.El("ul", dom.Attrs{"class": "cautions"}, cautionLine("caution", "sizing.own-caution")),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("sizing.own-fill"), dom.Attrs{"data-desk": "own-fill"})),
		dom.El("div", dom.Attrs{"id": ownForm + "-troubles", "role": "alert"}))
	form.Add(dom.El("fieldset", nil, dom.El("legend", nil, say.Text("sizing.group.job")), dom.El("div", dom.Attrs{"class": "fields"}, p.ownText("title"), p.ownText("customer"))))
	for _, g := range sizing.JobGroups {
		fields := dom.El("div", dom.Attrs{"class": "fields"})
		if g == "supply" {
			fields.Add(choice(ownForm, "supply.kind", say.Text("sizing.field.supply.kind"), p.Own.Chosen["supply.kind"], "mains", say.Text("sizing.mains"), "well", say.Text("sizing.well")))
		}
		for _, e := range sizing.JobFields(g) {
			fields.Add(p.field(ownForm, &p.Own, &e, say.Text("sizing.field."+e.ID)))
		}
		form.Add(dom.El("fieldset", nil, dom.El("legend", nil, say.Text("sizing.group."+g)), fields))
	}
	form.Add(dom.El("fieldset", nil, dom.El("legend", nil, say.Text("sizing.group.wishes")), dom.El("div", dom.Attrs{"class": "fields"},
		choice(ownForm, "controller", say.Text("sizing.field.controller"), p.Own.Chosen["controller"], "demand", say.Text("set.demand"), "clock", say.Text("set.clock")),
		p.check("salt-saving"), p.check("low-sodium"))))
	form.Add(dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("sizing.take"), dom.Attrs{"class": "main", "data-desk": "own"})))
	return from(sizing.Own, form)
}

func (p *page) ownText(id string) dom.Node {
	input := dom.El("input", dom.Attrs{"type": "text", "id": "f-" + id, "data-text-of": ownForm, "data-id": id, "value": p.Own.Chosen[id], "autocomplete": "off", "maxlength": "80"})
	return dom.El("div", dom.Attrs{"class": "field"}, dom.El("label", dom.Attrs{"for": "f-" + id}, say.Text("sizing.field."+id)), dom.El("div", dom.Attrs{"class": "with-unit"}, input))
}

func (p *page) check(id string) dom.Node {
	box := dom.El("input", dom.Attrs{"type": "checkbox", "data-check-of": ownForm, "data-id": id})
	box.Flag("checked", p.Own.Chosen[id] == "on")
	return dom.El("label", dom.Attrs{"class": "tick"}, box, say.Text("sizing.wish."+id))
}

// takeOwn takes up the job written by hand, and shows what fits it.
func (p *page) takeOwn() {
	if list := p.TakeOwn(); list != nil {
		p.refuse(ownForm, list)
		return
	}
	delete(p.troubles, ownForm)
	p.solved[p.Key()] = true
	p.Section = "worked"
	p.taken()
	focus("worked-h")
}

// cautionLine is one of a list of cautions.
func cautionLine(word, id string) dom.Node {
	return dom.El("li", nil, dom.El("strong", nil, say.Text("sizing.word."+word)), " ", say.Text(id))
}
