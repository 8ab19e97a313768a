//go:build js

package panel

import (
	"strconv"
	"syscall/js"
)

var document = js.Global().Get("document")

// node is an element of the page.
type node struct{ js.Value }

// attrs are attributes of a new element; an empty value stands for the bare attribute.
type attrs map[string]string

const svgSpace = "http://www.w3.org/2000/svg"

// byID finds an element of the page's skeleton.
func byID(id string) node {
	v := document.Call("getElementById", id)
	if v.IsNull() {
		panic("panel: the page has no #" + id)
	}
	return node{v}
}

// all finds the elements that a selector names, in document order.
func all(selector string) []node {
	list := document.Call("querySelectorAll", selector)
	nodes := make([]node, list.Length())
	for i := range nodes {
		nodes[i] = node{list.Index(i)}
	}
	return nodes
}

// el makes an element; children are nodes or strings, and strings stay text.
func el(tag string, a attrs, children ...any) node {
	return fill(node{document.Call("createElement", tag)}, a, children)
}

// svg makes an element of a drawing.
func svg(tag string, a attrs, children ...any) node {
	return fill(node{document.Call("createElementNS", svgSpace, tag)}, a, children)
}

func fill(n node, a attrs, children []any) node {
	for k, v := range a {
		n.set(k, v)
	}
	n.add(children...)
	return n
}

// add appends nodes and texts.
func (n node) add(children ...any) {
	for _, c := range children {
		switch c := c.(type) {
		case node:
			n.Call("append", c.Value)
		case []node:
			for _, m := range c {
				n.Call("append", m.Value)
			}
		case string:
			n.Call("append", c)
		default:
			panic("panel: a child is neither node nor text")
		}
	}
}

// become replaces all that n holds.
func (n node) become(children ...any) {
	n.Call("replaceChildren")
	n.add(children...)
}

func (n node) set(name, value string) { n.Call("setAttribute", name, value) }

// text sets the element's words when they differ.
func (n node) text(s string) {
	if n.Get("textContent").String() != s {
		n.Value.Set("textContent", s)
	}
}

func (n node) hide(hidden bool) { n.Value.Set("hidden", hidden) }

func (n node) disable(disabled bool) { n.Value.Set("disabled", disabled) }

// flag sets a bare attribute or takes it away.
func (n node) flag(name string, on bool) { n.Call("toggleAttribute", name, on) }

// pressed sets the state of a toggle.
func (n node) pressed(on bool) { n.set("aria-pressed", strconv.FormatBool(on)) }

// data reads a data attribute in its camel-case name, "" when it is missing.
func (n node) data(name string) string {
	v := n.Get("dataset").Get(name)
	if v.IsUndefined() {
		return ""
	}
	return v.String()
}

// on listens to an event of the element for as long as the page lives.
func (n node) on(event string, f func(e js.Value)) {
	n.Call("addEventListener", event, js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	}))
}

// button makes a push button with data attributes.
func button(label string, a attrs, children ...any) node {
	b := el("button", attrs{"type": "button"}, label)
	return fill(b, a, children)
}

// list makes a list of texts.
func list(tag string, items []string) node {
	l := el(tag, nil)
	for _, s := range items {
		l.add(el("li", nil, s))
	}
	return l
}

// pairs makes a definition list of alternating terms and texts, leaving out empty texts.
func pairs(termsAndTexts ...string) node {
	l := el("dl", attrs{"class": "pairs"})
	for i := 0; i+1 < len(termsAndTexts); i += 2 {
		if termsAndTexts[i+1] != "" {
			l.add(el("dt", nil, termsAndTexts[i]), el("dd", nil, termsAndTexts[i+1]))
		}
	}
	return l
}
