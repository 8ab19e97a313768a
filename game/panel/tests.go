//go:build js

package panel

import (
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildTests lists the tests by place, once.
func (p *Panels) buildTests() {
	f := newFinder("tests-search", say.Text("tests.search"))
	for i, place := range places {
		g := f.fold(place.id, place.name(), dom.El("ul", dom.Attrs{"class": "tests act"}))
		for _, t := range p.game.Setup().Instruments {
			if atPlace(t.Where, i) && !isQuestion(t.ID) {
				what := dom.El("p", nil, dom.El("span", dom.Attrs{"class": "what"}, say.Sim(t.What)))
				if t.Needs != "" {
					what.Add(" ", dom.El("span", dom.Attrs{"class": "needs", "data-not-now": say.Text("needs.not-now", game.Minutes(t.Minutes))}, say.Text("needs", game.InSentence(say.Sim(t.Needs)))))
				}
				g.item(dom.El("li", dom.Attrs{"data-needs": t.Needs}, testButton(t, "data-test"), what), p.partName(t.Where)+" "+say.Sim(t.Name)+" "+say.Sim(t.What)+" "+also(t.ID))
			}
		}
		f.close(g)
	}
	f.groups[0].fold.Flag("open", true)
	dom.ByID("tests").Become(f.box)
}

func testButton(t sim.InstrumentInfo, handle string) dom.Node {
	return dom.Button(say.Sim(t.Name), dom.Attrs{handle: t.ID}, dom.El("span", dom.Attrs{"class": "cost"}, game.Minutes(t.Minutes)))
}

// instrument finds a test by its ID.
func (p *Panels) instrument(id string) (t *sim.InstrumentInfo, found bool) {
	list := p.game.Setup().Instruments
	for i := range list {
		if list[i].ID == id {
			return &list[i], true
		}
	}
	return nil, false
}

// syncNeeds marks the tests whose need is not met as the unit stands now.
func (p *Panels) syncNeeds() {
	for _, n := range dom.All("[data-needs]") {
		n.Flag("data-idle", !game.Met(n.Data("needs"), p.game.View(), p.game.Setup()))
	}
}

// readingRow is a reading of the journal in the list of them.
func (p *Panels) readingRow(line int) dom.Node {
	e := &p.game.Call().Journal[line]
	r := e.Reading
	what := dom.El("th", dom.Attrs{"scope": "row"}, say.Capital(strings.TrimPrefix(say.Sim(r.Name), say.Text("ask.prefix"))))
	if !isQuestion(r.Instrument) {
		what.Add(dom.El("small", nil, p.game.During(line)))
	}
	got := dom.El("td", nil, result(r, p.game.Look()))
	if r.Unit == sim.UnitNone {
		got.SetAttr("class", "words")
	}
	minute := dom.El("td", nil, minuteOf(e.Tick)) // as the log has it
	return dom.El("tr", dom.Attrs{"data-instrument": r.Instrument}, minute, what, got)
}

// fillReadings lists the readings, newest first.
func (p *Panels) fillReadings() {
	body := dom.El("tbody", nil)
	journal := p.game.Call().Journal
	for i := len(journal) - 1; i >= 0; i-- {
		if journal[i].Reading != nil {
			body.Add(p.readingRow(i))
		}
	}
	if body.Get("childElementCount").Int() == 0 {
		dom.ByID("readings").Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("readings.none")))
		return
	}
	head := dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "col"}, say.Text("col.min")), dom.El("th", dom.Attrs{"scope": "col"}, say.Text("col.test")), dom.El("th", dom.Attrs{"scope": "col"}, say.Text("col.result")))
	dom.ByID("readings").Become(dom.El("table", nil, dom.El("thead", nil, head), body))
	dom.ByID("readings").Value.Set("scrollTop", 0)
}
