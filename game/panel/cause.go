//go:build js

package panel

import (
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
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
			g := f.fold(string(part.ID), say.Sim(part.Name), dom.El("div", nil))
			for _, c := range p.game.Setup().Faults {
				if c.ID != sim.NoFault && c.Where == part.ID {
					g.item(causeChoice(c.ID, say.Sim(c.Name)), place.name()+" "+say.Sim(c.Name)+" "+also(c.ID))
				}
			}
			f.close(g)
		}
	}
	causes := dom.El("fieldset", dom.Attrs{"class": "causes"}, dom.El("legend", nil, say.Text("cause.question")),
		dom.El("p", dom.Attrs{"class": "none"}, say.Text("cause.how-many", p.game.Setup().MaxCauses)),
		f.box, causeChoice(sim.NoFault, say.Text("cause.none")))
	slider := dom.El("input", dom.Attrs{"type": "range", "id": "confidence", "min": "0", "max": "100", "step": "5", "value": "50"})
	sure := dom.El("p", nil,
		dom.El("label", dom.Attrs{"for": "confidence"}, say.Text("cause.sure")), " ", dom.El("output", dom.Attrs{"id": "confidence-words", "for": "confidence"}))
	form := dom.El("form", dom.Attrs{"id": "cause-form"}, causes,
		dom.El("div", dom.Attrs{"id": "submit", "class": "submit"}, dom.El("output", dom.Attrs{"id": "chosen"}, say.Text("cause.unchosen")), sure, slider, dom.Button(say.Text("cause.submit"), dom.Attrs{"data-act": "diagnose", "class": "main act"})))
	dom.ByID("cause").Become(dom.El("p", dom.Attrs{"id": "named", "role": "status", "tabindex": "-1"}), form, dom.El("div", dom.Attrs{"id": "topics"}), dom.El("div", dom.Attrs{"id": "finish"}))
	for _, event := range []string{"input", "click", "keydown"} { // a press where it stands says so too
		slider.On(event, func(e js.Value) {
			if key := e.Get("key"); key.Type() != js.TypeString || key.String() != "Tab" && key.String() != "Shift" {
				slider.Flag(confidenceSaid, true)
				p.sayConfidence()
			}
		})
	}
	form.On("change", func(e js.Value) { p.limitChosen(dom.Wrap(e.Get("target"))); p.sayChosen() })
	form.On("submit", func(e js.Value) { e.Call("preventDefault"); p.diagnose() })
	p.sayConfidence()
	p.askFinish(false)
}

func causeChoice(id, name string) dom.Node {
	return dom.El("label", nil, dom.El("input", dom.Attrs{"type": "checkbox", "name": "fault", "value": id}), dom.El("span", nil, name))
}

// chosen is the verdict that is ticked, "" for none.
func chosen() string {
	var ids []string
	for _, box := range dom.All("input[name=fault]:checked") {
		ids = append(ids, box.Get("value").String())
	}
	return strings.Join(ids, "+")
}

// limitChosen keeps the boxes to what a verdict may hold: either nothing is wrong,
// or so many causes.
func (p *Panels) limitChosen(last dom.Node) {
	if last.Get("name").String() != "fault" || !last.Get("checked").Bool() {
		return
	}
	none := last.Get("value").String() == sim.NoFault
	others := 0
	for _, box := range dom.All("input[name=fault]:checked") {
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
		p.refused(say.Text("cause.too-many", p.game.Setup().MaxCauses))
	}
}

// sayChosen repeats what is ticked beside the button, since its group may be folded.
func (p *Panels) sayChosen() {
	words := say.Text("cause.unchosen")
	if id := chosen(); id != "" {
		words = p.verdictName(id)
	}
	dom.ByID("chosen").SetText(words)
	dom.ByID("submit").Flag("data-chosen", chosen() != "" && !p.game.Call().Diagnosed)
}

// verdictName are the names of the causes that a verdict holds.
func (p *Panels) verdictName(id string) string {
	var names []string
	for _, one := range sim.VerdictIDs(id) {
		names = append(names, faultName(one))
	}
	return strings.Join(names, say.Text("cause.and"))
}

// faultName is what a fault is called in the language spoken.
func faultName(id string) string { return say.Sim(sim.FaultName(id)) }

// confidenceSaid marks the slider once the person has said how sure; until then it stands
// in the middle and means nothing.
const confidenceSaid = "data-said"

// confidence is how sure the person is, 0..1; false while it has not been said.
func (p *Panels) confidence() (sure float64, said bool) {
	slider := dom.ByID("confidence")
	return slider.Get("valueAsNumber").Float() / 100, p.game.Call().Diagnosed || slider.Call("hasAttribute", confidenceSaid).Bool()
}

func (p *Panels) sayConfidence() {
	words := say.Text("cause.not-sure-yet")
	if sure, said := p.confidence(); said {
		words = dom.Percent(sure) + ", " + game.Confidence(sure)
	}
	dom.ByID("confidence-words").SetText(words)
	dom.ByID("confidence").SetAttr("aria-valuetext", words)
}

func (p *Panels) diagnose() {
	id := chosen()
	if id == "" {
		p.say(say.Text("cause.choose"))
		return
	}
	sure, said := p.confidence()
	if !said {
		p.say(say.Text("cause.say-sure"))
		dom.ByID("confidence").Call("focus")
		return
	}
	p.do(sim.Action{Kind: sim.ActDiagnose, ID: id, Value: sure})
	p.syncCause()
	dom.ByID("named").Call("focus") // what comes next is told there, and follows
}

// workedSince reports whether something was put right after the last verdict.
func workedSince(journal []sim.Entry) (worked bool) {
	for i := range journal {
		switch e := &journal[i]; {
		case e.Unsafe:
		case e.Action.Kind == sim.ActDiagnose:
			worked = false
		case e.Action.Kind == sim.ActClean || e.Action.Kind == sim.ActAdjust || e.Action.Kind == sim.ActReplace:
			worked = true
		}
	}
	return worked
}

func (p *Panels) syncCause() {
	call := p.game.Call()
	named := dom.ByID("named")
	if named.Hide(!call.Diagnosed); call.Diagnosed {
		p.sayChosen()
		words := say.Text("cause.named", p.verdictName(call.DiagnosedID), dom.Percent(call.Confidence))
		if !workedSince(call.Journal) {
			words += " " + say.Text("cause.named-next")
		}
		named.SetText(words)
		if finish := dom.ByID("finish"); finish.Get("nextElementSibling").IsNull() { // what comes next comes first
			dom.ByID("cause-form").Call("before", dom.ByID("topics").Value, finish.Value)
		}
		for _, b := range dom.All("[data-act=diagnose]") {
			b.SetText(say.Text("cause.another"))
			b.SetAttr("class", "act")
		}
	}
	dom.ByID("cause-form").Hide(call.Finished)
	dom.ByID("finish").Hide(call.Finished)
	dom.ByID("topics").Hide(call.Finished)
}

// finishAsked reports whether one who is at it is asked whether the call is to end.
func (p *Panels) finishAsked() bool {
	yes := dom.All("[data-act=finish-yes]")
	return len(yes) > 0 && dom.ByID("finish").Call("contains", dom.Document.Get("activeElement")).Bool()
}

// finish asks whether the call is to end; where the unit cannot be handed back yet, that is
// said at once, beside the button.
func (p *Panels) finish() {
	if len(p.game.View().Opened) == 0 {
		p.askFinish(true)
		return
	}
	for _, old := range dom.All("#finish .refused") {
		old.Call("remove")
	}
	if why := p.do(sim.Action{Kind: sim.ActFinish}); why != "" {
		dom.ByID("finish").Add(dom.El("p", dom.Attrs{"class": "refused", "aria-hidden": "true"}, why)) // it is heard already
	}
}

// askFinish shows the button that finishes the call, or asks once more.
func (p *Panels) askFinish(asking bool) {
	box := dom.ByID("finish")
	if !asking {
		held := box.Call("contains", dom.Document.Get("activeElement")).Bool()
		finish := dom.Button(say.Text("finish.title"), dom.Attrs{"data-act": "finish", "class": "act"})
		box.Become(dom.El("h3", nil, say.Text("finish.title")), dom.El("p", nil, say.Text("finish.words")),
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
	yes := dom.Button(say.Text("finish.yes"), dom.Attrs{"data-act": "finish-yes", "class": "main"})
	box.Become(dom.El("h3", nil, say.Text("finish.title")), dom.El("p", nil, question),
		dom.El("div", dom.Attrs{"class": "pushes"}, yes, dom.Button(say.Text("finish.no"), dom.Attrs{"data-act": "finish-no"})))
	yes.Call("focus")
}
