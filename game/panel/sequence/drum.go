//go:build js

package sequence

import (
	"strconv"
	"strings"

	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/panel/lobes"
	"brinebench/game/say"
	"brinebench/sim"
)

// lobeChart is the unit's drum, and where it stands.
func (c *Page) lobeChart(deg float64) dom.Node {
	set := c.Drill.Unit().Setup()
	drum := cycle.Drum{Lobe: set.Lobe}
	svg, high := lobes.Chart(&set.Lobe, 0, say.Text("cycle.lobes", seatNames(drum.Held(deg))))
	svg.Add(lobes.Needle(deg, 0, high))
	return dom.El("figure", nil, svg)
}

// drumQuestion is a drum without names, its marks to be named, and the seats of one of
// them to be set.
func (c *Page) drumQuestion() []dom.Node {
	const above = 22
	drum := c.Drill.Drum()
	var aloud []string
	for _, k := range drum.Marks {
		aloud = append(aloud, say.Text("cycle.mark-open", k.Letter, seatNames(drum.Held(k.Deg))))
	}
	svg, high := lobes.Chart(&drum.Lobe, above, strings.Join(aloud, " "))
	names := dom.El("div", dom.Attrs{"class": "marks"})
	for i, k := range drum.Marks {
		line := lobes.Needle(k.Deg, above-4, high)
		line.Flag("data-asked", k.Asked)
		svg.Add(line, lobes.Letter(k.Deg, k.Letter))
		pick := dom.El("select", dom.Attrs{"data-mark": strconv.Itoa(i)}, dom.El("option", dom.Attrs{"value": ""}, "–"))
		for _, s := range c.stops() {
			o := dom.El("option", dom.Attrs{"value": s.ID}, say.Sim(s.Name))
			o.Flag("selected", c.names[i] == s.ID)
			pick.Add(o)
		}
		names.Add(dom.El("label", nil, dom.El("strong", nil, k.Letter), " ", pick))
	}
	return []dom.Node{
		dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.drum")), dom.El("figure", nil, svg), names,
		dom.El("h3", nil, say.Text("cycle.seats-at", letterOf(drum.Marks))), c.seatButtons(), c.checkButton(),
	}
}

// setMark takes what a mark is named.
func (c *Page) setMark(n dom.Node) {
	if i, err := strconv.Atoi(n.Data("mark")); err == nil && i < len(c.names) && !c.Drill.Answered() {
		c.names[i] = n.Get("value").String()
		c.unasked()
	}
}

// seatNames lists the seats that stand open.
func seatNames(set sim.Seats) string {
	var names []string
	for seat, open := range set {
		if open {
			names = append(names, say.Sim(sim.Seat(seat).String()))
		}
	}
	return strings.Join(names, ", ")
}
