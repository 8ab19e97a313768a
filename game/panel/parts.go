//go:build js

package panel

import (
	"slices"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildParts lists the parts by place, once.
func (p *Panels) buildParts() {
	box := dom.ByID("parts")
	box.Become()
	for i, place := range places {
		l := dom.El("ul", dom.Attrs{"class": "parts"})
		for _, info := range p.game.Setup().Parts {
			if atPlace(info.ID, i) {
				l.Add(dom.El("li", nil, dom.Button(say.Sim(info.Name), dom.Attrs{"data-part": string(info.ID), "data-open-word": say.Text("part.is-open"), "aria-pressed": "false"})))
			}
		}
		if l.Get("childElementCount").Int() > 0 {
			box.Add(dom.El("h3", nil, place.name()), l)
		}
	}
}

// syncParts marks the part selected and shows what can be done to it.
func (p *Panels) syncParts() {
	selected, opened := p.game.Selected(), p.game.Call().Opened
	for _, b := range dom.All("[data-part]") {
		id := sim.Part(b.Data("part"))
		b.Press(id == selected)
		b.Flag("data-opened", slices.Contains(opened, id))
	}
	held := focusedHandle()
	dom.ByID("part").Become()
	if info := p.partInfo(selected); info != nil {
		dom.ByID("part").Add(p.partSheet(info, slices.Contains(opened, selected)))
	}
	refocus(held)
	shown := partShown{selected, p.game.Picks(), slices.Contains(opened, selected)}
	if picked := selected != "" && shown.picks != p.part.picks; picked || shown != p.part && p.main.Data("current") == "parts" {
		p.show("parts") // from its top, where the part's sheet is
	}
	p.part = shown
}

// partShown is the part on the page, how often one was asked for until then, and
// whether it is open there.
type partShown struct {
	id    sim.Part
	picks int
	open  bool
}

func (p *Panels) partInfo(id sim.Part) *sim.PartInfo {
	parts := p.game.Setup().Parts
	for i := range parts {
		if parts[i].ID == id {
			return &parts[i]
		}
	}
	return nil
}

// partSheet says what a part is, what to heed, and what can be done to it.
func (p *Panels) partSheet(info *sim.PartInfo, opened bool) dom.Node {
	sheet := dom.El("article", dom.Attrs{"class": "sheet", "data-sheet": string(info.ID), "aria-label": say.Sim(info.Name), "tabindex": "-1"},
		dom.El("h3", nil, say.Sim(info.Name)), dom.Button(say.Text("close"), dom.Attrs{"data-act": "part-close", "class": "corner"}), dom.El("p", nil, say.Sim(info.What)))
	var heed []dom.Node
	if len(info.Cautions) > 0 {
		heed = []dom.Node{dom.Cautions(say.SimAll(info.Cautions)...)}
	}
	work := append(buttons(say.Text("part.work"), p.partWork(info, opened)), buttons(say.Text("part.tests"), p.testsAt(info.ID))...)
	if opened && info.Seals {
		work = append(work, buttons(say.Text("part.lubricate"), p.lubricants())...)
	}
	state := ""
	switch {
	case opened:
		state = say.Text("part.open") + " " + p.doneTo(info.ID)
	case info.CanOpen:
		state = say.Text("part.closed")
	}
	// All stands where it stood before, so that a second press hits nothing else.
	sheet.Add(heed, dom.El("p", dom.Attrs{"class": "state"}, state), work)
	if info.ID == sim.PartSeats || info.ID == sim.PartDrum || info.ID == sim.PartValve {
		sheet.Add(dom.El("h3", nil, say.Text("seat.key")), dom.Pairs(game.SeatKey()...))
	}
	if c := game.ControlOf(info.ID); c != nil {
		sheet.Add(controlGroup(c, "data-act-at"))
	}
	return sheet
}

// doneTo says what has been done to a part since it was opened, "" for nothing.
func (p *Panels) doneTo(part sim.Part) string {
	done := ""
	for _, e := range p.game.Call().Journal[:p.game.Told()] {
		switch {
		case e.Action.Part != part || e.Unsafe:
		case e.Action.Kind == sim.ActOpen:
			done = ""
		case e.Action.Kind == sim.ActClean:
			done = say.Text("part.cleaned")
		case e.Action.Kind == sim.ActAdjust:
			done = say.Text("part.set-right")
		case e.Action.Kind == sim.ActReplace:
			done = say.Text("part.new")
		}
	}
	return done
}

// buttons is a headed row of buttons, nothing when there are none.
func buttons(title string, b []dom.Node) []dom.Node {
	if len(b) == 0 {
		return nil
	}
	return []dom.Node{dom.El("h3", nil, title), dom.El("div", dom.Attrs{"class": "pushes act"}, b)}
}

func (p *Panels) testsAt(part sim.Part) (b []dom.Node) {
	for _, t := range p.game.Setup().Instruments {
		if t.Where == part {
			n := testButton(t, "data-test-at")
			if t.Needs != "" {
				n.SetAttr("data-needs", t.Needs)
				n.Add(dom.El("small", dom.Attrs{"class": "needs", "data-not-now": say.Text("needs.not-now", game.Minutes(t.Minutes))}, say.Text("needs", game.InSentence(say.Sim(t.Needs)))))
			}
			b = append(b, n)
		}
	}
	return b
}

// lubricants are the buttons for what a hand may take to the seals, the right one
// and the wrong one.
func (p *Panels) lubricants() (b []dom.Node) {
	for _, id := range p.game.Setup().Lubricants {
		b = append(b, dom.Button(say.Text("lubricant."+id), dom.Attrs{"data-grease": id}))
	}
	return b
}

// partWork are the buttons for the work that the part's present state allows.
func (p *Panels) partWork(info *sim.PartInfo, opened bool) []dom.Node {
	var b []dom.Node
	add := func(can bool, act, label, cost string) {
		if can {
			b = append(b, dom.Button(label, dom.Attrs{"data-act": act}, dom.El("span", dom.Attrs{"class": "cost"}, cost)))
		}
	}
	minutes := func(i int) string { return game.Minutes(info.Minutes[i]) }
	toOpen := game.Minutes(sim.OpenMinutes(info.ID, p.game.View().Opened))
	reached := opened || !info.CanOpen // what can be taken out has to be, before it is worked on
	open, clean, set, replace := say.Text("work.open"), say.Text("work.clean"), say.Text("work.set"), say.Text("work.replace")
	switch info.ID {
	case sim.PartBypass:
		open = say.Text("work.turn")
	case sim.PartSalt:
		clean, replace = say.Text("work.loosen"), say.Text("work.salt")
	case sim.PartBed:
		replace = say.Text("work.resin")
	case sim.PartRiser:
		set, replace = say.Text("work.seal"), say.Text("work.tube")
	case sim.PartSeats:
		replace = say.Text("work.seats")
	case sim.PartHouse:
		set = say.Text("work.house")
	case sim.PartController:
		set = say.Text("work.controller")
	}
	add(info.CanOpen && opened, "part-refit", say.Text("work.refit"), "")
	if opened && p.doneTo(info.ID) != "" { // what is to be done next
		b[0].SetAttr("class", "main")
	}
	add(info.CanOpen && !opened, "part-open", open, say.Text("work.open-cost", toOpen))
	add(info.CanClean && reached, "part-clean", clean, minutes(1))
	setCost := minutes(2)
	if info.SetPrice > 0 {
		setCost = say.Text("work.replace-cost", setCost, tokens(info.SetPrice))
	}
	add(info.CanSet && reached, "part-set", set, setCost)
	add(info.CanSwap && reached, "part-replace", replace, say.Text("work.replace-cost", game.Minutes(sim.ReplaceMinutes(info.ID, p.game.View().Opened)), tokens(info.Price)))
	add(info.ID == sim.PartBrineTank, "bail", say.Text("work.bail"), game.Minutes(sim.BailMinutes))
	add(info.ID == sim.PartBrineTank, "disinfect", say.Text("work.disinfect"), game.Minutes(sim.DisinfectMinutes))
	return b
}

// focusedPart is the part whose name in the list has the focus, "" for none.
func focusedPart() sim.Part {
	if active := dom.Document.Get("activeElement"); !active.IsNull() && dom.ByID("parts").Call("contains", active).Bool() {
		return sim.Part(dom.Wrap(active).Data("part"))
	}
	return ""
}

// followWater moves the focus in the list of parts along the water's path.
func (p *Panels) followWater(e js.Value, key string) bool {
	steps := map[string]int{"ArrowRight": 1, "ArrowDown": 1, "ArrowLeft": -1, "ArrowUp": -1}[key]
	at := focusedPart()
	if steps == 0 || at == "" {
		return false
	}
	e.Call("preventDefault")
	at = game.AlongWater(at, steps)
	for p.partInfo(at) == nil {
		at = game.AlongWater(at, steps)
	}
	dom.All("#parts [data-part=" + dom.Quote(string(at)) + "]")[0].Call("focus")
	return true
}

// focusedHandle names the focused handle, or the sheet, so that it can be found again after its
// panel was made anew; "" when the focus is elsewhere.
func focusedHandle() string {
	active := dom.Document.Get("activeElement")
	if active.IsNull() || !dom.ByID("part").Call("contains", active).Bool() {
		return ""
	}
	n := dom.Wrap(active)
	for attribute, key := range map[string]string{"data-test-at": "testAt", "data-act-at": "actAt", "data-act": "act"} {
		if v := n.Data(key); v != "" {
			return "#part [" + attribute + "=" + dom.Quote(v) + "]"
		}
	}
	return "#part .sheet"
}

// refocus puts the focus back, or onto the part's first button when the handle is gone.
func refocus(handle string) {
	if handle == "" {
		return
	}
	for _, selector := range []string{handle, "#part .act button", "[data-part][aria-pressed=true]"} {
		if found := dom.All(selector); len(found) > 0 {
			found[0].Call("focus", map[string]any{"preventScroll": true})
			return
		}
	}
}
