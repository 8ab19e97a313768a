//go:build js

package panel

import (
	"slices"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// This file is what the debrief says of the person's reasoning, and what the person
// takes away from it.

// readingsWeighed lists what the customer's words and each reading ruled out and raised;
// nil without either.
func (p *Panels) readingsWeighed(r *sim.Report) *dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "log weighed"})
	if len(r.Says) > 0 {
		l.Add(p.weighed(&r.Told, nil, false, customersWords(r), "complaint"))
	}
	mending := p.turnsOf(r).mending
	for i := range r.Steps {
		if s := &r.Steps[i]; s.Reading != nil {
			was := r.Told.Belief
			if i > 0 {
				was = r.Steps[i-1].Belief
			}
			l.Add(p.weighed(s, was, len(mending) > 0 && i > mending[0], p.stepText(s), s.Reading.Instrument))
		}
	}
	if l.Get("childElementCount").Int() == 0 {
		return nil
	}
	return &l
}

// customersWords are what the customer told when he called.
func customersWords(r *sim.Report) string {
	return say.Text("weighed.words", strings.Join(say.SimAll(r.Says), "; "))
}

// weighed tells what a step made of the belief before it, nil for none; one after a repair
// that told nothing new tells how the unit is now.
func (p *Panels) weighed(s *sim.StepReport, was []float64, mended bool, text, by string) dom.Node {
	const believed = 0.9
	what := dom.El("div", nil, dom.El("p", nil, text))
	much := len(s.Against)+len(s.For) > 0
	switch lead := leading(was); {
	case much:
	case mended:
		what.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("weighed.mended")))
	case lead >= 0 && was[lead] >= believed && s.Belief[lead] >= was[lead]:
		what.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("weighed.confirmed")))
	default:
		what.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("weighed.little")))
	}
	what.Add(dom.Pairs(say.Text("weighed.out"), p.causesInWords(s.Against), say.Text("weighed.raised"), p.causesInWords(s.For)),
		p.would(s.Would, much && !dom.Narrow(), p.debrief.report.Truth()...))
	return dom.El("li", dom.Attrs{"data-weighed": by}, dom.El("span", dom.Attrs{"class": "minute"}, say.Text("minutes", wholeMinutes(s.Minute))), what)
}

// leading is the place of the greatest of a belief; −1 of none.
func leading(belief []float64) int {
	if len(belief) == 0 {
		return -1
	}
	return slices.Index(belief, slices.Max(belief))
}

func (p *Panels) causesInWords(ids []string) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = faultName(id)
	}
	return strings.Join(names, "; ")
}

// orderWeighed lists the lines of the work order with what their readings did to the
// suspicion, and whether the conclusion drawn fits that.
func (p *Panels) orderWeighed(r *sim.Report) dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "lines"})
	lines := p.game.Call().Order
	for i := range lines {
		line := p.orderLine(&lines[i])
		if said, fits := p.lineWeighed(r, &lines[i]); said != "" {
			line.Add(dom.El("p", dom.Attrs{"class": "weight", "data-weighed-line": strconv.Itoa(i), "data-fits": fits}, said))
		}
		l.Add(line)
	}
	return l
}

// lineWeighed says what the reading of a line did to its suspicion, and "yes" or "no"
// where a conclusion was drawn that fits it or does not.
func (p *Panels) lineWeighed(r *sim.Report, line *sim.OrderLine) (said, fits string) {
	if line.Suspect == "" || line.Result < 0 {
		return "", ""
	}
	reading := p.game.Call().Journal[line.Result].Reading
	if reading == nil {
		return "", ""
	}
	before, after, found := game.Moved(r, reading, line.Suspect)
	if !found {
		return "", ""
	}
	speaks := game.Speaks(before, after)
	said = say.Text("line.belief", share(before), share(after), say.Text("weight."+speaks)) + " "
	switch line.Conclusion {
	case "":
		return said + say.Text("line.undrawn"), ""
	case speaks:
		return said + say.Text("line.fits"), "yes"
	}
	return said + say.Text("line.unfit", say.Text("conclusion."+line.Conclusion)), "no"
}

// share is a belief in words that tell little from nothing.
func share(x float64) string {
	switch {
	case x > 0 && x < 0.005:
		return say.Text("share.under")
	case x < 1 && x >= 0.995:
		return say.Text("share.over")
	}
	return dom.Percent(x)
}

// expertRun is how the expert fared, above the list of what was done.
func expertRun(e sim.ExpertRun) dom.Node {
	return dom.El("p", dom.Attrs{"data-expert": dom.Decimals(e.Score, 0)},
		say.Text("better.run", say.Number(e.Score, 0), say.Text("n.readings", e.Tests), wholeMinutes(e.Minutes)))
}

// takeawayMax is the most that fits into the takeaway, in characters.
const takeawayMax = 2000

// takeawayBox is the field for what the person takes away, made once so that a
// debrief that is filled again keeps what was typed.
func (p *Panels) takeawayBox() dom.Node {
	d := &p.debrief
	if d.takeaway.IsUndefined() {
		field := dom.El("textarea", dom.Attrs{"id": "takeaway", "rows": "3", "maxlength": strconv.Itoa(takeawayMax), "aria-describedby": "takeaway-kept"})
		field.On("change", func(js.Value) { p.save() })
		d.takeaway = dom.El("div", dom.Attrs{"class": "takeaway"},
			dom.El("label", dom.Attrs{"for": "takeaway"}, say.Text("takeaway.label")), field,
			dom.El("p", dom.Attrs{"class": "none", "id": "takeaway-kept"}, say.Text("takeaway.kept")),
			dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("takeaway.print"), dom.Attrs{"data-act": "print"})))
	}
	return d.takeaway
}
