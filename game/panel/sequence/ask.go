//go:build js

package sequence

import (
	"slices"
	"strconv"
	"strings"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// fillSetup shows what is practised, and on what.
func (c *Page) fillSetup() {
	pick := dom.El("select", dom.Attrs{"id": "bench"})
	for _, b := range c.benches {
		o := dom.El("option", dom.Attrs{"value": b.ID}, say.Sim(b.Title))
		o.Flag("selected", b.ID == c.bench)
		pick.Add(o)
	}
	kinds := dom.El("div", dom.Attrs{"class": "pushes", "role": "group", "aria-label": say.Text("cycle.kinds")})
	add := func(id string, on bool) {
		b := dom.Button(say.Text("cycle.kind."+id), dom.Attrs{"data-kind": id})
		b.Press(on)
		kinds.Add(b)
	}
	add("all", len(c.kinds) > 1)
	for _, k := range sim.ExerciseKinds() {
		add(string(k), len(c.kinds) == 1 && c.kinds[0] == k)
	}
	clock := dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("cycle.race"), dom.Attrs{"data-cycle": "race"}))
	if c.race.endMS > 0 {
		clock = dom.El("div", dom.Attrs{"class": "pushes"}, dom.El("strong", dom.Attrs{"id": "race-left"}), dom.Button(say.Text("stop"), dom.Attrs{"data-cycle": "race-stop"}))
	}
	dom.ByID("drill-setup").Become(dom.El("label", nil, say.Text("cycle.unit"), " ", pick), kinds, clock)
}

// fillQuestion asks the exercise.
func (c *Page) fillQuestion() {
	e := c.Drill.Exercise()
	name := ""
	if e.Stop != "" {
		name = c.stopName(e.Stop)
	}
	dom.ByID("question-h").SetText(say.Text("cycle.ask."+string(e.Kind), name, c.wayName(e.Way)))
	dom.ByID("title").SetText(say.Text("cycle.kind." + string(e.Kind)))
	box := dom.ByID("question")
	switch e.Kind {
	case sim.NamePosition:
		box.Become(c.stopButtons())
	case sim.ReadLobes:
		box.Become(c.lobeChart(e.Deg), c.stopButtons())
	case sim.SetSeats:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.seats")), c.seatButtons(), c.checkButton())
	case sim.TracePath:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.path")), c.wayList(), c.passageButtons(), c.checkButton())
	case sim.BuildProgram:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.whole")), c.stepList(), c.checkButton())
	}
	for _, b := range dom.All("#question button, #question select, #question input") {
		b.Disable(c.Drill.Answered())
	}
}

func (c *Page) wayName(way string) string {
	if way == "" {
		return ""
	}
	return say.Text("cycle.way." + way)
}

func (c *Page) checkButton() dom.Node {
	return dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("cycle.check"), dom.Attrs{"class": "main", "data-cycle": "check"}))
}

// stops are the positions of the unit, each once.
func (c *Page) stops() (list []sim.Station) {
	for _, s := range c.Drill.Unit().Setup().Stations {
		if !slices.ContainsFunc(list, func(o sim.Station) bool { return o.ID == s.ID }) {
			list = append(list, s)
		}
	}
	return list
}

func (c *Page) stopName(id string) string {
	for _, s := range c.stops() {
		if s.ID == id {
			return say.Sim(s.Name)
		}
	}
	panic("panel: no position " + id)
}

func (c *Page) stopButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "pushes"})
	for _, s := range c.stops() {
		box.Add(dom.Button(say.Sim(s.Name), dom.Attrs{"data-stop": s.ID}))
	}
	return box
}

func (c *Page) seatButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "seats", "role": "group", "aria-label": say.Text("cycle.kind.seats")})
	for seat, open := range c.set {
		b := dom.Button(say.Sim(sim.Seat(seat).String()), dom.Attrs{"data-seat": strconv.Itoa(seat)}, dom.El("span", dom.Attrs{"class": "cost"}, say.Text("cycle.joins."+sim.Seat(seat).String())))
		b.Press(open)
		box.Add(b)
	}
	return box
}

// turnSeat opens or shuts a seat: the unit on the drawing follows at once.
func (c *Page) turnSeat(n dom.Node) {
	seat, err := strconv.Atoi(n.Data("seat"))
	if err != nil || seat < 0 || seat >= len(c.set) || c.Drill.Answered() {
		return
	}
	c.set[seat] = !c.set[seat]
	n.Press(c.set[seat])
	c.Drill.Unit().Hold(c.set)
}

// passages are those that a way can be made of, in the order of the water's usual course.
var passages = []sim.Path{
	sim.PathSupply, sim.PathBypassIn, sim.PathInletSeat, sim.PathUpflowSeat, sim.PathPassSeat, sim.PathMotiveSeat, sim.PathBrineLine, sim.PathBrineSeat,
	sim.PathDischarge, sim.PathBed, sim.PathRiser, sim.PathOutletSeat, sim.PathBackwashSeat, sim.PathRinseSeat, sim.PathDrain, sim.PathBypassOut, sim.PathHouse,
}

func passageName(p sim.Path) string { return say.Text("cycle.passage." + strconv.Itoa(int(p))) }

func (c *Page) passageButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "pushes"})
	for _, p := range passages {
		box.Add(dom.Button(passageName(p), dom.Attrs{"data-passage": strconv.Itoa(int(p))}))
	}
	return box
}

func (c *Page) wayList() dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "way", "aria-live": "polite"})
	for _, p := range c.way {
		l.Add(dom.El("li", nil, passageName(p)))
	}
	return dom.El("div", nil, l, dom.Button(say.Text("cycle.undo"), dom.Attrs{"data-cycle": "undo"}))
}

func (c *Page) addPassage(n dom.Node) {
	const most = 20
	p, err := strconv.Atoi(n.Data("passage"))
	if err != nil || c.Drill.Answered() || len(c.way) == most {
		return
	}
	c.way = append(c.way, sim.Path(p))
	c.fillQuestion()
	for _, b := range dom.All("[data-passage=" + dom.Quote(n.Data("passage")) + "]") {
		b.Call("focus")
	}
}

// stepList is the program that is being built.
func (c *Page) stepList() dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "steps"})
	for i, s := range c.steps {
		at := strconv.Itoa(i)
		pick := dom.El("select", dom.Attrs{"data-step": at, "data-of": "stop", "aria-label": say.Text("cycle.step", i+1)})
		for _, st := range c.stops()[1:] {
			o := dom.El("option", dom.Attrs{"value": st.ID}, say.Sim(st.Name))
			o.Flag("selected", st.ID == s.Stop)
			pick.Add(o)
		}
		item := dom.El("li", nil, pick)
		if s.Stop == "refill" {
			item.Add(" ", say.Text("cycle.refill"))
		} else {
			item.Add(" ", dom.El("label", nil, dom.El("input", dom.Attrs{
				"type": "number", "min": "0", "max": "240", "step": "1", "data-step": at, "data-of": "minutes",
				"value": dom.Decimals(s.Seconds/60, 0), "aria-label": say.Text("cycle.minutes", i+1),
			}), " min"))
		}
		l.Add(item)
	}
	return dom.El("div", nil, l, dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("cycle.add"), dom.Attrs{"data-cycle": "add"}), dom.Button(say.Text("cycle.drop"), dom.Attrs{"data-cycle": "drop"})))
}

func (c *Page) changeSteps(id string) {
	const most = 8
	switch {
	case c.Drill.Answered():
		return
	case id == "add" && len(c.steps) < most:
		c.steps = append(c.steps, sim.ProgramStep{Stop: c.stops()[min(len(c.steps)+1, len(c.stops())-1)].ID, Seconds: 600})
	case id == "drop" && len(c.steps) > 0:
		c.steps = c.steps[:len(c.steps)-1]
	}
	c.fillQuestion()
}

// setStep takes what a field of a step holds; minutes that are none come back as they were.
func (c *Page) setStep(n dom.Node) {
	i, err := strconv.Atoi(n.Data("step"))
	if err != nil || i >= len(c.steps) {
		return
	}
	if n.Data("of") == "stop" {
		c.steps[i].Stop = n.Get("value").String()
		c.fillQuestion()
		return
	}
	if minutes, err := strconv.ParseFloat(n.Get("value").String(), 64); err == nil && minutes >= 0 && minutes <= 240 {
		c.steps[i].Seconds = 60 * minutes
		dom.ByID("answer").Become()
		return
	}
	dom.ByID("answer").Become(dom.El("p", dom.Attrs{"class": "refused"}, say.Text("cycle.bad-minutes")))
}

// lobeChart is the drum unrolled: a lane for each seat, dark where a lobe lifts it, and
// where the drum stands.
func (c *Page) lobeChart(deg float64) dom.Node {
	const wide, lane, left = 360.0, 20.0, 96.0
	set := c.Drill.Unit().Setup()
	high := lane * float64(len(set.Lobe))
	chart := dom.SVG("svg", dom.Attrs{"class": "lobes", "role": "img", "viewBox": "0 0 " + dom.Decimals(left+wide+6, 0) + " " + dom.Decimals(high+16, 0)})
	chart.SetAttr("aria-label", say.Text("cycle.lobes", c.openAt(deg)))
	for seat := range set.Lobe {
		y := lane * float64(seat)
		chart.Add(dom.SVG("text", dom.Attrs{"x": dom.Decimals(left-6, 0), "y": dom.Decimals(y+14, 0), "class": "axis end"}, say.Sim(sim.Seat(seat).String())),
			dom.SVG("path", dom.Attrs{"class": "grid", "d": "M" + dom.Decimals(left, 0) + " " + dom.Decimals(y+lane, 0) + "h" + dom.Decimals(wide, 0)}))
		for _, r := range lifted(set.Lobe[seat][:]) {
			chart.Add(dom.SVG("rect", dom.Attrs{"class": "lobe", "x": dom.Decimals(left+2*float64(r[0]), 0), "y": dom.Decimals(y+4, 0), "width": dom.Decimals(2*float64(r[1]-r[0]), 0), "height": dom.Decimals(lane-8, 0)}))
		}
	}
	chart.Add(dom.SVG("path", dom.Attrs{"class": "needle", "d": "M" + dom.Decimals(left+deg, 1) + " 0V" + dom.Decimals(high+12, 0)}))
	return dom.El("figure", nil, chart)
}

// lifted are the stretches of a lane in which its lobe lifts, from and to.
func lifted(lane []float64) (list [][2]int) {
	for i := range lane {
		switch up := lane[i] > 0.5; {
		case up && len(list) > 0 && list[len(list)-1][1] == i:
			list[len(list)-1][1] = i + 1
		case up:
			list = append(list, [2]int{i, i + 1})
		}
	}
	return list
}

// openAt names the seats that the lobes hold open at an angle, for those who hear the chart.
func (c *Page) openAt(deg float64) string {
	var open sim.Seats
	for seat, lane := range c.Drill.Unit().Setup().Lobe {
		open[seat] = lane[int(deg/2)%len(lane)] > 0.5
	}
	return seatNames(open)
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
