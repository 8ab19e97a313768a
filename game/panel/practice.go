//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/study"
)

// byEfficiency is the choice that leaves the support to how the calls went.
const byEfficiency = "auto"

// buildPractice makes the section on the ladder of calls.
func (p *Panels) buildPractice() {
	choice := dom.El("select", dom.Attrs{"id": "support", "data-unkept": ""}, dom.El("option", dom.Attrs{"value": byEfficiency}, say.Text("support.auto")))
	for s := study.Full; s <= study.None; s++ {
		choice.Add(dom.El("option", dom.Attrs{"value": s.String()}, s.Name()))
	}
	if kept := dom.Recall("support"); kept != "" {
		choice.Value.Set("value", kept)
	}
	file := dom.El("input", dom.Attrs{"type": "file", "id": "progress-file", "data-unkept": "", "accept": ".json,application/json"})
	dom.ByID("practice").Become(
		dom.El("p", dom.Attrs{"id": "practice-trouble", "class": "state"}),
		dom.El("div", dom.Attrs{"id": "practice-next"}),
		dom.El("h3", nil, say.Text("practice.support")),
		dom.El("p", nil, dom.El("label", dom.Attrs{"for": "support"}, say.Text("practice.how-much")+" "), choice),
		dom.El("p", dom.Attrs{"id": "support-words", "class": "none"}),
		dom.El("p", dom.Attrs{"class": "none"}, say.Text("practice.order")),
		dom.El("div", dom.Attrs{"id": "practice-calls"}),
		dom.El("h3", nil, say.Text("practice.progress")),
		dom.El("p", dom.Attrs{"id": "practice-kept"}),
		dom.El("p", dom.Attrs{"id": "practice-said", "role": "status"}),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("practice.export"), dom.Attrs{"data-act": "progress-export"}),
			dom.El("label", dom.Attrs{"class": "file"}, say.Text("practice.import")+" ", file)),
		dom.El("div", dom.Attrs{"id": "practice-forget"}),
	)
	choice.On("change", func(js.Value) {
		dom.Keep("support", choice.Get("value").String())
		p.setSupport()
	})
	file.On("change", func(js.Value) { p.importProgress(file) })
	p.askForget(false)
	p.fillPractice()
	p.setSupport()
}

// setSupport shows the level for the call on the page: the one chosen, or by how
// the trainee's calls went.
func (p *Panels) setSupport() {
	s, chosen := study.SupportNamed(dom.Recall("support"))
	if !chosen {
		s = p.progress.Support(p.progress.ladder, p.game.Setup().CallID)
	}
	p.progress.support = s
	p.main.SetAttr("data-support", s.String())
	p.syncVeil()
	dom.ByID("support-words").SetText(s.Name() + ". " + s.Words())
}

// syncVeil takes the hardness off drawing and charts at little support, until the
// call is over.
func (p *Panels) syncVeil() {
	l := p.game.Look()
	l.Veiled = p.progress.support >= study.Little && !p.game.Call().Finished
	p.main.Flag("data-veiled", l.Veiled)
	p.game.SetLook(l)
}

// fillPractice shows the next call, the ladder and how much is recorded.
func (p *Panels) fillPractice() {
	pr, now := &p.progress, nowS()
	dom.ByID("practice-trouble").SetText(pr.trouble.String())
	dom.ByID("practice-trouble").Hide(pr.trouble.id == "")
	next := dom.ByID("practice-next")
	if c, ok := study.Next(&pr.Progress, pr.ladder, now); ok {
		next.Become(dom.El("p", nil, say.Text("practice.next-is")+" ", dom.El("strong", nil, p.titleOf(c.Call)), ". "+c.Why.Words()),
			dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("practice.next"), dom.Attrs{"data-act": "next-call", "class": "main"})))
	}
	box := dom.ByID("practice-calls")
	box.Become()
	rung, list := -1, dom.Node{}
	for _, s := range study.Standings(&pr.Progress, pr.ladder, now) {
		if s.Rung.Rung != rung {
			rung, list = s.Rung.Rung, dom.El("ul", dom.Attrs{"class": "ladder"})
			box.Add(dom.El("h3", nil, rungName(rung)), list)
		}
		list.Add(p.ladderCall(&s, now))
	}
	recorded := say.Text("practice.recorded", len(pr.Plays))
	if pr.trouble.id == "" {
		recorded += " " + say.Text("practice.stays")
	}
	dom.ByID("practice-kept").SetText(recorded)
}

func rungName(rung int) string {
	if rung == 0 {
		return say.Text("practice.off-ladder")
	}
	return say.Text("practice.rung", rung)
}

// ladderCall is one call of the list: a link that opens it, and how the trainee
// stands with it.
func (p *Panels) ladderCall(s *study.Standing, now int64) dom.Node {
	words, query := stateOf(s.Call)
	if words == "" || words == finished {
		words, query = "", freshQuery(s.Call, uint64(s.Reps)+1)
	}
	item := dom.El("li", dom.Attrs{"data-standing": string(s.State)})
	if s.Call == p.game.Setup().CallID {
		item.Add(dom.El("strong", nil, p.titleOf(s.Call)))
		words = say.Text("practice.on-page")
		if s.Locked {
			words = say.Text("practice.on-page-early")
		}
	} else {
		item.Add(dom.El("a", dom.Attrs{"href": query, "data-call": s.Call}, p.titleOf(s.Call)))
	}
	item.Flag("data-locked", s.Locked)
	item.Add(dom.El("span", dom.Attrs{"class": "stands"}, s.Words(now)))
	if s.Reps > 0 {
		item.Add(dom.El("small", nil, say.Text("practice.played", s.Reps, say.Number(s.Best, 0))))
	}
	if words != "" {
		item.Add(dom.El("small", nil, words))
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
			return say.Title(c.Title, c.Titles)
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
func sayPractice(text string) { dom.ByID("practice-said").SetText(text) }

// askForget shows the button that forgets the record, or asks once more.
func (p *Panels) askForget(asking bool) {
	box := dom.ByID("practice-forget")
	held := box.Call("contains", dom.Document.Get("activeElement")).Bool()
	first := dom.Button(say.Text("forget.all"), dom.Attrs{"data-act": "progress-forget"})
	box.Become(first)
	if asking {
		first = dom.Button(say.Text("forget.no"), dom.Attrs{"data-act": "progress-forget-no", "class": "main"})
		box.Become(dom.El("p", nil, say.Text("forget.sure", len(p.progress.Plays))),
			dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("forget.yes"), dom.Attrs{"data-act": "progress-forget-yes"}), first))
	}
	if held {
		first.Call("focus")
	}
}
