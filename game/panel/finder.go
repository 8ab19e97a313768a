//go:build js

package panel

import (
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
)

// finder is a long list in groups that fold, with a box to search it.
type finder struct {
	box, input, said dom.Node
	groups           []*group
}

// group is one fold of a finder: items with a heading; id is its handle.
type group struct {
	fold, body, many dom.Node
	id, name         string
	items            []found
	opened           bool // by the person, before the search
}

type found struct {
	dom.Node
	words string
}

// newFinder makes a finder whose search box has that id and label.
func newFinder(id, label string) *finder {
	f := &finder{
		input: dom.El("input", dom.Attrs{"type": "search", "id": id, "autocomplete": "off", "spellcheck": "false"}),
		said:  dom.El("output", dom.Attrs{"class": "none", "for": id}),
	}
	f.box = dom.El("div", dom.Attrs{"class": "finder"},
		dom.El("div", dom.Attrs{"class": "search"}, dom.El("label", dom.Attrs{"for": id}, label), f.input, f.said))
	f.input.On("input", func(js.Value) { f.search() })
	f.input.On("keydown", func(e js.Value) {
		if e.Get("key").String() == "Enter" { // goes to what was found, and submits no form
			e.Call("preventDefault")
			f.first()
		}
	})
	return f
}

// head adds a heading that is left out of a search.
func (f *finder) head(name string) {
	f.box.Add(dom.El("h3", dom.Attrs{"class": "place"}, name))
}

// fold adds a group; its items go into the element that body is.
func (f *finder) fold(id, name string, body dom.Node) *group {
	g := &group{id: id, name: name, body: body}
	f.groups = append(f.groups, g)
	return g
}

// item adds an item to a group; words are what it is found by, beside the group's name.
func (g *group) item(n dom.Node, words string) {
	g.body.Add(n)
	g.items = append(g.items, found{n, say.Plain(g.name + " " + words)})
}

// close ends a group: it becomes part of the page, or nothing when it is empty.
func (f *finder) close(g *group) {
	if len(g.items) == 0 {
		f.groups = f.groups[:len(f.groups)-1]
		return
	}
	g.many = dom.El("span", dom.Attrs{"class": "many"}, strconv.Itoa(len(g.items)))
	g.fold = dom.El("details", dom.Attrs{"class": "fold", "data-fold": g.id}, dom.El("summary", nil, g.name, g.many), g.body)
	f.box.Add(g.fold)
}

// search shows the items that hold every word that was typed, and unfolds their
// groups; with nothing typed all is as it was.
func (f *finder) search() {
	typed := strings.Fields(say.Plain(f.input.Get("value").String()))
	was := f.box.Call("hasAttribute", "data-searching").Bool()
	shown := 0
	for _, g := range f.groups {
		if !was {
			g.opened = g.fold.Get("open").Bool()
		}
		here := 0
		for _, it := range g.items {
			hit := say.HasAll(it.words, typed)
			it.Hide(!hit)
			if hit {
				here++
			}
		}
		g.many.SetText(strconv.Itoa(here))
		g.fold.Hide(here == 0)
		g.fold.Value.Set("open", here > 0 && (len(typed) > 0 || g.opened))
		shown += here
	}
	f.box.Flag("data-searching", len(typed) > 0)
	dom.ByID("panels").Value.Set("scrollTop", 0)
	switch {
	case len(typed) == 0:
		f.said.SetText("")
	case shown == 0:
		f.said.SetText(say.Text("finder.nothing"))
	default:
		f.said.SetText(say.Text("finder.found", shown))
	}
}

// endSearches empties all search boxes: who comes back finds the whole list.
func endSearches() {
	for _, in := range dom.All(".finder [type=search]") {
		if in.Get("value").String() != "" {
			in.Value.Set("value", "")
			in.Call("dispatchEvent", js.Global().Get("Event").New("input"))
		}
	}
}

// first puts the focus on the first item found.
func (f *finder) first() {
	if !f.box.Call("hasAttribute", "data-searching").Bool() {
		return
	}
	for _, g := range f.groups {
		for _, it := range g.items {
			if !it.Get("hidden").Bool() {
				it.Call("querySelector", "input,button").Call("focus")
				return
			}
		}
	}
}
