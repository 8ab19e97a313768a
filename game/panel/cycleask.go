//go:build js

package panel

import (
	"slices"
	"strconv"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// fillSetup shows what is practised, and on what.
func (c *Cycle) fillSetup() {
	pick := el("select", attrs{"id": "bench"})
	for _, b := range c.benches {
		o := el("option", attrs{"value": b.ID}, say.Sim(b.Title))
		o.flag("selected", b.ID == c.bench)
		pick.add(o)
	}
	kinds := el("div", attrs{"class": "pushes", "role": "group", "aria-label": say.Text("cycle.kinds")})
	add := func(id string, on bool) {
		b := button(say.Text("cycle.kind."+id), attrs{"data-kind": id})
		b.pressed(on)
		kinds.add(b)
	}
	add("all", len(c.kinds) > 1)
	for _, k := range sim.ExerciseKinds() {
		add(string(k), len(c.kinds) == 1 && c.kinds[0] == k)
	}
	clock := el("div", attrs{"class": "pushes"}, button(say.Text("cycle.race"), attrs{"data-cycle": "race"}))
	if c.race.endMS > 0 {
		clock = el("div", attrs{"class": "pushes"}, el("strong", attrs{"id": "race-left"}), button(say.Text("stop"), attrs{"data-cycle": "race-stop"}))
	}
	byID("drill-setup").become(el("label", nil, say.Text("cycle.unit"), " ", pick), kinds, clock)
}

// fillQuestion asks the exercise.
func (c *Cycle) fillQuestion() {
	e := c.Drill.Exercise()
	name := ""
	if e.Stop != "" {
		name = c.stopName(e.Stop)
	}
	byID("question-h").text(say.Text("cycle.ask."+string(e.Kind), name, c.wayName(e.Way)))
	byID("stage-title").text(say.Text("cycle.kind." + string(e.Kind)))
	box := byID("question")
	switch e.Kind {
	case sim.NamePosition:
		box.become(c.stopButtons())
	case sim.ReadLobes:
		box.become(c.lobeChart(e.Deg), c.stopButtons())
	case sim.SetSeats:
		box.become(el("p", attrs{"class": "none"}, say.Text("cycle.hint.seats")), c.seatButtons(), c.checkButton())
	case sim.TracePath:
		box.become(el("p", attrs{"class": "none"}, say.Text("cycle.hint.path")), c.wayList(), c.passageButtons(), c.checkButton())
	case sim.BuildProgram:
		box.become(el("p", attrs{"class": "none"}, say.Text("cycle.hint.whole")), c.stepList(), c.checkButton())
	}
	for _, b := range all("#question button, #question select, #question input") {
		b.disable(c.Drill.Answered())
	}
}

func (c *Cycle) wayName(way string) string {
	if way == "" {
		return ""
	}
	return say.Text("cycle.way." + way)
}

func (c *Cycle) checkButton() node {
	return el("div", attrs{"class": "pushes"}, button(say.Text("cycle.check"), attrs{"class": "main", "data-cycle": "check"}))
}

// stops are the positions of the unit, each once.
func (c *Cycle) stops() (list []sim.Station) {
	for _, s := range c.Drill.Unit().Setup().Stations {
		if !slices.ContainsFunc(list, func(o sim.Station) bool { return o.ID == s.ID }) {
			list = append(list, s)
		}
	}
	return list
}

func (c *Cycle) stopName(id string) string {
	for _, s := range c.stops() {
		if s.ID == id {
			return say.Sim(s.Name)
		}
	}
	panic("panel: no position " + id)
}

func (c *Cycle) stopButtons() node {
	box := el("div", attrs{"class": "pushes"})
	for _, s := range c.stops() {
		box.add(button(say.Sim(s.Name), attrs{"data-stop": s.ID}))
	}
	return box
}

func (c *Cycle) seatButtons() node {
	box := el("div", attrs{"class": "seats", "role": "group", "aria-label": say.Text("cycle.kind.seats")})
	for seat, open := range c.set {
		b := button(say.Sim(sim.Seat(seat).String()), attrs{"data-seat": strconv.Itoa(seat)}, el("span", attrs{"class": "cost"}, say.Text("cycle.joins."+sim.Seat(seat).String())))
		b.pressed(open)
		box.add(b)
	}
	return box
}

// turnSeat opens or shuts a seat: the unit on the drawing follows at once.
func (c *Cycle) turnSeat(n node) {
	seat, err := strconv.Atoi(n.data("seat"))
	if err != nil || seat < 0 || seat >= len(c.set) || c.Drill.Answered() {
		return
	}
	c.set[seat] = !c.set[seat]
	n.pressed(c.set[seat])
	c.Drill.Unit().Hold(c.set)
}

// passages are those that a way can be made of, in the order of the water's usual course.
var passages = []sim.Path{
	sim.PathSupply, sim.PathBypassIn, sim.PathInletSeat, sim.PathUpflowSeat, sim.PathPassSeat, sim.PathMotiveSeat, sim.PathBrineLine, sim.PathBrineSeat,
	sim.PathDischarge, sim.PathBed, sim.PathRiser, sim.PathOutletSeat, sim.PathBackwashSeat, sim.PathRinseSeat, sim.PathDrain, sim.PathBypassOut, sim.PathHouse,
}

func passageName(p sim.Path) string { return say.Text("cycle.passage." + strconv.Itoa(int(p))) }

func (c *Cycle) passageButtons() node {
	box := el("div", attrs{"class": "pushes"})
	for _, p := range passages {
		box.add(button(passageName(p), attrs{"data-passage": strconv.Itoa(int(p))}))
	}
	return box
}

func (c *Cycle) wayList() node {
	l := el("ol", attrs{"class": "way", "aria-live": "polite"})
	for _, p := range c.way {
		l.add(el("li", nil, passageName(p)))
	}
	return el("div", nil, l, button(say.Text("cycle.undo"), attrs{"data-cycle": "undo"}))
}

func (c *Cycle) addPassage(n node) {
	const most = 20
	p, err := strconv.Atoi(n.data("passage"))
	if err != nil || c.Drill.Answered() || len(c.way) == most {
		return
	}
	c.way = append(c.way, sim.Path(p))
	c.fillQuestion()
	for _, b := range all("[data-passage=" + quote(n.data("passage")) + "]") {
		b.Call("focus")
	}
}

// stepList is the program that is being built.
func (c *Cycle) stepList() node {
	l := el("ol", attrs{"class": "steps"})
	for i, s := range c.steps {
		at := strconv.Itoa(i)
		pick := el("select", attrs{"data-step": at, "data-of": "stop", "aria-label": say.Text("cycle.step", i+1)})
		for _, st := range c.stops()[1:] {
			o := el("option", attrs{"value": st.ID}, say.Sim(st.Name))
			o.flag("selected", st.ID == s.Stop)
			pick.add(o)
		}
		item := el("li", nil, pick)
		if s.Stop == "refill" {
			item.add(" ", say.Text("cycle.refill"))
		} else {
			item.add(" ", el("label", nil, el("input", attrs{
				"type": "number", "min": "0", "max": "240", "step": "1", "data-step": at, "data-of": "minutes",
				"value": decimals(s.Seconds/60, 0), "aria-label": say.Text("cycle.minutes", i+1),
			}), " min"))
		}
		l.add(item)
	}
	return el("div", nil, l, el("div", attrs{"class": "pushes"}, button(say.Text("cycle.add"), attrs{"data-cycle": "add"}), button(say.Text("cycle.drop"), attrs{"data-cycle": "drop"})))
}

func (c *Cycle) changeSteps(id string) {
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
func (c *Cycle) setStep(n node) {
	i, err := strconv.Atoi(n.data("step"))
	if err != nil || i >= len(c.steps) {
		return
	}
	if n.data("of") == "stop" {
		c.steps[i].Stop = n.Get("value").String()
		c.fillQuestion()
		return
	}
	if minutes, err := strconv.ParseFloat(n.Get("value").String(), 64); err == nil && minutes >= 0 && minutes <= 240 {
		c.steps[i].Seconds = 60 * minutes
		byID("answer").become()
		return
	}
	byID("answer").become(el("p", attrs{"class": "refused"}, say.Text("cycle.bad-minutes")))
}

// lobeChart is the drum unrolled: a lane for each seat, dark where a lobe lifts it, and
// where the drum stands.
func (c *Cycle) lobeChart(deg float64) node {
	const wide, lane, left = 360.0, 20.0, 96.0
	set := c.Drill.Unit().Setup()
	high := lane * float64(len(set.Lobe))
	chart := svg("svg", attrs{"class": "lobes", "role": "img", "viewBox": "0 0 " + decimals(left+wide+6, 0) + " " + decimals(high+16, 0)})
	chart.set("aria-label", say.Text("cycle.lobes", c.openAt(deg)))
	for seat := range set.Lobe {
		y := lane * float64(seat)
		chart.add(svg("text", attrs{"x": decimals(left-6, 0), "y": decimals(y+14, 0), "class": "axis end"}, say.Sim(sim.Seat(seat).String())),
			svg("path", attrs{"class": "grid", "d": "M" + decimals(left, 0) + " " + decimals(y+lane, 0) + "h" + decimals(wide, 0)}))
		for _, r := range lifted(set.Lobe[seat][:]) {
			chart.add(svg("rect", attrs{"class": "lobe", "x": decimals(left+2*float64(r[0]), 0), "y": decimals(y+4, 0), "width": decimals(2*float64(r[1]-r[0]), 0), "height": decimals(lane-8, 0)}))
		}
	}
	return el("figure", nil, chart.with(svg("path", attrs{"class": "needle", "d": "M" + decimals(left+deg, 1) + " 0V" + decimals(high+12, 0)})))
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
func (c *Cycle) openAt(deg float64) string {
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

// with appends a node and returns the whole.
func (n node) with(child node) node {
	n.add(child)
	return n
}
