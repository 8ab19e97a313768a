//go:build js

package panel

import (
	"math"

	"brinebench/game"
	"brinebench/sim"
)

// Call is a call that the program holds.
type Call struct {
	sim.CallCard
	Open bool // it is the one on the page
}

// buildCall fills the section on the call: who, what, where, and what is asked of the trainee.
func (p *Panels) buildCall() {
	s := p.game.Setup()
	byID("call-title").text(s.Title)
	byID("call-h").text(s.Title)
	document.Set("title", s.Title+" – Brinebench")
	p.fillCall()
}

func (p *Panels) fillCall() {
	s := p.game.Setup()
	c := byID("call")
	c.become(
		el("p", attrs{"class": "from"}, s.Customer),
		el("blockquote", nil, s.Complaint),
		el("p", nil, s.House),
	)
	if len(s.Notes) > 0 {
		c.add(el("h3", nil, "Notes"), list("ul", s.Notes))
	}
	c.add(
		el("h3", nil, "What is asked"),
		list("ol", []string{
			"Find the cause with as few minutes and parts as the evidence allows.",
			"Name it, and say how sure you are.",
			"Put it right, safely.",
			"Run the cycle and prove soft water at the house tap.",
			"Finish the call; the debrief follows.",
		}),
		el("p", nil, "The drawing lets you see into the unit, as no cellar does. The debrief counts only what you tested."),
		el("h3", nil, "The unit"), p.unitFacts(s),
		el("h3", nil, "Other calls"), p.otherCalls(),
	)
}

// otherCalls lists the calls that are not open, each a link that opens it.
func (p *Panels) otherCalls() node {
	l := el("ul", nil)
	for _, c := range p.calls {
		if !c.Open {
			l.add(el("li", nil, el("a", attrs{"href": "?call=" + c.ID, "data-call": c.ID}, c.Title)))
		}
	}
	return l
}

func (p *Panels) unitFacts(s *sim.Setup) node {
	l := p.game.Look()
	size := func(m float64) string { return l.Quantity(m, sim.UnitLength) }
	controls := decimals(s.DrainControlGPM, 1) + " gpm drain, " + decimals(s.RefillControlGPM, 1) + " gpm refill"
	return pairs(
		"Supply, at rest", l.Quantity(s.SupplyPa, sim.UnitPressure),
		"Feed water", l.Quantity(s.FeedHardnessMolM3, sim.UnitHardness)+", "+l.Temperature(s.FeedTempC),
		"Resin tank", size(s.TankDiameterM)+" × "+size(s.TankHeightM)+", "+l.Resin(s.ResinM3)+" of resin",
		"Brine tank", size(s.BrineTankDiameterM)+" × "+size(s.BrineTankHeightM),
		"Flow controls", controls,
		"Injector", "nozzle "+decimals(s.NozzleMM, 2)+" mm, throat "+decimals(s.ThroatMM, 2)+" mm",
		"Program", programInWords(s.Stations),
	)
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
		words += game.InSentence(st.Name) + " " + decimals(math.Round(st.Seconds/6)/10, -1) + " min"
	}
	return words
}
