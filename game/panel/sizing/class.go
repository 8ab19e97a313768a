//go:build js

package sizing

import (
	"encoding/json"

	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// attend takes part in the class whose job is on the desk.
func (p *page) attend() {
	dom.Document.Get("documentElement").Get("dataset").Set("class", "drill")
	p.drill.Attend(func(bool) {})
	if p.drill.Over() {
		go p.report()
	}
}

// markLabel is what the button under the answer says.
func (p *page) markLabel() string {
	if p.drill != nil {
		return say.Text("task.hand-in")
	}
	return say.Text("sizing.mark")
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
	p.fillMarks()
	p.show("marks")
	focus("marks-h")
	p.report()
}

// handedWords says that the marks are still to come.
func (p *page) handedWords() dom.Node {
	words := say.Text("task.not-yet")
	if p.drill.Over() {
		words = say.Text("task.wait")
	}
	return dom.El("p", dom.Attrs{"id": "await", "class": "none"}, words)
}

// report shows the server's marks once they are told.
func (p *page) report() {
	text, err := p.drill.AwaitReport()
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
