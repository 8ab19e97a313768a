//go:build js

package sizing

import (
	"encoding/json"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/game/sizing"
)

// attend takes part in the class whose job is on the desk.
func (p *page) attend() {
	dom.Document.Get("documentElement").Get("dataset").Set("class", "drill")
	p.tellDraft()
	p.drill.Attend(p.stand)
}

// takeAnswer goes on with what was answered on another device, as far as the server has it.
func (p *page) takeAnswer(answer []byte) {
	if f, err := sizing.AnswerForm(answer); err == nil {
		p.SetAnswer(f)
	}
}

// keepDraft has the device keep what is answered. Once it is answered on another device, that
// is what is gone on with.
func (p *page) keepDraft() {
	text := string(p.Text())
	if p.drill.Elsewhere() {
		text = ""
	}
	p.drill.KeepDraft(text)
}

// stand goes by how the class stands: nothing is taken any more once it is over.
func (p *page) stand() {
	dom.ByID(answerForm).Flag("inert", p.drill.Over())
	if p.drill.Elsewhere() {
		p.keepDraft()
	}
	words := p.drill.Stops()
	for _, e := range dom.All("#" + answerForm + "-over") {
		e.SetText(words)
		e.Hide(words == "")
	}
	if _, marked := p.MarksNow(); p.drill.Handed() && !marked && !p.waits {
		p.waits = true
		p.fillMarks()
		p.fillWorked()
		p.show("marks")
		go p.report()
	}
}

// tellDraft has the server told those figures that can be read so far.
func (p *page) tellDraft() {
	answer := p.Answer()
	if text, troubles := answer.SoFar(&p.Job); len(troubles) == 0 {
		p.drill.TellDraft(text)
	}
}

// markLabel is what the button under the answer says.
func (p *page) markLabel() string {
	if p.drill != nil {
		return say.Text("task.hand-in")
	}
	return say.Text("sizing.mark")
}

// sure asks before an answer is handed in that is mostly empty.
func (p *page) sure(filled int) bool {
	all := len(p.Job.Figures)
	return p.drill.Over() || 2*filled >= all || js.Global().Call("confirm", say.Text("task.blank-sure", filled, all)).Bool()
}

// handIn gives the answer to the class's server, which marks it.
func (p *page) handIn(answer []byte) {
	if p.drill.Over() {
		p.show("marks")
		return
	}
	if err := p.drill.Answer(json.RawMessage(answer)); err != nil {
		p.say(attend.Say(err))
		dom.ByID(answerForm + "-troubles").Become(dom.El("p", dom.Attrs{"class": "refused"}, attend.Say(err)))
		return
	}
	p.stand()
	focus("marks-h")
}

// handedWords says that the marks are still to come, with an id for the page.
func (p *page) handedWords(id string) dom.Node {
	words := say.Text("task.not-yet")
	if p.drill.Handed() {
		words = p.drill.Waits()
	} else if p.drill.Over() {
		words = p.drill.Stops()
	}
	return dom.El("p", dom.Attrs{"id": id, "class": "none"}, words)
}

// report shows the server's marks once they are told.
func (p *page) report() {
	text, err := p.drill.AwaitReport()
	p.waits = false
	if err != nil || p.SetMarks([]byte(text)) != nil {
		return
	}
	p.solved[p.Key()] = true
	p.fillMarks()
	p.stale["worked"] = true
	m, _ := p.MarksNow()
	p.say(say.Text("sizing.scored", points(m.Score)))
	p.keep()
}
