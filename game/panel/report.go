//go:build js

package panel

import (
	"math"
	"strings"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// fillReport shows the debrief: the score, what was wrong, and how the evidence grew.
func (p *Panels) fillReport() {
	r := p.debrief.report
	box := byID("debrief")
	box.become(p.verdict(r), scoreTable(r), p.scrubBox())
	if len(r.Unsafe) > 0 {
		box.add(el("h3", nil, say.Text("report.unsafe")), cautions(r.Unsafe))
	}
	if len(r.Unneeded) > 0 {
		box.add(el("h3", nil, say.Text("report.unneeded")), list("ul", heard(r.Unneeded)))
	}
	if len(r.Steps) > 0 && len(r.Candidates) > 0 {
		box.add(el("h3", nil, say.Text("report.evidence")), beliefChart(r), p.beliefTable(r))
	}
	if t := p.worthTable(r); t != nil {
		box.add(el("h3", nil, say.Text("report.worth")), *t,
			el("p", attrs{"class": "none"}, say.Text("report.bits")))
	}
	if w := p.readingsWeighed(r); w != nil {
		box.add(el("h3", nil, say.Text("report.told")), *w,
			el("p", attrs{"class": "none"}, say.Text("report.told-words")))
	}
	if len(p.game.Call().Order) > 0 {
		box.add(el("h3", nil, say.Text("report.order")), p.orderWeighed(r))
	}
	if len(r.Better) > 0 {
		box.add(el("h3", nil, say.Text("report.better")), expertRun(r.Expert), list("ol", heard(r.Better)))
	}
	box.add(el("h3", nil, say.Text("report.takeaway")), p.takeawayBox(), el("h3", nil, say.Text("report.again")), p.onceMore())
}

func (p *Panels) verdict(r *sim.Report) node {
	named := say.Text("report.unnamed")
	if r.Named.ID != "" {
		named = say.Text("report.named", faultTitle(r.Named), percent(r.Confidence), game.Confidence(r.Confidence))
	}
	return el("div", attrs{"class": "verdict", "data-score": decimals(r.Score, 0)},
		el("p", attrs{"class": "score"}, el("strong", nil, say.Number(r.Score, 0)), " "+say.Text("report.of-100")),
		el("div", nil,
			el("p", attrs{"data-true": faultIDs(r.True)}, say.Text("report.true")+" ", el("strong", nil, faultTitles(r.True)), "."),
			el("p", nil, named),
			el("p", nil, say.Text("report.minutes", wholeMinutes(r.Minutes)))))
}

func faultTitle(f sim.FaultInfo) string {
	switch {
	case f.Name != "":
		return say.Sim(f.Name)
	case f.ID == sim.NoFault || f.ID == "":
		return say.Text("report.nothing-wrong")
	}
	return f.ID
}

func faultTitles(faults []sim.FaultInfo) string {
	names := make([]string, len(faults))
	for i, f := range faults {
		names[i] = faultTitle(f)
	}
	if len(names) == 0 {
		return say.Text("report.nothing")
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
			el("th", attrs{"scope": "row"}, say.Sim(i.Name)),
			el("td", attrs{"class": "points"}, say.Text("report.points", points(i.Got), points(i.Max)), bar(ratio(i.Got, i.Max))),
			el("td", nil, say.Sim(i.Reason))))
	}
	t := table(say.Text("report.score"), []string{say.Text("col.part"), say.Text("col.points"), say.Text("col.why")}, body)
	t.set("class", "scroll items")
	return t
}

// points writes a number of points to a tenth.
func points(x float64) string { return say.Number(math.Round(10*x)/10, -1) }

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
			el("td", nil, say.Number(s.GainBits, 2)),
			el("td", attrs{"class": "points"}, percent(s.Ratio), bar(s.Ratio)),
			el("td", nil, say.Sim(s.BestTest)+" ("+say.Number(s.BestBits, 2)+")")))
	}
	if body.Get("childElementCount").Int() == 0 {
		return nil
	}
	t := table(say.Text("report.worth-of"),
		[]string{say.Text("col.minute"), say.Text("col.test"), say.Text("col.worth"), say.Text("col.per-minute"), say.Text("col.best")}, body)
	return &t
}

func (p *Panels) stepText(s *sim.StepReport) string {
	return sentence(s.Text, s.Reading, p.game.Look())
}
