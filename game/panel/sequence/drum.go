//go:build js

package sequence

import (
	"strconv"
	"strings"

	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// The chart of a drum unrolled, CSS px of its own.
const (
	chartWide = 360.0
	chartLane = 20.0
	chartLeft = 96.0
)

// chart draws a drum unrolled: a lane for each seat, dark where a lobe lifts it.
// above is room over the lanes; aloud says it to those who do not see it.
func chart(lobe *[sim.NumSeats][180]float64, above float64, aloud string) (svg dom.Node, high float64) {
	high = above + chartLane*float64(len(lobe))
	svg = dom.SVG("svg", dom.Attrs{"class": "lobes", "role": "img", "viewBox": "0 0 " + dom.Decimals(chartLeft+chartWide+6, 0) + " " + dom.Decimals(high+16, 0)})
	svg.SetAttr("aria-label", aloud)
	for seat := range lobe {
		y := above + chartLane*float64(seat)
		svg.Add(dom.SVG("text", dom.Attrs{"x": dom.Decimals(chartLeft-6, 0), "y": dom.Decimals(y+14, 0), "class": "axis end"}, say.Sim(sim.Seat(seat).String())),
			dom.SVG("path", dom.Attrs{"class": "grid", "d": "M" + dom.Decimals(chartLeft, 0) + " " + dom.Decimals(y+chartLane, 0) + "h" + dom.Decimals(chartWide, 0)}))
		for _, r := range cycle.Lifted(lobe[seat][:]) {
			svg.Add(dom.SVG("rect", dom.Attrs{"class": "lobe", "x": dom.Decimals(chartLeft+2*float64(r[0]), 0), "y": dom.Decimals(y+4, 0), "width": dom.Decimals(2*float64(r[1]-r[0]), 0), "height": dom.Decimals(chartLane-8, 0)}))
		}
	}
	return svg, high
}

// lobeChart is the unit's drum, and where it stands.
func (c *Page) lobeChart(deg float64) dom.Node {
	set := c.Drill.Unit().Setup()
	drum := cycle.Drum{Lobe: set.Lobe}
	svg, high := chart(&set.Lobe, 0, say.Text("cycle.lobes", seatNames(drum.Held(deg))))
	svg.Add(needle(deg, 0, high))
	return dom.El("figure", nil, svg)
}

func needle(deg, from, high float64) dom.Node {
	return dom.SVG("path", dom.Attrs{"class": "needle", "d": "M" + dom.Decimals(chartLeft+deg, 1) + " " + dom.Decimals(from, 0) + "V" + dom.Decimals(high+12, 0)})
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
	svg, high := chart(&drum.Lobe, above, strings.Join(aloud, " "))
	names := dom.El("div", dom.Attrs{"class": "marks"})
	for i, k := range drum.Marks {
		line := needle(k.Deg, above-4, high)
		line.Flag("data-asked", k.Asked)
		svg.Add(line, dom.SVG("text", dom.Attrs{"class": "axis letter", "x": dom.Decimals(chartLeft+k.Deg, 1), "y": "13"}, k.Letter))
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
