//go:build js

package sizing

import (
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

// fillSet shows the panel of a controller to be set for the unit of the job.
func (p *page) fillSet() {
	u := p.Setup(p.demand)
	steps, err := sim.SizingSetupSteps("job", p.Job.JSON)
	if err != nil {
		panic("sizing: " + err.Error()) // it was opened before
	}
	known := []string{say.Text("set.now"), p.timeNow(sizing.NowS(p.Job.JSON))}
	for _, s := range steps {
		value := say.Amounts(s.Result[p.system()])
		if p.look.SI && s.ID == "capacity" { // which the panel counts in kilograins
			value += " (" + say.Amounts(s.Result[0]) + ")"
		}
		known = append(known, say.Sim(s.Name), value)
	}
	kinds := dom.El("div", dom.Attrs{"class": "pushes", "role": "group", "aria-label": say.Text("set.kinds")})
	for _, kind := range []string{"clock", "demand"} {
		b := dom.Button(say.Text("set."+kind), dom.Attrs{"data-controller": kind})
		b.Press(p.demand == (kind == "demand"))
		kinds.Add(b)
	}
	box := dom.ByID("set")
	box.Become(kinds, dom.El("p", nil, say.Text("set.task")), dom.Pairs(known...), dom.El("p", dom.Attrs{"class": "none"}, say.Text("set.note")), p.panel(&u),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("set.try"), dom.Attrs{"class": "main", "data-desk": "try"})))
	failure, failed := p.failures["set"]
	switch {
	case p.running == "set":
		box.Add(living())
	case failed:
		box.Add(trouble(failure))
	case u.Marks != nil:
		box.Add(p.setMarks(u.Marks))
	}
}

// panel is the face of the controller: a row of wheels for each setting, its whole value
// beside it. A wheel's notches are for the mouse; keys turn the setting as a whole.
func (p *page) panel(u *sizing.Setup) dom.Node {
	face := dom.El("div", dom.Attrs{"class": "face", "role": "group", "aria-label": say.Text("set.face")})
	for _, d := range sizing.Dials(u.Demand) {
		dial := dom.El("div", dom.Attrs{
			"class": "dial", "role": "spinbutton", "tabindex": "0", "data-dial": d.ID, "aria-label": say.Text("set.dial." + d.ID),
			"aria-valuemin": strconv.Itoa(d.Lo), "aria-valuemax": strconv.Itoa(d.Hi),
		})
		for i, notch := range d.Wheels {
			if d.ID == "refill_time" && i == len(d.Wheels)-1 {
				dial.Add(dom.El("span", dom.Attrs{"class": "mark", "aria-hidden": "true"}, say.Text("set.mark")))
			}
			if (d.ID == "clock" || d.ID == "start") && i == 1 {
				dial.Add(dom.El("span", dom.Attrs{"class": "mark", "aria-hidden": "true"}, ":"))
			}
			dial.Add(dom.El("div", dom.Attrs{"class": "wheel", "aria-hidden": "true"}, notchOf(notch, "up"), dom.El("output", nil), notchOf(-notch, "down")))
		}
		face.Add(dom.El("div", dom.Attrs{"class": "setting", "data-setting": d.ID}, dom.El("span", dom.Attrs{"class": "name", "aria-hidden": "true"}, say.Text("set.dial."+d.ID)), dial, dom.El("span", dom.Attrs{"class": "says", "aria-hidden": "true"})))
		syncDial(face, u, &d)
		if d.ID == "every_days" {
			face.Add(p.nights(u))
		}
	}
	return face
}

func notchOf(by int, way string) dom.Node {
	return dom.El("button", dom.Attrs{"type": "button", "tabindex": "-1", "class": "notch " + way, "data-turn": strconv.Itoa(by)})
}

// syncDial shows on a dial where it stands.
func syncDial(face dom.Node, u *sizing.Setup, d *sizing.Dial) {
	row := dom.Wrap(face.Call("querySelector", "[data-setting="+d.ID+"]"))
	dial := dom.Wrap(row.Call("querySelector", ".dial"))
	dial.SetAttr("aria-valuenow", strconv.Itoa(u.Value(d)))
	dial.SetAttr("aria-valuetext", u.Says(d))
	dom.Wrap(row.Call("querySelector", ".says")).SetText(u.Says(d))
	shown := row.Call("querySelectorAll", "output")
	for i, digit := range u.Shown(d) {
		dom.Wrap(shown.Index(i)).SetText(digit)
	}
}

// nights are the seven nights of a clock, which count where the days between are nought.
func (p *page) nights(u *sizing.Setup) dom.Node {
	row := dom.El("div", dom.Attrs{"class": "nights", "role": "group", "aria-label": say.Text("set.nights")})
	for i, on := range u.Nights {
		b := dom.Button(say.Text("set.night."+strconv.Itoa(i)), dom.Attrs{"data-night": strconv.Itoa(i)})
		b.Press(on)
		row.Add(b)
	}
	return dom.El("div", dom.Attrs{"class": "setting wide"}, dom.El("span", dom.Attrs{"class": "name"}, say.Text("set.nights")), row)
}

// turned turns a wheel by a notch.
func (p *page) turned(n dom.Node) {
	dial := n.Call("closest", "[data-dial]")
	by, err := strconv.Atoi(n.Data("turn"))
	if dial.IsNull() || err != nil {
		return
	}
	p.turn(dom.Wrap(dial).Data("dial"), by)
	dial.Call("focus", map[string]any{"preventScroll": true})
}

func (p *page) turn(id string, by int) {
	u := p.Setup(p.demand)
	for _, d := range sizing.Dials(p.demand) {
		if d.ID == id {
			u.Turn(&d, by)
			p.SetSetup(u)
			p.keep()
			syncDial(dom.ByID("set"), &u, &d)
		}
	}
}

// keyed turns the setting that has the focus: by its last wheel up and down, by the one
// before with the page keys.
func (p *page) keyed(e js.Value) {
	dial := e.Get("target").Call("closest", "[data-dial]")
	if dial.IsNull() {
		return
	}
	id := dom.Wrap(dial).Data("dial")
	for _, d := range sizing.Dials(p.demand) {
		if d.ID != id {
			continue
		}
		last, before := d.Wheels[len(d.Wheels)-1], d.Wheels[len(d.Wheels)-2]
		by := map[string]int{"ArrowUp": last, "ArrowRight": last, "ArrowDown": -last, "ArrowLeft": -last, "PageUp": before, "PageDown": -before, "Home": d.Lo - d.Hi, "End": d.Hi - d.Lo}[e.Get("key").String()]
		if d.Round && (e.Get("key").String() == "Home" || e.Get("key").String() == "End") {
			by = 0
		}
		if by != 0 {
			e.Call("preventDefault")
			p.turn(id, by)
		}
	}
}

func (p *page) nightTurned(n dom.Node) {
	i, err := strconv.Atoi(n.Data("night"))
	u := p.Setup(false)
	if err != nil || i < 0 || i >= len(u.Nights) {
		return
	}
	u.Nights[i] = !u.Nights[i]
	n.Press(u.Nights[i])
	p.SetSetup(u)
	p.keep()
}

// try lets the unit live as its controller is set.
func (p *page) try() {
	u := p.Setup(p.demand)
	u.Marks = nil
	p.SetSetup(u)
	packed, err := sim.PackSizingSetup(p.Job.JSON, u.Settings(p.Job.JSON))
	if err != nil {
		panic("sizing: " + err.Error()) // whole numbers and a sheet that was opened
	}
	p.send("set", packed)
	p.fillSet()
	dom.ByID("living-text").Call("scrollIntoView", map[string]any{"block": "center"})
}

// setMarks are the marks of a set-up, and what became of the unit.
func (p *page) setMarks(m *sim.SizingSetupMarks) dom.Node {
	body := dom.El("tbody", nil)
	for _, x := range m.Items {
		mark := say.Text("sizing.verdict.wrong")
		if x.Points > 0 {
			mark = say.Text("sizing.verdict.right")
		}
		body.Add(dom.El("tr", dom.Attrs{"data-item": x.ID, "data-verdict": map[bool]string{true: "right", false: "wrong"}[x.Points > 0]}, dom.El("th", dom.Attrs{"scope": "row"}, say.Text("set.dial."+x.ID)),
			dom.El("td", nil, sizing.SetupText(x.ID, x.Got)), dom.El("td", nil, sizing.SetupText(x.ID, x.Want)), dom.El("td", nil, dom.El("strong", nil, mark)), dom.El("td", nil, say.Text("sizing.points-of", points(x.Points), points(x.Of)))))
	}
	units := []string{say.Text("set.yours"), say.Text("set.best")}
	outcomes := []*sim.SizingOutcome{&m.Answer, &m.Worked}
	return dom.El("div", dom.Attrs{"id": "set-marks", "data-score": dom.Decimals(m.Score, 1), "data-took": dom.Decimals(p.setupMS, 0)},
		dom.El("h3", dom.Attrs{"id": "set-marks-h", "tabindex": "-1"}, say.Text("set.came")),
		dom.El("p", dom.Attrs{"class": "score"}, dom.El("strong", nil, points(m.Score)), " ", say.Text("sizing.of", "100")),
		dom.Stacked(say.Text("set.came"), "figures", []string{say.Text("sizing.what"), say.Text("set.your-setting"), say.Text("set.worked-setting"), say.Text("sizing.mark-head"), say.Text("sizing.points-head")}, body),
		itemTable(m.Outcome), strips(units, outcomes), p.outcomeTable(units, outcomes))
}

// timeNow is a time of day as one's watch has it, and as the panel wants it.
func (p *page) timeNow(s float64) string {
	watch, panel := p.look.Clock(s), sizing.TimeOfDay(s)
	if watch == panel {
		return panel
	}
	return watch + " (" + panel + ")"
}
