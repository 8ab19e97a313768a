//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildUnit makes the handles of the unit, once; syncUnit sets what is so.
func (p *Panels) buildUnit() {
	u := byID("unit")
	u.become()
	for _, c := range game.Controls {
		u.add(controlGroup(&c, "data-act"))
		if c.Part == sim.PartController {
			u.add(el("p", attrs{"class": "state", "id": "face", "hidden": ""}))
		}
	}
}

// controlGroup makes the buttons of one control; handle is the attribute that they are found by.
func controlGroup(c *game.Control, handle string) node {
	choice := el("div", attrs{"class": "choice act", "role": "group", "aria-label": c.Label()})
	if c.Intents[0].Now == nil {
		choice.set("class", "pushes act")
	}
	for _, i := range c.Intents {
		choice.add(button(i.Label(), attrs{handle: i.ID}))
	}
	group := el("div", attrs{"class": "control"}, el("h3", nil, c.Label()), choice)
	if c.Note != "" {
		group.add(el("p", attrs{"class": "note"}, say.Text(c.Note)))
	}
	return group
}

func (p *Panels) syncUnit() {
	v := p.game.View()
	face := game.Face(v)
	byID("face").text(say.Text("unit.face", face))
	byID("face").hide(face == "")
	for _, c := range game.Controls {
		for _, i := range c.Intents {
			if i.Now == nil {
				continue
			}
			for _, b := range all("[data-act=" + i.ID + "],[data-act-at=" + i.ID + "]") {
				b.pressed(i.Now(v))
			}
		}
	}
}
