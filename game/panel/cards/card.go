//go:build js

package cards

import (
	"math"
	"strings"

	"brinebench/game"
	"brinebench/game/cards"
	"brinebench/game/dom"
	"brinebench/game/panel/lobes"
	"brinebench/game/say"
	"brinebench/sim"
)

// card is one of the cards, to be made when it is shown.
type card struct {
	id, name string
	make     func() dom.Node
}

// mostShown is how many troubles a position's card names, and mostSigns how many readings
// a part's card tells of one.
const (
	mostShown = 6
	mostSigns = 2
)

func (p *page) positionCards() (list []card) {
	for i := range p.deck.Positions {
		x := &p.deck.Positions[i]
		id := "position-" + x.Station.ID
		list = append(list, card{id, say.Sim(x.Station.Name), func() dom.Node { return p.positionCard(id, x) }})
	}
	return list
}

func (p *page) partCards() (list []card) {
	for i := range p.deck.Parts {
		x := &p.deck.Parts[i]
		id := "part-" + string(x.Info.ID)
		list = append(list, card{id, say.Sim(x.Info.Name), func() dom.Node { return p.partCard(id, x) }})
	}
	return list
}

// blank is a card with its head.
func (p *page) blank(id, name, kind string) dom.Node {
	return dom.El("article", dom.Attrs{"class": "card", "data-card": id, "aria-label": name},
		dom.El("header", nil, dom.El("h3", nil, name), dom.El("p", nil, say.Text("cards.head", say.Text("cards."+kind), p.title()))))
}

func (p *page) positionCard(id string, x *cards.Position) dom.Node {
	c := p.blank(id, say.Sim(x.Station.Name), "position")
	c.Add(dom.El("p", nil, say.Sim(x.Why)), p.pattern(x), p.duration(x), heading("cards.water"))
	ways := dom.El("ul", dom.Attrs{"class": "ways"})
	for _, w := range x.Ways {
		var names []string
		for _, path := range w.Paths {
			names = append(names, say.Text("cycle.passage."+dom.Decimals(float64(path), 0)))
		}
		ways.Add(dom.El("li", nil, dom.El("strong", nil, say.Capital(say.Text("cycle.way."+w.ID))), ": "+strings.Join(names, " → ")))
	}
	c.Add(ways, heading("cards.numbers"), dom.El("div", dom.Attrs{"class": "numbers"}, p.figures("flow", x.Flows), p.figures("pressure", x.Pressures), p.figures("bed", x.Bed)))
	if shown := cards.In(p.wear, x, mostShown); len(shown) > 0 {
		l := dom.El("dl", dom.Attrs{"class": "wears"})
		for i := range shown {
			l.Add(dom.El("dt", nil, say.Sim(shown[i].Name)), dom.El("dd", nil, p.reading(&shown[i].By)))
		}
		c.Add(heading("cards.wrong-here"), l, inUse())
	}
	heed := []string{say.Text("cards.heed." + x.Station.ID), say.Text("cards.heed")}
	if x.Station.Open[sim.SeatPass] {
		heed = append([]string{say.Text("cards.heed.raw")}, heed...)
	}
	c.Add(heading("cards.check"), dom.El("p", nil, say.Text("cards.check."+x.Station.ID)), dom.Cautions(heed...))
	return c
}

// pattern is the drum unrolled with the position's angle, and the seats it opens.
func (p *page) pattern(x *cards.Position) dom.Node {
	var open []string
	for seat, is := range x.Station.Open {
		if is {
			open = append(open, say.Sim(sim.Seat(seat).String()))
		}
	}
	said := say.Text("cards.open", strings.Join(open, ", "))
	svg, high := lobes.Chart(&p.deck.Setup.Lobe, 0, said)
	svg.Add(lobes.Needle(x.Station.AngleDeg, 0, high))
	return dom.El("figure", nil, svg, dom.El("figcaption", nil, said))
}

// duration says for how long a position is held.
func (p *page) duration(x *cards.Position) dom.Node {
	switch s := x.Station.Seconds; {
	case x.Station.ID == "service":
		return dom.El("p", nil, say.Text("cards.held-service"))
	case x.DrawS > 0:
		return dom.El("p", nil, say.Text("cards.held-draw", minutes(s), minutes(x.DrawS), p.look.Draught(x.DrawnM3), minutes(s-x.DrawS)))
	default:
		return dom.El("p", nil, say.Text("cards.held", minutes(s)))
	}
}

func minutes(s float64) string { return game.Minutes(math.Round(s / 60)) }

func heading(id string) dom.Node { return dom.El("h4", nil, say.Text(id)) }

// figures is a table of figures under the name of their kind.
func (p *page) figures(kind string, list []cards.Figure) dom.Node {
	body := dom.El("tbody", nil)
	for _, f := range list {
		body.Add(dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("cards."+kind+"."+f.ID)), dom.El("td", nil, p.value(f))))
	}
	return dom.El("table", nil, dom.El("caption", nil, say.Text("cards."+kind)), body)
}

// value is a figure in the units chosen.
func (p *page) value(f cards.Figure) string {
	switch {
	case f.Unit == cards.Millimetres:
		return say.Number(f.Value, 1) + " mm"
	case f.Unit == cards.Volume:
		return p.look.Resin(f.Value)
	case f.Unit == sim.UnitCount:
		return say.Number(f.Value, 0) + "°"
	case f.Unit == sim.UnitFlow && f.Value == 0:
		return "–"
	case f.Way == cards.Plain:
		return p.unbroken(f.Value, f.Unit)
	}
	text := p.unbroken(math.Abs(f.Value), f.Unit)
	switch {
	case f.Way == cards.UpDown && f.Value > 0:
		return say.Text("cycle.down", text)
	case f.Way == cards.UpDown:
		return say.Text("cycle.up", text)
	case f.Value > 0:
		return say.Text("cards.from-tank", text)
	}
	return say.Text("cards.to-tank", text)
}

// unbroken is a quantity whose number stays beside its unit where a cell is narrow.
func (p *page) unbroken(v float64, unit sim.Unit) string {
	return strings.Replace(p.look.Quantity(v, unit), " ", "\u00a0", 1)
}

func (p *page) partCard(id string, x *cards.Part) dom.Node {
	c := p.blank(id, say.Sim(x.Info.Name), "part")
	c.Add(dom.El("p", nil, say.Sim(x.Info.What)))
	if len(x.Sizes) > 0 {
		var pairs []string
		for _, f := range x.Sizes {
			pairs = append(pairs, say.Text("cards.size."+f.ID), p.value(f))
		}
		c.Add(dom.Pairs(pairs...))
	}
	switch x.Info.ID {
	case sim.PartSeats:
		c.Add(dom.Pairs(game.SeatKey()...), p.drum())
	case sim.PartDrum:
		c.Add(p.drum())
	case sim.PartController, sim.PartMotor:
		c.Add(p.times())
	}
	if len(x.Head) > 0 {
		c.Add(p.rows(x))
	}
	if wear := cards.At(p.wear, x.Info.ID); len(wear) > 0 {
		l := dom.El("dl", dom.Attrs{"class": "wears"})
		for i := range wear {
			l.Add(dom.El("dt", nil, say.Sim(wear[i].Name)), p.wearTold(&wear[i]))
		}
		c.Add(heading("cards.wears"), l, inUse())
	}
	if len(x.Tests) > 0 {
		l := dom.El("dl", dom.Attrs{"class": "wears"})
		for _, t := range x.Tests {
			l.Add(dom.El("dt", nil, say.Sim(t.Name)), dom.El("dd", nil, say.Sim(t.What)))
		}
		c.Add(heading("cards.check"), l)
	}
	if len(x.Info.Cautions) > 0 {
		c.Add(dom.Cautions(say.SimAll(x.Info.Cautions)...))
	}
	return c
}

// drum is the drum unrolled, with all positions.
func (p *page) drum() dom.Node {
	const above = 20
	var key []string
	svg, high := lobes.Chart(&p.deck.Setup.Lobe, above, say.Text("cards.drum"))
	for i, st := range p.deck.Setup.Stations {
		letter := string(rune('A' + i))
		svg.Add(lobes.Needle(st.AngleDeg, above-4, high), lobes.Letter(st.AngleDeg, letter))
		key = append(key, letter+" "+say.Sim(st.Name))
	}
	return dom.El("figure", nil, svg, dom.El("figcaption", nil, strings.Join(key, " · ")))
}

// rows are the figures of a part in every position.
func (p *page) rows(x *cards.Part) dom.Node {
	head := []string{say.Text("cards.position")}
	for _, id := range x.Head {
		head = append(head, say.Text("cards.col."+id))
	}
	body := dom.El("tbody", nil)
	for i, row := range x.Rows {
		tr := dom.El("tr", nil, dom.El("th", dom.Attrs{"scope": "row"}, say.Sim(p.deck.Positions[i].Station.Name)))
		for _, f := range row {
			tr.Add(dom.El("td", nil, p.value(f)))
		}
		body.Add(tr)
	}
	return dom.Table(say.Text("cards.rows", say.Sim(x.Info.Name)), head, body)
}

// times are those that the controller holds the positions for.
func (p *page) times() dom.Node {
	var pairs []string
	for _, x := range p.deck.Positions {
		if x.Station.ID != "service" {
			pairs = append(pairs, say.Sim(x.Station.Name), minutes(x.Station.Seconds))
		}
	}
	return dom.Pairs(pairs...)
}

// wearTold says what shows a trouble and what puts it right.
func (p *page) wearTold(w *sim.Wear) dom.Node {
	dd := dom.El("dd", nil)
	add := func(text string) { dd.Add(dom.El("span", nil, text), " ") }
	if w.Seen != "" {
		add(say.Text("cards.seen", say.Sim(w.Seen)))
	}
	for i := range w.Shows[:min(mostSigns, len(w.Shows))] {
		add(p.reading(&w.Shows[i]))
	}
	var work []string
	for _, x := range w.Work {
		if w.Where == sim.PartSalt && x == "replace" {
			x = "fill"
		}
		work = append(work, say.Text("cards.work."+x))
	}
	if len(work) > 0 {
		add(say.Text("cards.put-right", strings.Join(work, say.Text("cards.or"))))
	}
	return dd
}

// leastM3S is a flow that no one could measure, m³/s.
const leastM3S = 1e-7

// reading is a reading of the worn unit beside the sound one's, and when.
func (p *page) reading(s *sim.Showing) string {
	worth := func(v float64, seen string) string {
		if seen != "" {
			return say.Text("quoted", say.Sim(seen))
		}
		if s.Unit == sim.UnitFlow && v < -leastM3S { // of the brine line alone
			return p.value(cards.Figure{Value: v, Unit: s.Unit, Way: cards.Tank})
		}
		return p.look.Quantity(v, s.Unit)
	}
	id, test := "cards.reading", say.Sim(s.Test)
	switch {
	case s.Alike:
		id = "cards.reading-alike"
	case strings.HasSuffix(test, "?"):
		id = "cards.reading-asked"
	}
	text := say.Text(id, test, worth(s.Sound, s.SoundSeen), worth(s.Worn, s.WornSeen))
	switch {
	case s.AnyTime:
		return text + "."
	case s.Stage == "after":
		return say.Text("cards.reading-after", text)
	}
	return say.Text("cards.reading-in", say.Capital(say.Sim(s.Stage)), text)
}

// inUse tells that what shows a trouble was read at another unit than the numbers are of.
func inUse() dom.Node { return dom.El("p", dom.Attrs{"class": "none"}, say.Text("cards.in-use")) }
