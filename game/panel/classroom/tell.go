//go:build js

package classroom

import (
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// tellForm tells the class or one of it something.
func (r *room) tellForm() dom.Node {
	sent := dom.El("p", dom.Attrs{"id": "sent", "role": "status"})
	f := form("message", say.Text("desk.send"), []dom.Node{
		labelled(say.Text("desk.to"), dom.El("select", dom.Attrs{"name": "to", "data-to": ""})),
		field(say.Text("desk.text"), "text", dom.Attrs{"required": "", "maxlength": "500"}),
		field(say.Text("desk.hint"), "hint", dom.Attrs{"type": "checkbox", "value": "yes"}),
	}, func(v map[string]string) error {
		member, _ := strconv.ParseInt(v["to"], 10, 64)
		err := attend.Ask("POST", r.path("message"), map[string]any{"member": member, "hint": v["hint"] != "", "text": v["text"]}, nil)
		if err == nil {
			resetTell()
			sent.SetText(say.Text("desk.sent", r.toName(member)))
		}
		return err
	})
	f.On("input", func(js.Value) { sent.SetText("") })
	return dom.El("section", dom.Attrs{"class": "unprojected"}, dom.El("h3", nil, say.Text("desk.tell")), f, sent)
}

// resetTell makes the form ready for the next message, to the whole class.
func resetTell() {
	f := dom.All("[data-form=message]")[0]
	f.Call("reset")
	dom.Wrap(f.Call("querySelector", "[name=to]")).Value.Set("value", "0")
}

// toName is whom a message was for.
func (r *room) toName(member int64) string {
	if r.rows[member] == nil {
		return say.Text("desk.to-all")
	}
	return r.nameOf(member)
}

// fillTo lists who can be told something.
func (r *room) fillTo() {
	for _, to := range dom.All("[data-to]") {
		chosen := to.Get("value").String()
		to.Become(option("0", say.Text("desk.to-all")))
		for _, id := range r.order {
			to.Add(option(strconv.FormatInt(id, 10), r.nameOf(id)))
		}
		if chosen != "" {
			to.Value.Set("value", chosen)
		}
	}
}
