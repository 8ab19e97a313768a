//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

var Document = js.Global().Get("document")

// Node is an element of the page.
type Node struct{ js.Value }

// Wrap makes a node of what the browser hands over as an element.
func Wrap(v js.Value) Node { return Node{v} }

// Attrs are attributes of a new element; an empty value stands for the bare attribute.
type Attrs map[string]string

const svgSpace = "http://www.w3.org/2000/svg"

// ByID finds an element of the page's skeleton.
func ByID(id string) Node {
	v := Document.Call("getElementById", id)
	if v.IsNull() {
		panic("dom: the page has no #" + id)
	}
	return Node{v}
}

// All finds the elements that a selector names, in document order.
func All(selector string) []Node {
	list := Document.Call("querySelectorAll", selector)
	nodes := make([]Node, list.Length())
	for i := range nodes {
		nodes[i] = Node{list.Index(i)}
	}
	return nodes
}

// El makes an element; children are nodes or strings, and strings stay text.
func El(tag string, a Attrs, children ...any) Node {
	return Fill(Node{Document.Call("createElement", tag)}, a, children)
}

// SVG makes an element of a drawing.
func SVG(tag string, a Attrs, children ...any) Node {
	return Fill(Node{Document.Call("createElementNS", svgSpace, tag)}, a, children)
}

func Fill(n Node, a Attrs, children []any) Node {
	for k, v := range a {
		n.SetAttr(k, v)
	}
	n.Add(children...)
	return n
}

// Add appends nodes and texts.
func (n Node) Add(children ...any) {
	for _, c := range children {
		switch c := c.(type) {
		case Node:
			n.Call("append", c.Value)
		case []Node:
			for _, m := range c {
				n.Call("append", m.Value)
			}
		case string:
			n.Call("append", c)
		default:
			panic("dom: a child is neither node nor text")
		}
	}
}

// Become replaces all that n holds.
func (n Node) Become(children ...any) {
	n.Call("replaceChildren")
	n.Add(children...)
}

func (n Node) SetAttr(name, value string) { n.Call("setAttribute", name, value) }

// SetText sets the element's words when they differ.
func (n Node) SetText(s string) {
	if n.Get("textContent").String() != s {
		n.Value.Set("textContent", s)
	}
}

func (n Node) Hide(hidden bool) { n.Value.Set("hidden", hidden) }

func (n Node) Disable(disabled bool) { n.Value.Set("disabled", disabled) }

// DisableTo is Disable that hands the focus, if the element has it and is disabled, to heir.
func (n Node) DisableTo(heir Node, disabled bool) {
	if disabled && n.Equal(Document.Get("activeElement")) {
		heir.Call("focus")
	}
	n.Disable(disabled)
}

// Flag sets a bare attribute or takes it away.
func (n Node) Flag(name string, on bool) { n.Call("toggleAttribute", name, on) }

// Press sets the state of a toggle.
func (n Node) Press(on bool) { n.SetAttr("aria-pressed", strconv.FormatBool(on)) }

// Data reads a data attribute in its camel-case name, "" when it is missing.
func (n Node) Data(name string) string {
	v := n.Get("dataset").Get(name)
	if v.IsUndefined() {
		return ""
	}
	return v.String()
}

// On listens to an event of the element for as long as the page lives.
func (n Node) On(event string, f func(e js.Value)) {
	n.Call("addEventListener", event, js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	}))
}

// Button makes a push button with data attributes.
func Button(label string, a Attrs, children ...any) Node {
	b := El("button", Attrs{"type": "button"}, label)
	return Fill(b, a, children)
}

// List makes a list of texts.
func List(tag string, items []string) Node {
	l := El(tag, nil)
	for _, s := range items {
		l.Add(El("li", nil, s))
	}
	return l
}

// Pairs makes a definition list of alternating terms and texts, leaving out empty texts.
func Pairs(termsAndTexts ...string) Node {
	l := El("dl", Attrs{"class": "pairs"})
	for i := 0; i+1 < len(termsAndTexts); i += 2 {
		if termsAndTexts[i+1] != "" {
			l.Add(El("dt", nil, termsAndTexts[i]), El("dd", nil, termsAndTexts[i+1]))
		}
	}
	return l
}

// Table is a table that scrolls sideways where there is no room, by keys too.
func Table(name string, head []string, body Node) Node {
	row := El("tr", nil)
	for _, h := range head {
		row.Add(El("th", Attrs{"scope": "col"}, h))
	}
	return El("div", Attrs{"class": "scroll", "tabindex": "0", "role": "region", "aria-label": name}, El("table", nil, El("thead", nil, row), body))
}

// Stacked is a table whose rows stand as lines of their own where its columns have no
// room beside each other: every cell then goes with its column's head.
func Stacked(name, class string, head []string, body Node) Node {
	t := Table(name, head, body)
	t.SetAttr("class", "scroll stacks "+class)
	rows := body.Get("rows")
	for r := range rows.Length() {
		cells := rows.Index(r).Get("cells")
		for c := range cells.Length() {
			Wrap(cells.Index(c)).SetAttr("data-of", head[c])
		}
	}
	return t
}

// Quote makes a string safe inside a selector.
func Quote(s string) string { return strconv.Quote(s) }
