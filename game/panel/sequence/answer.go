//go:build js

package sequence

import (
	"math"
	"slices"
	"strings"

	"brinebench/game"
	"brinebench/game/cycle"
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

// howSeen says by which open seats a position is to be known, and the way that the water
// takes there.
func (c *Page) howSeen(stop string) (list []dom.Node) {
	unit := c.Drill.Unit()
	right := unit.Right(stop)
	seats := dom.El("ul", dom.Attrs{"class": "seen-by"})
	for _, seat := range sim.SeatRow {
		if right[seat] {
			seats.Add(dom.El("li", nil, dom.El("strong", nil, say.Sim(seat.String())), ": "+game.SeatJob(seat)))
		}
	}
	list = append(list, dom.El("p", nil, say.Text("cycle.seen-by")), seats)
	if way := telling(unit.Exercises(sim.TracePath), stop); way != "" {
		list = append(list, dom.El("p", nil, say.Text("cycle.seen-way", c.wayName(way), passageNames(unit.Trace(stop, way)))))
	}
	return list
}

// telling is the way of a position that tells it best from the others.
func telling(all []sim.Exercise, stop string) (way string) {
	order := []string{"house", "drain", "tank", "brine"}
	for _, e := range all {
		if e.Stop == stop && slices.Index(order, e.Way) >= slices.Index(order, way) {
			way = e.Way
		}
	}
	return way
}

// nameStop answers which position it is.
func (c *Page) nameStop(stop string) {
	if c.Drill.Answered() {
		return
	}
	e := c.Drill.Exercise()
	c.named = stop
	c.answered(c.Drill.MarkName(stop), func() (list []dom.Node) {
		if stop != e.Stop {
			list = append(list, dom.El("p", nil, say.Text("cycle.it-is-not", c.stopName(stop), seatNames(c.Drill.Unit().Right(stop)))))
		}
		list = append(list, c.why(e.Stop))
		if stop != e.Stop {
			list = append(list, c.howSeen(e.Stop)...)
		}
		return list
	})
}

// checkSeats answers a setting by what the unit does with it.
func (c *Page) checkSeats() {
	e, set, m := c.Drill.Exercise(), c.set, c.Drill.MarkSeats(c.set)
	c.answered(m.Score, func() []dom.Node {
		return append(c.seatsTold(&m, set, e.Stop), c.why(e.Stop))
	})
}

// seatsTold says what a setting did in a position, and why; set is the one answered.
func (c *Page) seatsTold(m *cycle.SeatsMark, set sim.Seats, stop string) (list []dom.Node) {
	if len(m.Found) > 0 {
		findings := dom.El("dl", dom.Attrs{"class": "findings"})
		for _, f := range m.Found {
			findings.Add(dom.El("dt", dom.Attrs{"data-finding": f.ID}, say.Sim(f.What)), dom.El("dd", nil, say.Sim(f.Why)))
		}
		list = append(list, findings)
		if len(m.Why) > 0 {
			list = append(list, dom.El("p", dom.Attrs{"class": "reason"}, say.Text("cycle.because", reasons(m.Why))))
		}
	} else if !m.Own {
		list = append(list, dom.El("p", nil, say.Text("cycle.as-well")))
	}
	list = append(list, c.trialTable(&m.Right, &m.Got))
	if m.Score < 100 {
		yours := say.Text("cycle.your-none")
		if set != (sim.Seats{}) {
			yours = say.Text("cycle.your-seats", seatNames(set))
		}
		list = append(list, dom.El("p", nil, yours))
	}
	return append(list, c.rightSeats(stop))
}

// reasons are the engine's reasons, one after another.
func reasons(list []string) string {
	var said []string
	for _, s := range list {
		said = append(said, say.Sim(s))
	}
	return strings.Join(said, "; ")
}

// checkDrum answers the reading of a drum without names: its positions, and by what
// the unit does the seats of the one asked for.
func (c *Page) checkDrum() {
	e, names, set, m := c.Drill.Exercise(), slices.Clone(c.names), c.set, c.Drill.MarkDrum(c.names, c.set)
	marks := c.Drill.Drum().Marks
	c.answered(m.Score, func() []dom.Node {
		body := dom.El("tbody", nil)
		for i, k := range marks {
			row := dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, k.Letter), dom.El("td", nil, orNone(c.stopNameOr(names[i]))), dom.El("td", nil, c.stopName(k.Stop)))
			row.Flag("data-missed", names[i] != k.Stop)
			body.Add(row)
		}
		list := []dom.Node{
			dom.Table(say.Text("cycle.marks"), []string{say.Text("cycle.mark"), say.Text("cycle.yours"), say.Text("cycle.theirs")}, body),
			dom.El("h3", nil, say.Text("cycle.seats-of", letterOf(marks), c.stopName(e.Stop))),
		}
		return append(append(list, c.seatsTold(&m.Seats, set, e.Stop)...), c.why(e.Stop))
	})
}

// letterOf is the mark whose seats are asked for.
func letterOf(marks []cycle.Mark) string {
	for _, k := range marks {
		if k.Asked {
			return k.Letter
		}
	}
	return ""
}

func (c *Page) rightSeats(stop string) dom.Node {
	return dom.El("p", nil, say.Text("cycle.right-seats", seatNames(c.Drill.Unit().Right(stop))))
}

// runsM3S is the flow of a tap below which the trial takes no water of it, 0.05 gal/min.
const runsM3S = 0.05 * 3.785411784e-3 / 60

// trialTable sets a setting beside the right one.
func (c *Page) trialTable(right, got *sim.SeatTrial) dom.Node {
	l := c.Drill.Look()
	body := dom.El("tbody", nil)
	row := func(id, yours, theirs string) {
		body.Add(dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("cycle.row."+id)), dom.El("td", nil, joined(yours)), dom.El("td", nil, joined(theirs))))
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
	there := func(t *sim.SeatTrial, x float64, unit sim.Unit) string { // in the tap's water, where it gives some
		if t.HouseM3S < runsM3S {
			return say.Text("cycle.no-water")
		}
		return l.Quantity(x, unit)
	}
	row("hard", there(got, got.HardMolM3, sim.UnitHardness), there(right, right.HardMolM3, sim.UnitHardness))
	row("salt", there(got, got.SaltKgM3, sim.UnitContent), there(right, right.SaltKgM3, sim.UnitContent))
	row("drain", flow(got.DrainM3S), flow(right.DrainM3S))
	row("bed", bed(got.BedM3S), bed(right.BedM3S))
	row("lift", dom.Percent(got.Expansion), dom.Percent(right.Expansion))
	row("tank", l.Draught(got.DrawnM3), l.Draught(right.DrawnM3))
	return dom.Table(say.Text("cycle.trial"), []string{say.Text("cycle.trial"), say.Text("cycle.yours"), say.Text("cycle.theirs")}, body)
}

// checkPath answers a way.
func (c *Page) checkPath() {
	e, way, m := c.Drill.Exercise(), slices.Clone(c.way), c.Drill.MarkPath(c.way)
	c.answered(m.Score, func() []dom.Node {
		list := []dom.Node{wayTold(m.Right)}
		if m.Score < 100 {
			mine := wayTold(way)
			if m.Agree < len(way) {
				dom.Wrap(mine.Get("children").Index(m.Agree)).Add(" ", dom.El("strong", nil, say.Text("cycle.here")))
			}
			list = []dom.Node{dom.El("h4", nil, say.Text("cycle.yours")), mine, dom.El("h4", nil, say.Text("cycle.theirs")), list[0]}
		}
		return append(list, c.why(e.Stop))
	})
}

// wayTold lists the passages of a way.
func wayTold(way []sim.Path) dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "way"})
	for _, p := range way {
		l.Add(dom.El("li", nil, passageName(p)))
	}
	return l
}

// outcome tells what a program made of a spent bed, beside the unit's own.
func (c *Page) outcome(t *sim.ProgramTrial) (list []dom.Node) {
	if t.Got.SaltKg == 0 {
		list = append(list, dom.El("p", nil, say.Text("cycle.no-brine")))
	}
	if off := cycle.Off(t); len(off) > 0 {
		var names []string
		for _, id := range off {
			names = append(names, game.InSentence(say.Text("cycle.out."+id)))
		}
		list = append(list, dom.El("p", dom.Attrs{"class": "reason"}, say.Text("cycle.off", strings.Join(names, "; "))))
	}
	for _, stop := range c.stops()[1:] {
		if stop.ID != "brine" && !slices.ContainsFunc(c.steps, func(s sim.ProgramStep) bool { return s.Stop == stop.ID }) {
			list = append(list, dom.El("p", dom.Attrs{"class": "reason"}, say.Text("cycle.without."+stop.ID)))
		}
	}
	return append(list, c.outcomeTable(t))
}

func (c *Page) outcomeTable(t *sim.ProgramTrial) dom.Node {
	got, good, off := &t.Got, &t.Own, cycle.Off(t)
	l := c.Drill.Look()
	body := dom.El("tbody", nil)
	row := func(id, yours, theirs string) {
		tr := dom.El("tr", dom.Attrs{"data-outcome": id}, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("cycle.out."+id)), dom.El("td", nil, joined(yours)), dom.El("td", nil, joined(theirs)))
		tr.Flag("data-wrong", slices.Contains(off, id))
		body.Add(tr)
	}
	if got.SaltKg > 0 {
		row("regained", l.Exchange(got.RegainedEq), l.Exchange(good.RegainedEq))
	} else { // a bed takes up a little again once it has been stirred
		row("regained", "–", l.Exchange(good.RegainedEq))
		row("left", l.Exchange(got.RegainedEq), "–")
	}
	row("salt", l.Quantity(got.SaltKg, sim.UnitWeight), l.Quantity(good.SaltKg, sim.UnitWeight))
	row("water", l.Draught(got.WaterM3), l.Draught(good.WaterM3))
	row("time", say.Text("minutes", dom.Decimals(got.AwayS/60, 0)), say.Text("minutes", dom.Decimals(good.AwayS/60, 0)))
	row("chloride", l.Quantity(got.ChlorideKgM3, sim.UnitContent), l.Quantity(good.ChlorideKgM3, sim.UnitContent))
	row("hard", l.Draught(got.FirstHardM3), l.Draught(good.FirstHardM3))
	row("brine", l.Quantity(got.BrineKg, sim.UnitWeight), l.Quantity(good.BrineKg, sim.UnitWeight))
	row("lost", share(got.LostShare), share(good.LostShare))
	return dom.Table(say.Text("cycle.outcome"), []string{say.Text("cycle.outcome"), say.Text("cycle.your-program"), say.Text("cycle.unit-own")}, body)
}

// joined keeps a number on one line with its unit.
func joined(quantity string) string { return strings.Replace(quantity, " ", "\u00a0", 1) }

// share is a small part of something.
func share(x float64) string { return say.Number(100*x, 1) + " %" }
