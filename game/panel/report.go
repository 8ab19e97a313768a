//go:build js

package panel

import (
	"math"
	"strings"

	"brinebench/game"
	"brinebench/sim"
)

// fillReport shows the debrief: the score, what was wrong, and how the evidence grew.
func (p *Panels) fillReport() {
	r := p.debrief.report
	box := byID("debrief")
	box.become(p.verdict(r), scoreTable(r), p.scrubBox())
	if len(r.Unsafe) > 0 {
		box.add(el("h3", nil, "Stopped as unsafe"), cautions(r.Unsafe))
	}
	if len(r.Unneeded) > 0 {
		box.add(el("h3", nil, "Repairs that were not needed"), list("ul", r.Unneeded))
	}
	if len(r.Steps) > 0 && len(r.Candidates) > 0 {
		box.add(el("h3", nil, "What the evidence said, step by step"), beliefChart(r), p.beliefTable(r))
	}
	if t := p.worthTable(r); t != nil {
		box.add(el("h3", nil, "What each test was worth"), *t,
			el("p", attrs{"class": "none"}, "Doubt is counted in bits: one bit settles an even question of yes or no. Worth is what the test promised before its result was known, and tests are compared by the minute, so that a quick look can beat a slow test."))
	}
	if w := p.readingsWeighed(r); w != nil {
		box.add(el("h3", nil, "What each reading told"), *w,
			el("p", attrs{"class": "none"}, "Ruled out: less than a tenth is left of what spoke for it. Raised: more than doubled."))
	}
	if len(p.game.Call().Order) > 0 {
		box.add(el("h3", nil, "Your work order"), p.orderWeighed(r))
	}
	if len(r.Better) > 0 {
		box.add(el("h3", nil, "A better run"), expertRun(r.Expert), list("ol", r.Better))
	}
	box.add(el("h3", nil, "To take away"), p.takeawayBox(), el("h3", nil, "Once more"), p.onceMore())
}

func (p *Panels) verdict(r *sim.Report) node {
	named := "You named no cause."
	if r.Named.ID != "" {
		named = "You named: " + faultTitle(r.Named) + ", " + percent(r.Confidence) + " (" + game.Confidence(r.Confidence) + ")."
	}
	return el("div", attrs{"class": "verdict", "data-score": decimals(r.Score, 0)},
		el("p", attrs{"class": "score"}, el("strong", nil, decimals(r.Score, 0)), " of 100"),
		el("div", nil,
			el("p", attrs{"data-true": faultIDs(r.True)}, "What was wrong: ", el("strong", nil, faultTitles(r.True)), "."),
			el("p", nil, named),
			el("p", nil, wholeMinutes(r.Minutes)+" min of work on the call.")))
}

func faultTitle(f sim.FaultInfo) string {
	switch {
	case f.Name != "":
		return f.Name
	case f.ID == sim.NoFault || f.ID == "":
		return "nothing is wrong"
	}
	return f.ID
}

func faultTitles(faults []sim.FaultInfo) string {
	names := make([]string, len(faults))
	for i, f := range faults {
		names[i] = faultTitle(f)
	}
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, "; ")
}

func faultIDs(faults []sim.FaultInfo) string {
	ids := make([]string, len(faults))
	for i, f := range faults {
		ids[i] = f.ID
	}
	return strings.Join(ids, " ")
}

func scoreTable(r *sim.Report) node {
	body := el("tbody", nil)
	for _, i := range r.Items {
		body.add(el("tr", attrs{"data-item": i.Name},
			el("th", attrs{"scope": "row"}, i.Name),
			el("td", attrs{"class": "points"}, points(i.Got)+" of "+points(i.Max), bar(ratio(i.Got, i.Max))),
			el("td", nil, i.Reason)))
	}
	t := table("Score", []string{"Part of the score", "Points", "Why"}, body)
	t.set("class", "scroll items")
	return t
}

// points writes a number of points to a tenth.
func points(x float64) string { return decimals(math.Round(10*x)/10, -1) }

// bar is a share drawn beside its number.
func bar(share float64) node {
	return svg("svg", attrs{"class": "bar", "viewBox": "0 0 100 6", "preserveAspectRatio": "none", "aria-hidden": "true"},
		svg("rect", attrs{"class": "rest", "width": "100", "height": "6"}),
		svg("rect", attrs{"width": decimals(100*min(max(share, 0), 1), 1), "height": "6"}))
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// table is a table that scrolls sideways where there is no room, by keys too.
func table(name string, head []string, body node) node {
	row := el("tr", nil)
	for _, h := range head {
		row.add(el("th", attrs{"scope": "col"}, h))
	}
	return el("div", attrs{"class": "scroll", "tabindex": "0", "role": "region", "aria-label": name}, el("table", nil, el("thead", nil, row), body))
}

// worthTable lists the tests with their value against the best test of the moment; nil without tests.
func (p *Panels) worthTable(r *sim.Report) *node {
	body := el("tbody", nil)
	for _, s := range r.Steps {
		if s.Ratio < 0 {
			continue
		}
		body.add(el("tr", nil,
			el("td", nil, wholeMinutes(s.Minute)), el("th", attrs{"scope": "row"}, p.stepText(&s)),
			el("td", nil, decimals(s.GainBits, 2)),
			el("td", attrs{"class": "points"}, percent(s.Ratio), bar(s.Ratio)),
			el("td", nil, s.BestTest+" ("+decimals(s.BestBits, 2)+")")))
	}
	if body.Get("childElementCount").Int() == 0 {
		return nil
	}
	t := table("Worth of each test", []string{"Minute", "Test", "Worth, bits", "Per minute, against the best", "Best at that moment (bits)"}, body)
	return &t
}

func (p *Panels) stepText(s *sim.StepReport) string {
	return sentence(s.Text, s.Reading, p.game.Look())
}
