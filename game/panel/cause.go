//go:build js

package panel

import (
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildCause makes the form that names the cause, once: the catalogue by place
// and part.
func (p *Panels) buildCause() {
	f := newFinder("cause-search", say.Text("cause.search"))
	for i, place := range places {
		f.head(place.name())
		for _, part := range p.game.Setup().Parts {
			if !atPlace(part.ID, i) {
				continue
			}
			g := f.fold(string(part.ID), say.Sim(part.Name), el("div", nil))
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					g.item(causeChoice(c.ID, say.Sim(c.Name)), place.name()+" "+say.Sim(c.Name))
				}
			}
			f.close(g)
		}
	}
	causes := el("fieldset", attrs{"class": "causes"}, el("legend", nil, say.Text("cause.question")),
		el("p", attrs{"class": "none"}, say.Text("cause.how-many", p.game.Setup().MaxCauses)),
		f.box, causeChoice(sim.NoFault, say.Text("cause.none")))
	slider := el("input", attrs{"type": "range", "id": "confidence", "min": "0", "max": "100", "step": "5", "value": "50"})
	sure := el("div", attrs{"class": "sure"}, el("output", attrs{"id": "chosen"}, say.Text("cause.unchosen")),
		el("label", attrs{"for": "confidence"}, say.Text("cause.sure")), el("output", attrs{"id": "confidence-words", "for": "confidence"}), slider)
	form := el("form", attrs{"id": "cause-form"}, causes,
		el("div", attrs{"class": "submit"}, sure, button(say.Text("cause.submit"), attrs{"data-act": "diagnose", "class": "main act"})))
	byID("cause").become(el("p", attrs{"id": "named", "role": "status"}), form, el("div", attrs{"id": "topics"}), el("div", attrs{"id": "finish"}))
	slider.on("input", func(js.Value) { p.sayConfidence() })
	form.on("change", func(e js.Value) { p.limitChosen(node{e.Get("target")}); p.sayChosen() })
	form.on("submit", func(e js.Value) { e.Call("preventDefault"); p.diagnose() })
	p.sayConfidence()
	p.askFinish(false)
}

func causeChoice(id, name string) node {
	return el("label", nil, el("input", attrs{"type": "checkbox", "name": "fault", "value": id}), el("span", nil, name))
}

// chosen is the verdict that is ticked, "" for none.
func chosen() string {
	var ids []string
	for _, box := range all("input[name=fault]:checked") {
		ids = append(ids, box.Get("value").String())
	}
	return strings.Join(ids, "+")
}

// limitChosen keeps the boxes to what a verdict may hold: either nothing is wrong,
// or so many causes.
func (p *Panels) limitChosen(last node) {
	if last.Get("name").String() != "fault" || !last.Get("checked").Bool() {
		return
	}
	none := last.Get("value").String() == sim.NoFault
	others := 0
	for _, box := range all("input[name=fault]:checked") {
		id := box.Get("value").String()
		switch {
		case box.Value.Equal(last.Value):
		case none || id == sim.NoFault:
			box.Value.Set("checked", false)
		default:
			others++
		}
	}
	if others >= p.game.Setup().MaxCauses {
		last.Value.Set("checked", false)
		p.say(el("span", attrs{"class": "refused"}, say.Text("cause.too-many", p.game.Setup().MaxCauses)))
	}
}

// sayChosen repeats what is ticked beside the button, since its group may be folded.
func (p *Panels) sayChosen() {
	words := say.Text("cause.unchosen")
	if id := chosen(); id != "" {
		words = p.verdictName(id)
	}
	byID("chosen").text(words)
}

// verdictName are the names of the causes that a verdict holds.
func (p *Panels) verdictName(id string) string {
	var names []string
	for _, one := range sim.VerdictIDs(id) {
		names = append(names, p.faultName(one))
	}
	return strings.Join(names, say.Text("cause.and"))
}

// faultName is the name of a fault, or the id when the catalogue has none.
func (p *Panels) faultName(id string) string {
	for _, f := range p.game.Setup().Faults {
		if f.ID == id {
			return say.Sim(f.Name)
		}
	}
	return id
}

func (p *Panels) confidence() float64 {
	return byID("confidence").Get("valueAsNumber").Float() / 100
}

func (p *Panels) sayConfidence() {
	words := percent(p.confidence()) + ", " + game.Confidence(p.confidence())
	byID("confidence-words").text(words)
	byID("confidence").set("aria-valuetext", words)
}

func (p *Panels) diagnose() {
	id := chosen()
	if id == "" {
		p.say(say.Text("cause.choose"))
		return
	}
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: id, Value: p.confidence()})
	p.syncCause()
	byID("named").Call("scrollIntoView", map[string]any{"block": "nearest"})
}

func (p *Panels) syncCause() {
	call := p.game.Call()
	named := byID("named")
	if named.hide(!call.Diagnosed); call.Diagnosed {
		named.text(say.Text("cause.named", p.verdictName(call.DiagnosedID), percent(call.Confidence)))
		for _, b := range all("[data-act=diagnose]") {
			b.text(say.Text("cause.another"))
		}
	}
	byID("cause-form").hide(call.Finished)
	byID("finish").hide(call.Finished)
	byID("topics").hide(call.Finished)
}

// askFinish shows the button that finishes the call, or asks once more.
func (p *Panels) askFinish(asking bool) {
	box := byID("finish")
	if !asking {
		held := box.Call("contains", document.Get("activeElement")).Bool()
		finish := button(say.Text("finish.title"), attrs{"data-act": "finish", "class": "act"})
		box.become(el("h3", nil, say.Text("finish.title")), el("p", nil, say.Text("finish.words")),
			finish)
		if held {
			finish.Call("focus")
		}
		return
	}
	question := say.Text("finish.sure")
	if !p.game.Call().Diagnosed {
		question = say.Text("finish.unnamed") + " " + question
	}
	yes := button(say.Text("finish.yes"), attrs{"data-act": "finish-yes", "class": "main"})
	box.become(el("h3", nil, say.Text("finish.title")), el("p", nil, question),
		el("div", attrs{"class": "pushes"}, yes, button(say.Text("finish.no"), attrs{"data-act": "finish-no"})))
	yes.Call("focus")
}
