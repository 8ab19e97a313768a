//go:build js

package sizing

import (
	"slices"
	"strconv"
	"strings"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

// fillMarks shows the marks of the answer, in three parts.
func (p *page) fillMarks() {
	box := dom.ByID("marks")
	box.Call("removeAttribute", "data-score")
	if p.running == "size" {
		box.Become(living())
		return
	}
	if failure, failed := p.failures["size"]; failed {
		box.Become(trouble(failure))
		return
	}
	m, ok := p.MarksNow()
	if !ok && p.drill != nil {
		box.Become(p.handedWords("await"))
		return
	}
	if !ok {
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.unmarked")))
		return
	}
	box.SetAttr("data-score", dom.Decimals(m.Score, 1))
	box.SetAttr("data-took", dom.Decimals(p.markMS, 0))
	box.Become(dom.El("div", dom.Attrs{"class": "verdict"}, dom.El("p", dom.Attrs{"class": "score"}, dom.El("strong", nil, points(m.Score)), " ", say.Text("sizing.of", "100")), parts(&m)))
	p.addOutcome(box, &m)
	p.addFigures(box, &m)
	again := dom.Button(say.Text("sizing.again"), dom.Attrs{"data-desk": "again"})
	again.Hide(p.drill != nil)
	box.Add(dom.El("div", dom.Attrs{"class": "pushes"}, again, dom.Button(say.Text("sizing.to-worked"), dom.Attrs{"data-show": "worked"})))
}

// parts are the points by the parts they come from. Those for what follows from wrong
// figures are told where there are any: beside a full score their nought would read like
// a failure.
func parts(m *sim.SizingMarks) dom.Node {
	lived := 0.0
	for _, it := range m.Outcome {
		lived += it.Points
	}
	pairs := []string{say.Text("sizing.part.figures"), say.Text("sizing.points-of", points(m.Right), "50")}
	if m.Consistency > 0 {
		pairs = append(pairs, say.Text("sizing.part.consistency"), say.Text("sizing.points-more", points(m.Consistency)))
	}
	return dom.Pairs(append(pairs, say.Text("sizing.part.outcome"), say.Text("sizing.points-of", points(lived), "50"))...)
}

// addOutcome shows what came of the three units in the house.
func (p *page) addOutcome(box dom.Node, m *sim.SizingMarks) {
	box.Add(dom.El("h3", nil, say.Text("sizing.ninety")))
	if m.Answered < 1 {
		box.Add(dom.El("p", nil, say.Text("sizing.answered", dom.Percent(m.Answered), strings.Join(say.SimAll(m.Silent), "; "))))
	}
	box.Add(itemTable(m.Outcome))
	units := []string{say.Text("sizing.yours"), say.Text("sizing.best"), say.Text("sizing.thumb")}
	outcomes := []*sim.SizingOutcome{&m.Answer, &m.Worked, &m.Thumb}
	box.Add(strips(units, outcomes), p.outcomeTable(units, outcomes), dom.El("p", dom.Attrs{"class": "none"}, p.thumbNote()))
	if len(m.Faults) > 0 {
		faults := dom.El("ul", nil)
		for _, f := range m.Faults {
			faults.Add(dom.El("li", nil, say.Sim(f)))
		}
		box.Add(dom.El("h3", nil, say.Text("sizing.misfits")), faults)
	}
}

// thumbNote tells what the rule of thumb is, in the reader's units.
func (p *page) thumbNote() string {
	if p.look.SI {
		return say.Text("sizing.thumb-note-si")
	}
	return say.Text("sizing.thumb-note")
}

func itemTable(items []sim.SizingItem) dom.Node {
	body := dom.El("tbody", nil)
	for _, it := range items {
		body.Add(dom.El("tr", dom.Attrs{"data-item": it.ID}, dom.El("th", dom.Attrs{"scope": "row"}, say.Sim(it.Name)), dom.El("td", nil, say.Text("sizing.points-of", points(it.Points), points(it.Of)))))
	}
	return dom.Table(say.Text("sizing.part.outcome"), []string{say.Text("sizing.what"), say.Text("sizing.points-head")}, body)
}

// strips shows the 90 days of each unit in a row, those with hard water marked.
func strips(names []string, outcomes []*sim.SizingOutcome) dom.Node {
	const days, wide, high = 90, 8, 26
	box := dom.El("div", dom.Attrs{"class": "ninety"})
	for i, o := range outcomes {
		drawing := dom.SVG("svg", dom.Attrs{"viewBox": "0 0 " + strconv.Itoa(days*wide) + " " + strconv.Itoa(high), "preserveAspectRatio": "none", "role": "img", "aria-label": names[i] + ": " + say.Text("sizing.hard-days", len(o.HardDays))})
		for day := range days {
			class, y, h := "soft", high-8, 8
			if slices.Contains(o.HardDays, day) {
				class, y, h = "hard", 0, high
			}
			drawing.Add(dom.SVG("rect", dom.Attrs{"class": class, "x": strconv.Itoa(day * wide), "y": strconv.Itoa(y), "width": strconv.Itoa(wide - 2), "height": strconv.Itoa(h)}))
		}
		box.Add(dom.El("p", nil, names[i], dom.El("span", nil, say.Text("sizing.hard-days", len(o.HardDays)))), drawing)
	}
	return box
}

func (p *page) outcomeTable(names []string, outcomes []*sim.SizingOutcome) dom.Node {
	body := dom.El("tbody", nil)
	for _, r := range sizing.OutcomeRows(p.look, outcomes...) {
		tr := dom.El("tr", dom.Attrs{"data-came": r.ID}, dom.El("th", dom.Attrs{"scope": "row"}, r.Name))
		for _, v := range r.Values {
			tr.Add(dom.El("td", nil, v))
		}
		body.Add(tr)
	}
	return dom.Stacked(say.Text("sizing.ninety"), "came", append([]string{""}, names...), body)
}

// addFigures shows each figure against the worked solution.
func (p *page) addFigures(box dom.Node, m *sim.SizingMarks) {
	body := dom.El("tbody", nil)
	for _, r := range sizing.MarkRows(m, p.look.SI) {
		verdict := dom.El("td", nil, dom.El("strong", nil, say.Text("sizing.verdict."+r.Verdict)))
		for _, n := range r.Notes {
			verdict.Add(dom.El("small", nil, n))
		}
		body.Add(dom.El("tr", dom.Attrs{"data-figure": r.ID, "data-verdict": r.Verdict}, dom.El("th", dom.Attrs{"scope": "row"}, r.Name), dom.El("td", nil, r.Got), dom.El("td", nil, r.Want), verdict, dom.El("td", nil, say.Text("sizing.points-of", points(r.Points), points(r.Of)))))
	}
	box.Add(dom.El("h3", nil, say.Text("sizing.figures")), dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.figures-note")),
		dom.Stacked(say.Text("sizing.figures"), "figures", []string{say.Text("sizing.what"), say.Text("sizing.your-figure"), say.Text("sizing.worked-figure"), say.Text("sizing.mark-head"), say.Text("sizing.points-head")}, body))
}

// fillWorked shows the worked solution, once it is asked for.
func (p *page) fillWorked() {
	box := dom.ByID("worked")
	if _, marked := p.MarksNow(); !marked && p.drill != nil {
		box.Become(p.handedWords("await-worked"))
		return
	}
	if !p.solved[p.Key()] && p.Source != sizing.Own {
		if _, marked := p.MarksNow(); !marked {
			box.Become(dom.El("p", nil, say.Text("sizing.unsolved")), dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("sizing.solve"), dom.Attrs{"data-desk": "solve"})))
			return
		}
	}
	sol := p.Solution()
	box.Become()
	if len(sol.Faults) > 0 {
		faults := dom.El("ul", nil)
		for _, f := range sol.Faults {
			faults.Add(dom.El("li", nil, say.Sim(f)))
		}
		box.Add(dom.El("div", dom.Attrs{"class": "refused"}, dom.El("p", nil, dom.El("strong", nil, say.Text("sizing.unfitting"))), faults))
	}
	box.Add(p.unitLine(sol), p.stepList(sol), dom.El("h3", nil, say.Text("sizing.see-to")), p.warnings(sol))
}

func (p *page) unitLine(sol *sim.SizingSolution) dom.Node {
	return dom.Pairs(say.Text("sizing.tank"), say.Sim(sol.Tank[p.system()]), say.Text("sizing.program"), say.Sim(sizing.ProgramName(sol.Program)))
}

func (p *page) stepList(sol *sim.SizingSolution) dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "worked"})
	for _, s := range sizing.Steps(&p.Job, sol, p.look.SI) {
		head := dom.El("p", nil, dom.El("strong", nil, s.Name), ": ", dom.El("b", dom.Attrs{"class": "result"}, s.Result))
		if s.Choice {
			head.Add(" ", dom.El("small", nil, say.Text("sizing.others-too")))
		}
		item := dom.El("li", dom.Attrs{"data-step": s.ID}, head, dom.El("p", dom.Attrs{"class": "formula"}, s.Formula), dom.El("p", dom.Attrs{"class": "formula"}, s.With))
		if s.Why != "" {
			item.Add(dom.El("p", dom.Attrs{"class": "why"}, s.Why))
		}
		item.Add(dom.El("p", dom.Attrs{"class": "none"}, s.Source))
		l.Add(item)
	}
	return l
}

func (p *page) warnings(sol *sim.SizingSolution) dom.Node {
	l := dom.El("ul", dom.Attrs{"class": "cautions"})
	for _, w := range sol.Warnings {
		l.Add(dom.El("li", dom.Attrs{"data-warning": w.ID}, dom.El("strong", nil, say.Text("sizing.word.caution")), " ", say.Sim(w.What), " ", dom.El("small", nil, say.Sim(w.Source))))
	}
	return l
}
