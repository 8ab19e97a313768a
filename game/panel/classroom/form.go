//go:build js

// Package classroom fills the pages of the classroom: where a trainee joins and picks a
// drill, and where the instructor makes and watches a class. All that comes from people
// or the server is set as text.
//
// Handles for tests, all stable:
//
//	#class                        what the page holds at the moment; html[data-state=ready]
//	form[data-form=F]             first, sign-in, password, add, make, push, message; join, token
//	[data-do=D]                   what a button does
//	#code                         the code to join by; [data-class=ID] opens a class
//	tr[data-member=ID]            a trainee on the board, data-at=STATE; [data-cell=C] in it
//	#state[data-over]             how the class stands; #sent that a message was sent
//	[data-do=wall], [data-do=board]  the way to the wall in a window of its own, and from there back
//	#incomplete                   that the results are; [data-asks] what a sequence drill asks; #on-wall
//	[data-sum=ID]                 on the wall, what a drill that is over came to
//	#line                         how the connection is, data-line=on|off
//	[data-drill=ID]               a drill of the trainee's; a in it opens it; #heard li what was told
package classroom

import (
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/panel/attend"
)

// form makes a form of fields; sent has their values, by name, when it is sent, and runs
// beside the events' turns.
func form(name, send string, fields []dom.Node, sent func(values map[string]string) error) dom.Node {
	f := dom.El("form", dom.Attrs{"data-form": name, "class": "class-form"})
	for _, field := range fields {
		f.Add(field)
	}
	f.Add(dom.El("button", dom.Attrs{"class": "main"}, send))
	f.On("submit", func(e js.Value) {
		e.Call("preventDefault")
		values := map[string]string{}
		inputs := f.Call("querySelectorAll", "[name]")
		for i := range inputs.Length() {
			in := inputs.Index(i)
			value := in.Get("value").String()
			if in.Get("type").String() == "checkbox" && !in.Get("checked").Bool() {
				value = ""
			}
			values[in.Get("name").String()] = value
		}
		go func() { complain(sent(values)) }()
	})
	return f
}

// field is a labelled input.
func field(label, name string, a dom.Attrs) dom.Node {
	in := dom.El("input", dom.Attrs{"name": name, "autocomplete": "off"})
	for k, v := range a {
		in.SetAttr(k, v)
	}
	return labelled(label, in)
}

func labelled(label string, in dom.Node) dom.Node {
	return dom.El("label", nil, dom.El("span", nil, label), in)
}

// option is a choice of a select.
func option(value, text string) dom.Node { return dom.El("option", dom.Attrs{"value": value}, text) }

// do is a button that asks the server something.
func do(label, name string, f func() error) dom.Node {
	b := dom.Button(label, dom.Attrs{"data-do": name})
	b.On("click", func(js.Value) {
		go func() { complain(f()) }()
	})
	return b
}

// complain says what went wrong, or that nothing did.
func complain(err error) {
	text := ""
	if err != nil {
		text = attend.Say(err)
	}
	dom.ByID("trouble").SetText(text)
}

// become fills the page.
func become(children ...any) { refill(dom.ByID("class"), children...) }

// refill fills a part of it anew; a focus on a button of the old filling goes to the one
// that does the same in the new.
func refill(n dom.Node, children ...any) {
	held := ""
	if at := dom.Wrap(dom.Document.Get("activeElement")); at.Truthy() {
		held = at.Data("do")
	}
	n.Become(children...)
	if held == "" {
		return
	}
	for _, b := range dom.All("[data-do=" + dom.Quote(held) + "]") {
		b.Call("focus", map[string]any{"preventScroll": true})
	}
}

// typed is what stands in the fields of the page's forms, by form and name.
type typed map[string]string

// eachField goes through the fields of all forms, in their order.
func eachField(f func(key string, in dom.Node)) {
	for _, in := range dom.All("#class form[data-form] [name]") {
		f(dom.Wrap(in.Call("closest", "form")).Data("form")+"/"+in.Get("name").String(), in)
	}
}

// typedNow is what stands there now: forms are filled anew in another language.
func typedNow() typed {
	t := typed{}
	eachField(func(key string, in dom.Node) {
		t[key] = in.Get("value").String()
		if in.Get("type").String() == "checkbox" && !in.Get("checked").Bool() {
			t[key] = ""
		}
	})
	return t
}

// restore puts it back; what follows from a choice is filled before the next is made.
func (t typed) restore() {
	eachField(func(key string, in dom.Node) {
		value, had := t[key]
		switch {
		case !had:
		case in.Get("type").String() == "checkbox":
			in.Value.Set("checked", value != "")
		default:
			in.Value.Set("value", value)
			if in.Get("selectedIndex").Equal(js.ValueOf(-1)) { // not to be had any more
				in.Value.Set("selectedIndex", 0)
			}
			in.Call("dispatchEvent", js.Global().Get("Event").New("change"))
		}
	})
}
