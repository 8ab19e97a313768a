//go:build js

// Package cards fills the page of the reference cards. The handles of its controls,
// for tests: #unit the unit, #which the cards shown, #sought the words that they must
// have, #found how many do, [data-cards=print] prints them;
// [data-card=position-ID|part-ID] a card; main[data-wear=ready|failed] once the model
// has told how wear shows.
package cards

import (
	"encoding/json"
	"slices"
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/cards"
	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// page is the page of the cards of one unit.
type page struct {
	benches []cycle.Bench
	bench   int
	deck    *cards.Deck
	which   string // "all", "positions", "parts", or a card's own id
	sought  string // words that a card must have to be shown, in any order
	look    game.Look

	wear    []sim.Wear
	known   map[string][]sim.Wear // by bench: what has been worked out
	errand  dom.Errand
	bar     dom.Node
	trouble string
}

// Open fills the page with the cards of the unit that the address asks for, or the first.
func Open(benches []cycle.Bench) error {
	p := &page{benches: benches, which: "all", look: dom.FirstLook(), known: map[string][]sim.Wear{}}
	unit := dom.Query("unit")
	p.bench = max(0, slices.IndexFunc(benches, func(b cycle.Bench) bool { return b.ID == unit }))
	if err := p.take(); err != nil {
		return err
	}
	body := dom.Wrap(dom.Document.Get("body"))
	body.On("click", clicked)
	dom.Switches(func(l game.Look) {
		p.look = l
		p.fill()
	})
	body.On("change", p.changed)
	body.On("input", p.typed)
	js.Global().Set("brinebenchReady", true)
	return nil
}

// take takes up the unit chosen: its figures at once, and from a worker how its wear
// shows.
func (p *page) take() error {
	b := &p.benches[p.bench]
	unit, err := b.Open()
	if err != nil {
		return err
	}
	p.errand.End()
	p.deck, p.trouble = cards.New(unit), ""
	if p.wear = p.known[b.ID]; p.wear == nil {
		p.wear = unit.Wear()
		p.bar = dom.El("progress", dom.Attrs{"max": "1", "aria-labelledby": "wear-wait"})
		p.errand.Start("wear", b.JSON, p.heard, p.failed)
	}
	p.fill()
	return nil
}

func (p *page) heard(message js.Value) {
	if v := message.Get("progress"); !v.IsUndefined() {
		p.bar.Value.Set("value", v.Float())
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.failed(v.String())
		return
	}
	if err := json.Unmarshal([]byte(message.Get("wear").String()), &p.wear); err != nil {
		p.failed(err.Error())
		return
	}
	p.errand.End()
	p.known[p.benches[p.bench].ID] = p.wear
	p.fill()
}

func (p *page) failed(text string) {
	p.errand.End()
	p.trouble = text
	p.fill()
}

func clicked(e js.Value) {
	if !e.Get("target").Call("closest", `[data-cards="print"]`).IsNull() {
		js.Global().Call("print")
	}
}

func (p *page) changed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	value := n.Get("value").String()
	switch n.Get("id").String() {
	case "unit":
		p.bench = slices.IndexFunc(p.benches, func(b cycle.Bench) bool { return b.ID == value })
		if err := p.take(); err != nil {
			p.failed(err.Error())
		}
		dom.ByID("unit").Call("focus")
	case "which":
		p.which = value
		p.fill()
		dom.ByID("which").Call("focus")
	}
}

// typed takes the words that are looked for.
func (p *page) typed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	if n.Get("id").String() != "sought" {
		return
	}
	p.sought = n.Get("value").String()
	p.sift()
}

// sift shows the cards that have all words looked for, and tells how many they are.
func (p *page) sift() {
	words := strings.Fields(say.Plain(p.sought))
	found := 0
	for _, c := range dom.All("[data-card]") {
		has := say.HasAll(say.Plain(c.Get("textContent").String()), words)
		c.Hide(!has)
		if has {
			found++
		}
	}
	for _, h := range dom.All("#cards > h2") {
		grid := h.Get("nextElementSibling")
		h.Hide(grid.Call("querySelector", ".card:not([hidden])").IsNull())
	}
	told := ""
	if len(words) > 0 {
		told = say.Text("cards.found", found)
	}
	dom.ByID("found").SetText(told)
	mark(words)
}

// mark highlights the words in the cards, where the browser can.
func mark(words []string) {
	css := js.Global().Get("CSS").Get("highlights")
	if css.IsUndefined() {
		return
	}
	found := js.Global().Get("Highlight").New()
	walker := dom.Document.Call("createTreeWalker", dom.ByID("cards").Value, js.Global().Get("NodeFilter").Get("SHOW_TEXT"))
	for len(words) > 0 {
		node := walker.Call("nextNode")
		if node.IsNull() {
			break
		}
		for _, at := range say.Find(node.Get("nodeValue").String(), words) {
			spot := dom.Document.Call("createRange")
			spot.Call("setStart", node, at[0])
			spot.Call("setEnd", node, at[1])
			found.Call("add", spot)
		}
	}
	css.Call("set", "sought", found)
}

// fill makes the page anew.
func (p *page) fill() {
	dom.ShowLook(p.look)
	dom.ByID("title").SetText(p.title())
	dom.ByID("pick").Become(p.picks())
	p.fillWear()
	box := dom.ByID("cards")
	box.Become()
	p.fillGroup(box, "positions", p.positionCards())
	p.fillGroup(box, "parts", p.partCards())
	p.sift()
}

func (p *page) title() string { return say.Sim(p.benches[p.bench].Title) }

// fillGroup shows those cards of a group that are chosen.
func (p *page) fillGroup(box dom.Node, group string, all []card) {
	grid := dom.El("div", dom.Attrs{"class": "cards"})
	for _, c := range all {
		if p.which == "all" || p.which == group || p.which == c.id {
			grid.Add(c.make())
		}
	}
	if grid.Get("childElementCount").Int() > 0 {
		box.Add(dom.El("h2", nil, say.Text("cards."+group)), grid)
	}
}

// picks are the controls of the page.
func (p *page) picks() []dom.Node {
	unit := dom.El("select", dom.Attrs{"id": "unit"})
	for i, b := range p.benches {
		unit.Add(option(b.ID, say.Sim(b.Title), i == p.bench))
	}
	which := dom.El("select", dom.Attrs{"id": "which"})
	for _, id := range []string{"all", "positions", "parts"} {
		which.Add(option(id, say.Text("cards."+id), p.which == id))
	}
	group := func(name string, all []card) {
		list := dom.El("optgroup", dom.Attrs{"label": say.Text("cards." + name)})
		for _, c := range all {
			list.Add(option(c.id, c.name, p.which == c.id))
		}
		which.Add(list)
	}
	group("positions", p.positionCards())
	group("parts", p.partCards())
	paper := dom.Button(say.Text("cards.print"), dom.Attrs{"data-cards": "print", "class": "main"})
	paper.Disable(p.errand.Runs()) // the half of what they tell is still to come
	return []dom.Node{
		dom.El("label", nil, say.Text("cycle.unit"), " ", unit), dom.El("label", nil, say.Text("cards.which"), " ", which),
		dom.El("label", nil, say.Text("cards.sought"), " ", dom.El("input", dom.Attrs{"type": "search", "id": "sought", "value": p.sought, "autocomplete": "off"})),
		dom.El("output", dom.Attrs{"id": "found", "for": "sought"}),
		paper,
	}
}

func option(value, name string, selected bool) dom.Node {
	o := dom.El("option", dom.Attrs{"value": value}, name)
	o.Flag("selected", selected)
	return o
}

// fillWear tells how far the model has come with what wears.
func (p *page) fillWear() {
	main, box := dom.ByID("page"), dom.ByID("wear")
	switch {
	case p.errand.Runs():
		main.SetAttr("data-wear", "running")
		box.Become(dom.El("p", dom.Attrs{"id": "wear-wait", "class": "none"}, say.Text("cards.wear-wait")), p.bar)
	case p.trouble != "":
		main.SetAttr("data-wear", "failed")
		box.Become(dom.El("p", dom.Attrs{"class": "refused"}, say.Text("cards.wear-failed")), dom.El("p", dom.Attrs{"class": "none"}, p.trouble))
	default:
		main.SetAttr("data-wear", "ready")
		box.Become()
	}
}
