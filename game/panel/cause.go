//go:build js

package panel

import (
	"syscall/js"

	"brinebench/game"
	"brinebench/sim"
)

// buildCause makes the form that names the cause, once: the catalogue by place
// and part.
func (p *Panels) buildCause() {
	f := newFinder("cause-search", "Find a cause")
	for i, place := range places {
		f.head(place.name)
		for _, part := range p.game.Setup().Parts {
			if !atPlace(part.ID, i) {
				continue
			}
			g := f.fold(part.Name, el("div", nil))
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					g.item(causeChoice(c.ID, c.Name), place.name+" "+c.Name)
				}
			}
			f.close(g)
		}
	}
	causes := el("fieldset", attrs{"class": "causes"}, el("legend", nil, "What is wrong with this unit?"),
		f.box, causeChoice(sim.NoFault, "Nothing is wrong with the unit"))
	slider := el("input", attrs{"type": "range", "id": "confidence", "min": "0", "max": "100", "step": "5", "value": "50"})
	sure := el("div", attrs{"class": "sure"}, el("output", attrs{"id": "chosen"}, "No cause is chosen yet."),
		el("label", attrs{"for": "confidence"}, "How sure are you?"), el("output", attrs{"id": "confidence-words", "for": "confidence"}), slider)
	form := el("form", attrs{"id": "cause-form"}, causes,
		el("div", attrs{"class": "submit"}, sure, button("Name the cause", attrs{"data-act": "diagnose", "class": "main act"})))
	byID("cause").become(el("p", attrs{"id": "named", "role": "status"}), form, el("div", attrs{"id": "finish"}))
	slider.on("input", func(js.Value) { p.sayConfidence() })
	form.on("change", func(js.Value) { p.sayChosen() })
	form.on("submit", func(e js.Value) { e.Call("preventDefault"); p.diagnose() })
	p.sayConfidence()
	p.askFinish(false)
}

func causeChoice(id, name string) node {
	return el("label", nil, el("input", attrs{"type": "radio", "name": "fault", "value": id}), el("span", nil, name))
}

// chosen is the cause that is ticked, "" for none.
func chosen() string {
	ticked := document.Call("querySelector", "input[name=fault]:checked")
	if ticked.IsNull() {
		return ""
	}
	return ticked.Get("value").String()
}

// sayChosen repeats the ticked cause beside the button, since its group may be folded.
func (p *Panels) sayChosen() {
	if id := chosen(); id != "" {
		byID("chosen").text(p.faultName(id))
	}
}

// faultName is the name of a fault, or the id when the catalogue has none.
func (p *Panels) faultName(id string) string {
	for _, f := range p.game.Setup().Faults {
		if f.ID == id {
			return f.Name
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
		byID("live").become("Choose a cause first.")
		return
	}
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: id, Value: p.confidence()})
}

func (p *Panels) syncCause() {
	call := p.game.Call()
	named := byID("named")
	if named.hide(!call.Diagnosed); call.Diagnosed {
		named.text("You named: " + p.faultName(call.DiagnosedID) + ", " + percent(call.Confidence) + " sure. Next: put it right, run the cycle, prove soft water, finish.")
	}
	byID("cause-form").hide(call.Finished)
	byID("finish").hide(call.Finished)
}

// askFinish shows the button that finishes the call, or asks once more.
func (p *Panels) askFinish(asking bool) {
	box := byID("finish")
	if !asking {
		held := box.Call("contains", document.Get("activeElement")).Bool()
		finish := button("Finish the call", attrs{"data-act": "finish", "class": "act"})
		box.become(el("h3", nil, "Finish the call"), el("p", nil, "Hand the unit back when it is put right and proved. The debrief follows."),
			finish)
		if held {
			finish.Call("focus")
		}
		return
	}
	question := "Hand the unit back and close the call?"
	if !p.game.Call().Diagnosed {
		question = "You have named no cause yet. " + question
	}
	yes := button("Yes, finish", attrs{"data-act": "finish-yes", "class": "main"})
	box.become(el("h3", nil, "Finish the call"), el("p", nil, question),
		el("div", attrs{"class": "pushes"}, yes, button("Not yet", attrs{"data-act": "finish-no"})))
	yes.Call("focus")
}
