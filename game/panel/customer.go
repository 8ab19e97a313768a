//go:build js

package panel

import (
	"slices"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// isQuestion reports whether a test is a question to the customer.
func isQuestion(test string) bool { return strings.HasPrefix(test, "ask-") }

// fillInterview lists the questions to the customer, each with the last answer.
func (p *Panels) fillInterview() {
	l := dom.El("ul", dom.Attrs{"class": "interview"})
	for i := range p.game.Setup().Instruments {
		t := &p.game.Setup().Instruments[i]
		if !isQuestion(t.ID) {
			continue
		}
		question := strings.TrimPrefix(say.Sim(t.Name), say.Text("ask.prefix"))
		ask, cost := dom.Attrs{"data-test-at": t.ID, "class": "act"}, dom.El("span", dom.Attrs{"class": "cost"}, game.Minutes(t.Minutes))
		if said := p.answer(t.ID); said != "" { // what has been asked is no longer offered as if it had not
			ask["aria-label"] = say.Text("ask.again") + " " + game.Minutes(t.Minutes) + ": " + question
			l.Add(dom.El("li", nil, dom.El("p", dom.Attrs{"class": "asked"}, say.Capital(question)),
				dom.El("div", dom.Attrs{"class": "answer"}, dom.El("p", dom.Attrs{"data-answer": t.ID}, said), dom.Button(say.Text("ask.again"), ask, cost))))
			continue
		}
		l.Add(dom.El("li", nil, dom.Button(say.Capital(question), ask, cost)))
	}
	held := focusedIn("interview", "testAt", "data-test-at")
	dom.ByID("interview").Become(l)
	focusAgain(held)
}

// answer is what the customer said last to a question, "" if it was not asked.
func (p *Panels) answer(id string) string {
	journal := p.game.Call().Journal
	for i := len(journal) - 1; i >= 0; i-- {
		if r := journal[i].Reading; r != nil && r.Instrument == id {
			if r.Unit != sim.UnitNone { // a number, in no words of the customer's
				return result(r, p.game.Look())
			}
			return say.Text("quoted", result(r, p.game.Look()))
		}
	}
	return ""
}

// focusedIn is a selector of the focused handle of that attribute within an
// element, "" when the focus is elsewhere.
func focusedIn(id, key, attribute string) string {
	active := dom.Document.Get("activeElement")
	if active.IsNull() || !dom.ByID(id).Call("contains", active).Bool() {
		return ""
	}
	if v := dom.Wrap(active).Data(key); v != "" {
		return "#" + id + " [" + attribute + "=" + dom.Quote(v) + "]"
	}
	return ""
}

// fillTopics lists what the customer can be told, and what was.
func (p *Panels) fillTopics() {
	box := dom.El("div", dom.Attrs{"class": "pushes"})
	for _, t := range p.game.Setup().Topics {
		box.Add(dom.Button(say.Sim(t.Name), dom.Attrs{"data-tell": t.ID, "class": "act", "aria-pressed": pressedWord(p.toldOf(t.ID))}))
	}
	held := focusedIn("topics", "tell", "data-tell")
	dom.ByID("topics").Become(dom.El("h3", nil, say.Text("tell.title")), box)
	focusAgain(held)
}

// focusAgain puts the focus back on what a panel that was made anew holds under
// that selector; "" for a focus that is elsewhere.
func focusAgain(held string) {
	if held == "" {
		return
	}
	for _, b := range dom.All(held) {
		b.Call("focus", map[string]any{"preventScroll": true})
	}
}

func pressedWord(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

func (p *Panels) toldOf(topic string) bool {
	return slices.ContainsFunc(p.game.Call().Journal, func(e sim.Entry) bool {
		return e.Action.Kind == sim.ActTell && e.Action.ID == topic
	})
}

// fillHelp shows the help taken and the button for the next step.
func (p *Panels) fillHelp() {
	call, steps := p.game.Call(), p.game.Setup().Help
	box := dom.ByID("help")
	var given []string
	for i := range call.Journal {
		if e := &call.Journal[i]; e.Action.Kind == sim.ActHint {
			given = append(given, strings.TrimPrefix(say.Sim(e.Text), say.Text("help.prefix")))
		}
	}
	held := box.Call("contains", dom.Document.Get("activeElement")).Bool()
	box.Become(dom.El("h3", nil, say.Text("help.title")))
	if len(given) > 0 {
		box.Add(dom.List("ol", given))
	}
	if call.Helped < len(steps) && !call.Finished {
		next := steps[call.Helped]
		box.Add(dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("help."+next.ID), dom.Attrs{"data-help": next.ID, "class": "act"},
			dom.El("span", dom.Attrs{"class": "cost"}, say.Text("help.costs", int(next.Points))))))
	}
	watch := dom.Button(say.Text("help.watch"), dom.Attrs{"data-act": "demo"})
	if !call.Finished {
		watch.Add(dom.El("span", dom.Attrs{"class": "cost"}, say.Text("help.shown")))
	}
	box.Add(dom.El("div", dom.Attrs{"class": "pushes"}, watch))
	if held {
		focusAgain("#help .pushes:first-of-type button")
	}
}
