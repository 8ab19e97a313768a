//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildTests lists the tests by place, once.
func (p *Panels) buildTests() {
	f := newFinder("tests-search", say.Text("tests.search"))
	for i, place := range places {
		g := f.fold(place.id, place.name(), el("ul", attrs{"class": "tests act"}))
		for _, t := range p.game.Setup().Instruments {
			if atPlace(t.Where, i) && !isQuestion(&t) {
				what := el("p", nil, el("span", attrs{"class": "what"}, say.Sim(t.What)))
				if t.Needs != "" {
					what.add(" ", el("span", attrs{"class": "needs", "data-not-now": say.Text("needs.not-now")}, say.Text("needs", game.InSentence(say.Sim(t.Needs)))))
				}
				g.item(el("li", attrs{"data-needs": t.Needs}, testButton(t, "data-test"), what), p.partName(t.Where)+" "+say.Sim(t.Name)+" "+say.Sim(t.What))
			}
		}
		f.close(g)
	}
	f.groups[0].fold.flag("open", true)
	byID("tests").become(f.box)
}

func testButton(t sim.InstrumentInfo, handle string) node {
	return button(say.Sim(t.Name), attrs{handle: t.ID}, el("span", attrs{"class": "cost"}, game.Minutes(t.Minutes)))
}

// syncNeeds marks the tests whose need is not met as the unit stands now.
func (p *Panels) syncNeeds() {
	for _, n := range all("[data-needs]") {
		n.flag("data-idle", !game.Met(n.data("needs"), p.game.View(), p.game.Setup()))
	}
}

// fillReadings lists the readings, newest first.
func (p *Panels) fillReadings() {
	body := el("tbody", nil)
	journal := p.game.Call().Journal
	for i := len(journal) - 1; i >= 0; i-- {
		if r := journal[i].Reading; r != nil {
			body.add(el("tr", attrs{"data-instrument": r.Instrument},
				el("td", nil, minuteOf(r.Tick)),
				el("th", attrs{"scope": "row"}, say.Sim(r.Name), el("small", nil, p.game.During(i))),
				el("td", nil, result(r, p.game.Look()))))
		}
	}
	if body.Get("childElementCount").Int() == 0 {
		byID("readings").become(el("p", attrs{"class": "none"}, say.Text("readings.none")))
		return
	}
	head := el("tr", nil, el("th", attrs{"scope": "col"}, say.Text("col.minute")), el("th", attrs{"scope": "col"}, say.Text("col.test")), el("th", attrs{"scope": "col"}, say.Text("col.result")))
	byID("readings").become(el("table", nil, el("thead", nil, head), body))
	byID("readings").Value.Set("scrollTop", 0)
}
