//go:build js

package panel

import (
	"math"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// fillReport shows the debrief: the score, what was wrong, and how the evidence grew.
func (p *Panels) fillReport() {
	r := p.debrief.report
	p.debrief.wide = beliefWidth()
	box := dom.ByID("debrief")
	box.Become(p.verdict(r), scoreTable(r), p.scrubBox())
	if len(r.Unsafe) > 0 {
		box.Add(dom.El("h3", nil, say.Text("report.unsafe")), dom.Cautions(say.SimAll(r.Unsafe)...))
	}
	if len(r.Unneeded) > 0 {
		box.Add(dom.El("h3", nil, say.Text("report.unneeded")), dom.List("ul", say.SimAll(r.Unneeded)),
			dom.El("p", dom.Attrs{"class": "none"}, say.Text("report.unneeded-words")))
	}
	if len(r.Steps) > 0 && len(r.Candidates) > 0 {
		curves, turns := likeliest(r), p.turnsOf(r)
		box.Add(dom.El("h3", nil, say.Text("report.evidence")), beliefChart(r, curves, turns), p.beliefTable(r, curves, turns))
	}
	if t := p.worthTable(r); t != nil {
		box.Add(dom.El("h3", nil, say.Text("report.worth")), *t,
			dom.El("p", dom.Attrs{"class": "none"}, worthInWords()))
	}
	if words := spared(r); words != "" {
		box.Add(dom.El("p", dom.Attrs{"class": "none"}, words))
	}
	if w := p.readingsWeighed(r); w != nil {
		box.Add(dom.El("h3", nil, say.Text("report.told")), *w,
			dom.El("p", dom.Attrs{"class": "none"}, say.Text("report.told-words")))
	}
	if len(p.game.Call().Order) > 0 {
		box.Add(dom.El("h3", nil, say.Text("report.order")), p.orderWeighed(r))
	}
	if len(r.Better) > 0 {
		box.Add(dom.El("h3", nil, say.Text("report.better")), expertRun(r.Expert), dom.List("ol", say.SimAll(r.Better)),
			dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("better.watch"), dom.Attrs{"data-act": "demo"})))
	}
	box.Add(dom.El("h3", nil, say.Text("report.takeaway")), p.takeawayBox(), dom.El("h3", nil, say.Text("report.again")), p.onceMore())
}

func (p *Panels) verdict(r *sim.Report) dom.Node {
	named := say.Text("report.unnamed")
	if r.Named.ID != "" {
		named = say.Text("report.named", faultTitle(r.Named), dom.Percent(r.Confidence), game.Confidence(r.Confidence))
	}
	return dom.El("div", dom.Attrs{"class": "verdict", "data-score": dom.Decimals(r.Score, 0)},
		dom.El("p", dom.Attrs{"class": "score"}, dom.El("strong", nil, say.Number(r.Score, 0)), " "+say.Text("report.of-100")),
		dom.El("div", nil,
			dom.El("p", dom.Attrs{"data-true": faultIDs(r.True)}, say.Text("report.true")+" ", dom.El("strong", nil, faultTitles(r.True)), "."),
			dom.El("p", nil, named),
			dom.El("p", nil, p.spent(r.Minutes))))
}

// spent says what the call took, and what of it went for new parts.
func (p *Panels) spent(minutes float64) string {
	const least = 0.5
	cost, perMinute := costOf(p.game.Call()), say.Number(sim.TokensPerMinute, 1)
	if parts := p.game.Call().Cost - sim.TokensPerMinute*minutes; parts >= least {
		return say.Text("report.minutes-parts", wholeMinutes(minutes), tokens(cost), perMinute, tokens(parts))
	}
	return say.Text("report.minutes", wholeMinutes(minutes), tokens(cost), perMinute)
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

func scoreTable(r *sim.Report) dom.Node {
	body := dom.El("tbody", nil)
	for _, i := range r.Items {
		body.Add(dom.El("tr", dom.Attrs{"data-item": i.Name},
			dom.El("th", dom.Attrs{"scope": "row"}, say.Sim(i.Name)),
			dom.El("td", dom.Attrs{"class": "points"}, say.Text("report.points", points(i.Got), points(i.Max)), bar(ratio(i.Got, i.Max))),
			dom.El("td", nil, say.Sim(i.Reason))))
	}
	return dom.Stacked(say.Text("report.score"), "items", []string{say.Text("col.part"), say.Text("col.points"), say.Text("col.why")}, body)
}

// points writes a number of points to a tenth.
func points(x float64) string { return say.Number(math.Round(10*x)/10, -1) }

// bar is a share drawn beside its number.
func bar(share float64) dom.Node {
	return dom.SVG("svg", dom.Attrs{"class": "bar", "viewBox": "0 0 100 6", "preserveAspectRatio": "none", "aria-hidden": "true"},
		dom.SVG("rect", dom.Attrs{"class": "rest", "width": "100", "height": "6"}),
		dom.SVG("rect", dom.Attrs{"width": dom.Decimals(100*min(max(share, 0), 1), 1), "height": "6"}))
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// worthTable lists the tests that count with their value against the best test of the
// moment; nil without any.
func (p *Panels) worthTable(r *sim.Report) *dom.Node {
	body := dom.El("tbody", nil)
	for _, s := range r.Steps {
		if s.Ratio < 0 || s.Spare {
			continue
		}
		body.Add(dom.El("tr", nil,
			dom.El("td", nil, wholeMinutes(s.Minute)), dom.El("th", dom.Attrs{"scope": "row"}, p.stepText(&s)),
			dom.El("td", nil, worth(s.GainBits)),
			dom.El("td", dom.Attrs{"class": "points"}, dom.Percent(s.Ratio), bar(s.Ratio)),
			dom.El("td", nil, say.Text("report.best-worth", say.Sim(s.BestTest), worth(s.BestBits)))))
	}
	if body.Get("childElementCount").Int() == 0 {
		return nil
	}
	t := dom.Stacked(say.Text("report.worth-of"), "worth",
		[]string{say.Text("col.minute"), say.Text("col.test"), say.Text("col.worth"), say.Text("col.per-minute"), say.Text("col.best")}, body)
	return &t
}

// spared names the tests that do not count; "" where all do.
func spared(r *sim.Report) string {
	var names []string
	for _, s := range r.Steps {
		if s.Ratio >= 0 && s.Spare {
			names = append(names, say.Text("report.spared-at", wholeMinutes(s.Minute), strings.TrimSuffix(say.Sim(s.Text), ".")))
		}
	}
	if names == nil {
		return ""
	}
	return say.Text("report.spared", strings.Join(names, "; "))
}

// worth is what a test promised to tell: a word, and the bits as a detail.
func worth(bits float64) string {
	return say.Text("report.worth-bits", say.Sim(sim.Worth(bits)), say.Number(bits, 2))
}

// worthInWords says what the words and the bits of worth stand for.
func worthInWords() string {
	little, some, much := sim.WorthFrom()
	return say.Text("report.bits", say.Number(much, -1), say.Number(some, -1), say.Number(little, -1))
}

func (p *Panels) stepText(s *sim.StepReport) string {
	return sentence(s.Text, s.Reading, p.game.Look())
}
