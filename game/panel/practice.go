//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/game/say"
	"brinebench/game/study"
)

// byEfficiency is the choice that leaves the support to how the calls went.
const byEfficiency = "auto"

// buildPractice makes the section on the ladder of calls.
func (p *Panels) buildPractice() {
	choice := el("select", attrs{"id": "support", "data-unkept": ""}, el("option", attrs{"value": byEfficiency}, say.Text("support.auto")))
	for s := study.Full; s <= study.None; s++ {
		choice.add(el("option", attrs{"value": s.String()}, s.Name()))
	}
	if kept := recall("support"); kept != "" {
		choice.Value.Set("value", kept)
	}
	file := el("input", attrs{"type": "file", "id": "progress-file", "data-unkept": "", "accept": ".json,application/json"})
	byID("practice").become(
		el("p", attrs{"id": "practice-trouble", "class": "state"}),
		el("div", attrs{"id": "practice-next"}),
		el("h3", nil, say.Text("practice.support")),
		el("p", nil, el("label", attrs{"for": "support"}, say.Text("practice.how-much")+" "), choice),
		el("p", attrs{"id": "support-words", "class": "none"}),
		el("div", attrs{"id": "practice-calls"}),
		el("h3", nil, say.Text("practice.progress")),
		el("p", attrs{"id": "practice-kept"}),
		el("p", attrs{"id": "practice-said", "role": "status"}),
		el("div", attrs{"class": "pushes"}, button(say.Text("practice.export"), attrs{"data-act": "progress-export"}),
			el("label", attrs{"class": "file"}, say.Text("practice.import")+" ", file)),
		el("div", attrs{"id": "practice-forget"}),
	)
	choice.on("change", func(js.Value) {
		keep("support", choice.Get("value").String())
		p.setSupport()
	})
	file.on("change", func(js.Value) { p.importProgress(file) })
	p.askForget(false)
	p.fillPractice()
	p.setSupport()
}

// setSupport shows the level for the call on the page: the one chosen, or by how
// the trainee's calls went.
func (p *Panels) setSupport() {
	s, chosen := study.SupportNamed(recall("support"))
	if !chosen {
		s = p.progress.Support(p.progress.ladder, p.game.Setup().CallID)
	}
	p.progress.support = s
	p.main.set("data-support", s.String())
	p.syncVeil()
	byID("support-words").text(s.Name() + ". " + s.Words())
}

// syncVeil takes the hardness off drawing and charts at little support, until the
// call is over.
func (p *Panels) syncVeil() {
	l := p.game.Look()
	l.Veiled = p.progress.support >= study.Little && !p.game.Call().Finished
	p.main.flag("data-veiled", l.Veiled)
	p.game.SetLook(l)
}

// fillPractice shows the next call, the ladder and how much is recorded.
func (p *Panels) fillPractice() {
	pr, now := &p.progress, nowS()
	byID("practice-trouble").text(pr.trouble.String())
	byID("practice-trouble").hide(pr.trouble.id == "")
	next := byID("practice-next")
	if c, ok := study.Next(&pr.Progress, pr.ladder, now); ok {
		next.become(el("p", nil, say.Text("practice.next-is")+" ", el("strong", nil, p.titleOf(c.Call)), ". "+c.Why.Words()),
			el("div", attrs{"class": "pushes"}, button(say.Text("practice.next"), attrs{"data-act": "next-call", "class": "main"})))
	}
	box := byID("practice-calls")
	box.become()
	rung, list := -1, node{}
	for _, s := range study.Standings(&pr.Progress, pr.ladder, now) {
		if s.Rung.Rung != rung {
			rung, list = s.Rung.Rung, el("ul", attrs{"class": "ladder"})
			box.add(el("h3", nil, rungName(rung)), list)
		}
		list.add(p.ladderCall(&s, now))
	}
	recorded := say.Text("practice.recorded", len(pr.Plays))
	if pr.trouble.id == "" {
		recorded += " " + say.Text("practice.stays")
	}
	byID("practice-kept").text(recorded)
}

func rungName(rung int) string {
	if rung == 0 {
		return say.Text("practice.off-ladder")
	}
	return say.Text("practice.rung", rung)
}

// ladderCall is one call of the list: a link that opens it, and how the trainee
// stands with it.
func (p *Panels) ladderCall(s *study.Standing, now int64) node {
	words, query := stateOf(s.Call)
	if words == "" || words == finished {
		words, query = "", freshQuery(s.Call, uint64(s.Reps)+1)
	}
	item := el("li", attrs{"data-standing": string(s.State)})
	if s.Call == p.game.Setup().CallID {
		item.add(el("strong", nil, p.titleOf(s.Call)))
		words = say.Text("practice.on-page")
	} else {
		item.add(el("a", attrs{"href": query, "data-call": s.Call}, p.titleOf(s.Call)))
	}
	item.flag("data-locked", s.Locked)
	item.add(el("span", attrs{"class": "stands"}, s.Words(now)))
	if s.Reps > 0 {
		item.add(el("small", nil, say.Text("practice.played", s.Reps, say.Number(s.Best, 0))))
	}
	if words != "" {
		item.add(el("small", nil, words))
	}
	return item
}

// freshQuery is the address of a call that is begun anew: with a seed that no kept
// call has.
func freshQuery(id string, seed uint64) string {
	return "?call=" + id + "&seed=" + strconv.FormatUint(freeSeed(id, seed), 10)
}

func (p *Panels) titleOf(id string) string {
	for _, c := range p.calls {
		if c.ID == id {
			return c.Told(say.Spoken()).Title
		}
	}
	return id
}

// openNextCall goes to the call that is next now; one in progress goes on.
func (p *Panels) openNextCall() {
	c, ok := study.Next(&p.progress.Progress, p.progress.ladder, nowS())
	if !ok {
		return
	}
	words, query := stateOf(c.Call)
	if words == "" || words == finished {
		query = freshQuery(c.Call, c.Seed)
	}
	js.Global().Get("location").Set("search", query)
}

// sayPractice tells what came of an export, an import, or forgetting.
func sayPractice(text string) { byID("practice-said").text(text) }

// askForget shows the button that forgets the record, or asks once more.
func (p *Panels) askForget(asking bool) {
	box := byID("practice-forget")
	held := box.Call("contains", document.Get("activeElement")).Bool()
	first := button(say.Text("forget.all"), attrs{"data-act": "progress-forget"})
	box.become(first)
	if asking {
		first = button(say.Text("forget.no"), attrs{"data-act": "progress-forget-no", "class": "main"})
		box.become(el("p", nil, say.Text("forget.sure", len(p.progress.Plays))),
			el("div", attrs{"class": "pushes"}, button(say.Text("forget.yes"), attrs{"data-act": "progress-forget-yes"}), first))
	}
	if held {
		first.Call("focus")
	}
}
