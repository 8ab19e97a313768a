//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/sim"
)

// places groups parts by where the technician stands.
var places = []struct {
	name  string
	parts []sim.Part
}{
	{"House and supply", []sim.Part{sim.PartSupply, sim.PartShutOff, sim.PartBypass, sim.PartRawTap, sim.PartHouseTap}},
	{"Control valve", []sim.Part{sim.PartController, sim.PartMotor, sim.PartValve, sim.PartDrum, sim.PartSeats, sim.PartInjector, sim.PartScreen, sim.PartRefillCtl}},
	{"Drain", []sim.Part{sim.PartDrainCtl, sim.PartDrainLine, sim.PartAirGap}},
	{"Brine tank", []sim.Part{sim.PartBrineTank, sim.PartSalt, sim.PartBrineLine, sim.PartAirCheck, sim.PartFloat}},
	{"Resin tank", []sim.Part{sim.PartBed, sim.PartRiser, sim.PartUpperDist, sim.PartLowerDist}},
}

// atPlace tells whether a part belongs to a place; parts of none belong to the last.
func atPlace(part sim.Part, place int) bool {
	for i := range places {
		for _, q := range places[i].parts {
			if q == part {
				return i == place
			}
		}
	}
	return place == len(places)-1
}

// buildTests lists the tests by place, once.
func (p *Panels) buildTests() {
	box := byID("tests")
	box.become()
	for i, place := range places {
		l := el("ul", attrs{"class": "tests act"})
		for _, t := range p.game.Setup().Instruments {
			if atPlace(t.Where, i) {
				l.add(el("li", nil, testButton(t, "data-test"), el("p", nil, t.What)))
			}
		}
		if l.Get("childElementCount").Int() > 0 {
			box.add(el("h3", nil, place.name), l)
		}
	}
}

func testButton(t sim.InstrumentInfo, handle string) node {
	return button(t.Name, attrs{handle: t.ID}, el("span", attrs{"class": "cost"}, game.Minutes(t.Minutes)))
}

// fillReadings lists the readings, newest first.
func (p *Panels) fillReadings() {
	body := el("tbody", nil)
	journal := p.game.Call().Journal
	for i := len(journal) - 1; i >= 0; i-- {
		if r := journal[i].Reading; r != nil {
			body.add(el("tr", attrs{"data-instrument": r.Instrument},
				el("td", nil, minuteOf(r.Tick)),
				el("th", attrs{"scope": "row"}, r.Name, el("small", nil, p.game.During(i))),
				el("td", nil, result(r, p.game.Look()))))
		}
	}
	if body.Get("childElementCount").Int() == 0 {
		byID("readings").become(el("p", attrs{"class": "none"}, "No readings yet. Results of tests appear here at once."))
		return
	}
	head := el("tr", nil, el("th", attrs{"scope": "col"}, "Minute"), el("th", attrs{"scope": "col"}, "Test"), el("th", attrs{"scope": "col"}, "Result"))
	byID("readings").become(el("table", nil, el("thead", nil, head), body))
	byID("readings").Value.Set("scrollTop", 0)
}
