//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// buildUnit makes the handles of the unit, once; syncUnit sets what is so.
func (p *Panels) buildUnit() {
	u := dom.ByID("unit")
	u.Become()
	for _, c := range game.Controls {
		u.Add(controlGroup(&c, "data-act"))
		if c.Part == sim.PartController {
			u.Add(dom.El("p", dom.Attrs{"class": "state", "id": "face", "hidden": ""}))
		}
	}
}

// controlGroup makes the buttons of one control; handle is the attribute that they are found by.
func controlGroup(c *game.Control, handle string) dom.Node {
	group := dom.El("div", dom.Attrs{"class": "control"}, dom.El("h3", nil, c.Label()))
	for from, to := 0, 0; from < len(c.Intents); from = to {
		class, push := "choice act", c.Intents[from].Now == nil
		if push {
			class = "pushes act"
		}
		row := dom.El("div", dom.Attrs{"class": class, "role": "group", "aria-label": c.Label()})
		for to = from; to < len(c.Intents) && push == (c.Intents[to].Now == nil); to++ {
			row.Add(dom.Button(c.Intents[to].Label(), dom.Attrs{handle: c.Intents[to].ID}))
		}
		group.Add(row)
	}
	if c.Note != "" {
		group.Add(dom.El("p", dom.Attrs{"class": "note"}, say.Text(c.Note)))
	}
	return group
}

func (p *Panels) syncUnit() {
	v := p.game.View()
	face := game.Face(v)
	dom.ByID("face").SetText(say.Text("unit.face", face))
	dom.ByID("face").Hide(face == "")
	for _, c := range game.Controls {
		for _, i := range c.Intents {
			if i.Now == nil {
				continue
			}
			for _, b := range dom.All("[data-act=" + i.ID + "],[data-act-at=" + i.ID + "]") {
				b.Press(i.Now(v))
			}
		}
	}
}
