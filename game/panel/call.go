//go:build js

package panel

import (
	"math"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// Call is a call that the program holds.
type Call struct {
	sim.CallCard
	Open   bool              // it is the one on the page
	Titles map[string]string // in the languages that its file does not speak, by their tags
}

// told is what the customer of the open call tells, in the language spoken.
func (p *Panels) told() say.Call {
	if words, found := p.words[say.Spoken().Words()]; found {
		return words
	}
	s := p.game.Setup()
	return say.Call{Title: s.Title, Customer: s.Customer, Complaint: s.Complaint, House: s.House, Notes: s.Notes}
}

// fillCall fills the section on the call: who, what, where, and what is asked of the trainee.
func (p *Panels) fillCall() {
	p.journal.lines = -1 // the interview is made anew with it
	s, told := p.game.Setup(), p.told()
	dom.ByID("title").SetText(told.Title)
	dom.ByID("call-h").SetText(told.Title)
	dom.Document.Set("title", told.Title+" – Brinebench")
	c := dom.ByID("call")
	c.Become(
		dom.El("p", dom.Attrs{"class": "from"}, told.Customer),
		dom.El("blockquote", nil, told.Complaint),
		dom.El("p", nil, p.game.Look().Story(told.House, s)),
		dom.El("h3", nil, say.Text("call.ask")), dom.El("div", dom.Attrs{"id": "interview"}),
	)
	if len(told.Notes) > 0 {
		c.Add(dom.El("h3", nil, say.Text("call.notes")), dom.List("ul", told.Notes))
	}
	c.Add(
		dom.El("h3", nil, say.Text("call.asked")),
		dom.List("ol", []string{
			say.Text("call.find"),
			say.Text("call.name"),
			say.Text("call.mend"),
			say.Text("call.prove"),
			say.Text("call.finish"),
		}),
		dom.El("p", nil, say.Text("call.counts", say.Number(sim.TokensPerMinute, 1))),
		dom.El("h3", nil, say.Text("call.unit")), p.unitFacts(s),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("call.anew"), dom.Attrs{"data-act": "start-anew"})),
		dom.El("p", nil, say.Text("call.others")),
	)
}

func (p *Panels) unitFacts(s *sim.Setup) dom.Node {
	l := p.game.Look()
	size := func(m float64) string { return l.Quantity(m, sim.UnitLength) }
	controls := say.Text("unit.controls-are", l.Printed(s.DrainControlGPM), l.Printed(s.RefillControlGPM))
	return dom.Pairs(
		say.Text("unit.supply"), l.Quantity(s.SupplyPa, sim.UnitPressure),
		say.Text("unit.feed"), l.Quantity(s.FeedHardnessMolM3, sim.UnitHardness)+", "+l.Temperature(s.FeedTempC),
		say.Text("unit.tank"), say.Text("unit.tank-is", size(s.TankDiameterM), size(s.TankHeightM), l.Resin(s.ResinM3)),
		say.Text("unit.brine-tank"), size(s.BrineTankDiameterM)+" × "+size(s.BrineTankHeightM),
		say.Text("unit.controls"), controls,
		say.Text("unit.injector"), say.Text("unit.injector-is", say.Number(s.NozzleMM, 2), say.Number(s.ThroatMM, 2)),
		say.Text("unit.brining"), flowInWords(s),
		say.Text("unit.program"), programInWords(s.Stations),
	)
}

// flowInWords says which way a unit that is not the usual one regenerates.
func flowInWords(s *sim.Setup) string {
	if s.CounterCurrent {
		return say.Text("unit.counter-current")
	}
	return ""
}

func programInWords(stations []sim.Station) string {
	words := ""
	for _, st := range stations {
		if st.Seconds <= 0 {
			continue
		}
		if words != "" {
			words += ", "
		}
		words += game.InSentence(say.Sim(st.Name)) + " " + game.Minutes(math.Round(st.Seconds/6)/10)
	}
	return words
}
