//go:build js

package panel

import (
	"strconv"
	"strings"
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
		el("p", attrs{"class": "none"}, "Tick one cause, or several if more than one thing is wrong (at most "+strconv.Itoa(p.game.Setup().MaxCauses)+")."),
		f.box, causeChoice(sim.NoFault, "Nothing is wrong with the unit"))
	slider := el("input", attrs{"type": "range", "id": "confidence", "min": "0", "max": "100", "step": "5", "value": "50"})
	sure := el("div", attrs{"class": "sure"}, el("output", attrs{"id": "chosen"}, "No cause is chosen yet."),
		el("label", attrs{"for": "confidence"}, "How sure are you?"), el("output", attrs{"id": "confidence-words", "for": "confidence"}), slider)
	form := el("form", attrs{"id": "cause-form"}, causes,
		el("div", attrs{"class": "submit"}, sure, button("Name the cause", attrs{"data-act": "diagnose", "class": "main act"})))
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
		p.say(el("span", attrs{"class": "refused"}, "A verdict names at most "+strconv.Itoa(p.game.Setup().MaxCauses)+" causes: untick one first."))
	}
}

// sayChosen repeats what is ticked beside the button, since its group may be folded.
func (p *Panels) sayChosen() {
	words := "No cause is chosen yet."
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
	return strings.Join(names, "; and: ")
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
		p.say("Choose a cause first.")
		return
	}
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: id, Value: p.confidence()})
}

func (p *Panels) syncCause() {
	call := p.game.Call()
	named := byID("named")
	if named.hide(!call.Diagnosed); call.Diagnosed {
		named.text("You named: " + p.verdictName(call.DiagnosedID) + ", " + percent(call.Confidence) + " sure. Next: put it right, run the cycle, prove soft water, finish.")
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
