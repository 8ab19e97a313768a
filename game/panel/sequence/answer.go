//go:build js

package sequence

import (
	"math"
	"slices"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// why says what a position is for.
func (c *Page) why(stop string) dom.Node {
	for _, s := range c.Drill.Unit().Program().Stops {
		if s.ID == stop {
			return dom.El("p", nil, dom.El("strong", nil, say.Sim(s.Name)+". "), say.Sim(s.Why))
		}
	}
	panic("panel: no position " + stop)
}

// nameStop answers which position it is.
func (c *Page) nameStop(stop string) {
	if c.Drill.Answered() {
		return
	}
	e, score := c.Drill.Exercise(), 0.0
	if stop == e.Stop {
		score = 100
	}
	c.answered(score, func() (list []dom.Node) {
		if stop != e.Stop {
			list = append(list, dom.El("p", nil, say.Text("cycle.it-is-not", c.stopName(stop))))
		}
		return append(list, c.why(e.Stop))
	})
}

// checkSeats answers a setting by what the unit does with it.
func (c *Page) checkSeats() {
	e, set := c.Drill.Exercise(), c.set
	right, got, found := c.Drill.Unit().TrySeats(e.Stop, set)
	score := 0.0
	if len(found) == 0 {
		score = 100
	}
	c.answered(score, func() []dom.Node {
		list := []dom.Node{}
		if len(found) > 0 {
			findings := dom.El("dl", dom.Attrs{"class": "findings"})
			for _, f := range found {
				findings.Add(dom.El("dt", dom.Attrs{"data-finding": f.ID}, say.Sim(f.What)), dom.El("dd", nil, say.Sim(f.Why)))
			}
			list = append(list, findings)
		} else if set != c.Drill.Unit().Right(e.Stop) {
			list = append(list, dom.El("p", nil, say.Text("cycle.as-well")))
		}
		return append(list, c.trialTable(&right, &got), c.rightSeats(e.Stop), c.why(e.Stop))
	})
}

func (c *Page) rightSeats(stop string) dom.Node {
	return dom.El("p", nil, say.Text("cycle.right-seats", seatNames(c.Drill.Unit().Right(stop))))
}

// trialTable sets a setting beside the right one.
func (c *Page) trialTable(right, got *sim.SeatTrial) dom.Node {
	l := c.Drill.Look()
	body := dom.El("tbody", nil)
	row := func(id, yours, theirs string) {
		body.Add(dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("cycle.row."+id)), dom.El("td", nil, yours), dom.El("td", nil, theirs)))
	}
	flow := func(x float64) string { return l.Quantity(math.Max(x, 0), sim.UnitFlow) }
	bed := func(x float64) string {
		switch {
		case x > 1e-6:
			return say.Text("cycle.down", l.Quantity(x, sim.UnitFlow))
		case x < -1e-6:
			return say.Text("cycle.up", l.Quantity(-x, sim.UnitFlow))
		}
		return "–"
	}
	row("house", flow(got.HouseM3S), flow(right.HouseM3S))
	row("hard", l.Quantity(got.HardMolM3, sim.UnitHardness), l.Quantity(right.HardMolM3, sim.UnitHardness))
	row("salt", l.Quantity(got.SaltKgM3, sim.UnitContent), l.Quantity(right.SaltKgM3, sim.UnitContent))
	row("drain", flow(got.DrainM3S), flow(right.DrainM3S))
	row("bed", bed(got.BedM3S), bed(right.BedM3S))
	row("lift", dom.Percent(got.Expansion), dom.Percent(right.Expansion))
	row("tank", l.Draught(got.DrawnM3), l.Draught(right.DrawnM3))
	return dom.Table(say.Text("cycle.trial"), []string{say.Text("cycle.trial"), say.Text("cycle.yours"), say.Text("cycle.theirs")}, body)
}

// checkPath answers a way.
func (c *Page) checkPath() {
	e, mine := c.Drill.Exercise(), slices.Clone(c.way)
	right := c.Drill.Unit().Trace(e.Stop, e.Way)
	n := sim.Agrees(mine, right)
	score := math.Floor(100 * float64(n) / float64(max(len(mine), len(right), 1)))
	c.answered(score, func() []dom.Node {
		l := dom.El("ol", dom.Attrs{"class": "way"})
		for i, p := range right {
			item := dom.El("li", nil, passageName(p))
			if i == n && n < len(right) && score < 100 {
				item.Add(" ", dom.El("strong", nil, say.Text("cycle.here")))
			}
			l.Add(item)
		}
		return []dom.Node{l, c.why(e.Stop)}
	})
}

// checkProgram answers a program by what it makes of a spent bed.
func (c *Page) checkProgram() {
	good, got, errs := c.Drill.Unit().TryProgram(c.steps)
	if len(errs) > 0 {
		dom.ByID("answer").Become(dom.El("p", dom.Attrs{"class": "refused"}, say.Text("cycle.not-run")))
		return
	}
	score := programScore(&good, &got)
	c.answered(score, func() []dom.Node { return []dom.Node{c.outcomeTable(&good, &got)} })
}

// programScore takes a quarter off for each thing that a program leaves undone: our
// choice.
func programScore(good, got *sim.CycleOutcome) float64 {
	score := 100.0
	for _, bad := range []bool{
		got.RegainedEq < 0.95*good.RegainedEq,
		got.ChlorideKgM3 > max(0.5, 1.5*good.ChlorideKgM3) || got.FirstHardM3 > good.FirstHardM3+1e-3,
		got.BrineKg < 0.8*good.BrineKg || got.LostShare > good.LostShare+1e-3,
		got.WaterM3 > 1.3*good.WaterM3 || got.AwayS > 1.5*good.AwayS,
	} {
		if bad {
			score -= 25
		}
	}
	return score
}

func (c *Page) outcomeTable(good, got *sim.CycleOutcome) dom.Node {
	l := c.Drill.Look()
	body := dom.El("tbody", nil)
	row := func(id, yours, theirs string) {
		body.Add(dom.El("tr", dom.Attrs{"data-outcome": id}, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("cycle.out."+id)), dom.El("td", nil, yours), dom.El("td", nil, theirs)))
	}
	row("regained", l.Exchange(got.RegainedEq), l.Exchange(good.RegainedEq))
	row("salt", l.Quantity(got.SaltKg, sim.UnitWeight), l.Quantity(good.SaltKg, sim.UnitWeight))
	row("water", l.Draught(got.WaterM3), l.Draught(good.WaterM3))
	row("time", say.Text("minutes", dom.Decimals(got.AwayS/60, 0)), say.Text("minutes", dom.Decimals(good.AwayS/60, 0)))
	row("chloride", l.Quantity(got.ChlorideKgM3, sim.UnitContent), l.Quantity(good.ChlorideKgM3, sim.UnitContent))
	row("hard", l.Draught(got.FirstHardM3), l.Draught(good.FirstHardM3))
	row("brine", l.Quantity(got.BrineKg, sim.UnitWeight), l.Quantity(good.BrineKg, sim.UnitWeight))
	return dom.Table(say.Text("cycle.outcome"), []string{say.Text("cycle.outcome"), say.Text("cycle.yours"), say.Text("cycle.unit-own")}, body)
}
