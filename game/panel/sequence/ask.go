//go:build js

package sequence

import (
	"slices"
	"strconv"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// fillSetup shows what is practised, and on what.
func (c *Page) fillSetup() {
	if c.task != nil {
		c.task.fillSetup()
		return
	}
	pick := dom.El("select", dom.Attrs{"id": "bench"})
	for _, b := range c.benches {
		o := dom.El("option", dom.Attrs{"value": b.ID}, say.Sim(b.Title))
		o.Flag("selected", b.ID == c.bench)
		pick.Add(o)
	}
	kinds := dom.El("div", dom.Attrs{"class": "pushes", "role": "group", "aria-label": say.Text("cycle.kinds")})
	chosen := ""
	add := func(id string, on bool) {
		b := dom.Button(say.Text("cycle.kind."+id), dom.Attrs{"data-kind": id})
		b.Press(on)
		kinds.Add(b)
		if on {
			chosen = say.Text("cycle.kind." + id)
		}
	}
	add("all", len(c.kinds) > 1)
	for _, k := range sim.ExerciseKinds() {
		add(string(k), len(c.kinds) == 1 && c.kinds[0] == k)
	}
	setup := dom.ByID("drill-setup")
	if c.race.endMS > 0 {
		setup.Become(dom.El("div", dom.Attrs{"class": "pushes"}, dom.El("strong", dom.Attrs{"id": "race-left"}), dom.Button(say.Text("stop"), dom.Attrs{"data-cycle": "race-stop"})))
		return
	}
	clock := dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("cycle.race"), dom.Attrs{"data-cycle": "race"}),
		dom.El("a", dom.Attrs{"class": "push", "href": "cards.html?unit=" + c.bench}, say.Text("cycle.cards")))
	more := dom.El("details", dom.Attrs{"class": "kinds"}, dom.El("summary", nil, say.Text("cycle.kinds-now", chosen)), dom.El("label", nil, say.Text("cycle.unit"), " ", pick), kinds, clock)
	open := !dom.Low() // there it would push the question down …
	for _, old := range dom.All("#drill-setup .kinds") {
		open = open || old.Get("open").Bool()
	}
	more.Flag("open", open && !dom.Narrow()) // … and here off the screen
	setup.Become(more)
	if c.race.told != "" {
		setup.Add(dom.El("p", dom.Attrs{"class": "raced", "tabindex": "-1"}, c.raceTold()))
	}
}

// fillQuestion asks the exercise.
func (c *Page) fillQuestion() {
	if c.task != nil && c.task.over() {
		c.task.fillEnd()
		return
	}
	e := c.Drill.Exercise()
	name := ""
	if e.Stop != "" {
		name = c.stopName(e.Stop)
	}
	words := say.Text("cycle.ask."+string(e.Kind), name, c.wayName(e.Way))
	if c.task != nil {
		words = say.Text("task.question", c.task.at+1, words)
	}
	dom.ByID("question-h").SetText(words)
	dom.ByID("title").SetText(say.Text("cycle.kind." + string(e.Kind)))
	box := dom.ByID("question")
	switch e.Kind {
	case sim.NamePosition:
		box.Become(c.stopButtons())
	case sim.ReadLobes:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.lobes")), c.lobeChart(e.Deg), c.stopButtons(), seatKey())
	case sim.ReadDrum:
		box.Become(c.drumQuestion())
	case sim.SetSeats:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.seats")), c.seatButtons(), c.checkButton())
	case sim.TracePath:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.path")), c.wayList(), c.passageButtons(), c.checkButton())
	case sim.BuildProgram:
		box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("cycle.hint.whole")), c.stepList(), c.checkButton())
	}
	for _, b := range dom.All("#question button, #question select, #question input") {
		b.Disable(c.Drill.Answered() || c.underWay())
	}
}

func (c *Page) wayName(way string) string {
	if way == "" {
		return ""
	}
	return say.Text("cycle.way." + way)
}

// seatKey tells what each seat is for, where names of seats stand alone.
func seatKey() dom.Node {
	return dom.El("div", dom.Attrs{"class": "seat-key"}, dom.El("h3", nil, say.Text("seat.key")), dom.Pairs(game.SeatKey()...))
}

func (c *Page) benchTitle() string {
	for _, b := range c.benches {
		if b.ID == c.bench {
			return say.Sim(b.Title)
		}
	}
	return ""
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

// stopButtons are the positions to choose from; once one was chosen it and the right one are
// marked.
func (c *Page) stopButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "pushes"})
	right, answered := c.Drill.Exercise().Stop, c.Drill.Answered()
	for _, s := range c.stops() {
		b := dom.Button(say.Sim(s.Name), dom.Attrs{"data-stop": s.ID})
		b.Flag("data-right", answered && s.ID == right)
		b.Flag("data-missed", answered && s.ID == c.named && s.ID != right)
		box.Add(b)
	}
	return box
}

func (c *Page) seatButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "seats", "role": "group", "aria-label": say.Text("cycle.kind.seats")})
	for _, seat := range sim.SeatRow {
		b := dom.Button(say.Sim(seat.String()), dom.Attrs{"data-seat": strconv.Itoa(int(seat))}, dom.El("span", dom.Attrs{"class": "cost"}, game.SeatJob(seat)))
		b.Add(dom.El("span", dom.Attrs{"class": "state", "aria-hidden": "true"}))
		showSeat(b, c.set[seat])
		box.Add(b)
	}
	return box
}

// showSeat tells on a seat's button whether it is open.
func showSeat(b dom.Node, open bool) {
	b.Press(open)
	state := map[bool]string{true: "cycle.open", false: "cycle.shut"}[open]
	dom.Wrap(b.Call("querySelector", ".state")).SetText(say.Text(state))
}

// turnSeat opens or shuts a seat: the unit on the drawing follows at once.
func (c *Page) turnSeat(n dom.Node) {
	seat, err := strconv.Atoi(n.Data("seat"))
	if err != nil || seat < 0 || seat >= len(c.set) || c.Drill.Answered() {
		return
	}
	c.set[seat] = !c.set[seat]
	c.unasked()
	showSeat(n, c.set[seat])
	c.Drill.Unit().Hold(c.set)
}

// passages are those that a way can be made of, in the order of the water's usual course.
var passages = []sim.Path{
	sim.PathSupply, sim.PathBypassIn, sim.PathInletSeat, sim.PathUpflowSeat, sim.PathPassSeat, sim.PathMotiveSeat, sim.PathBrineLine, sim.PathBrineSeat,
	sim.PathDischarge, sim.PathBed, sim.PathRiser, sim.PathOutletSeat, sim.PathBackwashSeat, sim.PathRinseSeat, sim.PathDrain, sim.PathBypassOut, sim.PathHouse,
}

func passageName(p sim.Path) string { return say.Text("cycle.passage." + strconv.Itoa(int(p))) }

func (c *Page) passageButtons() dom.Node {
	box := dom.El("div", dom.Attrs{"class": "seats passages"})
	for _, p := range passages {
		b := dom.Button(passageName(p), dom.Attrs{"data-passage": strconv.Itoa(int(p))})
		if int(p) < len(c.set) { // what a seat is for is told beside its name
			b.Add(dom.El("span", dom.Attrs{"class": "cost"}, game.SeatJob(sim.Seat(p))))
		}
		box.Add(b)
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
	c.unasked()
	c.fillQuestion()
	for _, b := range dom.All("[data-passage=" + dom.Quote(n.Data("passage")) + "]") {
		b.Call("focus")
	}
}

// byName are positions in the order of the alphabet, which tells nothing of the program's.
func (c *Page) byName(list []sim.Station) []sim.Station {
	return slices.SortedFunc(slices.Values(list), func(a, b sim.Station) int { return strings.Compare(say.Sim(a.Name), say.Sim(b.Name)) })
}

// stepList is the program that is being built.
func (c *Page) stepList() dom.Node {
	l := dom.El("ol", dom.Attrs{"class": "steps"})
	for i, s := range c.steps {
		at := strconv.Itoa(i)
		pick := dom.El("select", dom.Attrs{"data-step": at, "data-of": "stop", "aria-label": say.Text("cycle.step", i+1)}, dom.El("option", dom.Attrs{"value": ""}, "–"))
		for _, st := range c.byName(c.stops()[1:]) {
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

// newStep has its position still to be chosen.
var newStep = sim.ProgramStep{Seconds: 600}

func (c *Page) changeSteps(id string) {
	const most = 8
	switch {
	case c.Drill.Answered() || c.underWay():
		return
	case id == "add" && len(c.steps) < most:
		c.steps = append(c.steps, newStep)
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
