//go:build js

package bench

import (
	"slices"
	"strconv"
	"syscall/js"

	core "brinebench/game/bench"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// syncUnits shows what stands on the bench, and the link once it was asked for.
func (p *Page) syncUnits() {
	if p.seen.units == p.Bench.Changes()+p.changes && p.seen.units != 0 {
		return
	}
	p.seen.units = p.Bench.Changes() + p.changes
	units := p.Bench.Units()
	_, whatIf := p.Bench.WhatIf()
	box := dom.ByID("units")
	held := dom.Document.Get("activeElement").Get("id").String()
	box.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("bench.units-hint")))
	for i, unit := range units {
		id := "unit-" + strconv.Itoa(i)
		box.Add(dom.El("p", dom.Attrs{"class": "stands"}, dom.El("label", dom.Attrs{"for": id}, say.Text("bench.unit", say.Text("bench.side."+strconv.Itoa(i)))), p.picker(id, unit)))
	}
	pushes := dom.El("div", dom.Attrs{"class": "pushes"})
	add := func(act string, off bool) {
		b := dom.Button(say.Text("bench."+act), dom.Attrs{"data-bench": act})
		b.Disable(off)
		if off {
			b.SetAttr("aria-describedby", "units-stay")
		}
		pushes.Add(b)
	}
	if len(units) < core.MostUnits {
		add("double", whatIf)
	} else {
		add("without-0", whatIf)
		add("without-1", whatIf)
	}
	add("anew", false)
	box.Add(pushes)
	if whatIf {
		box.Add(dom.El("p", dom.Attrs{"class": "none", "id": "units-stay"}, say.Text("bench.units-stay", say.Text("bench.what-if.back"), say.Text("bench.what-if.keep"))))
	}
	if held == "unit-0" || held == "unit-1" {
		dom.All("#" + held)[0].Call("focus")
	}
	p.fillLink()
}

// picker is the list of what can be put on the bench.
func (p *Page) picker(id, chosen string) dom.Node {
	list := dom.El("select", dom.Attrs{"id": id})
	for _, free := range []bool{true, false} {
		label := "bench.of-calls"
		if free {
			label = "bench.free"
		}
		group := dom.El("optgroup", dom.Attrs{"label": say.Text(label)})
		for i := range p.units {
			if u := &p.units[i]; u.Free == free {
				o := dom.El("option", dom.Attrs{"value": u.ID}, u.Title())
				o.Flag("selected", u.ID == chosen)
				group.Add(o)
			}
		}
		list.Add(group)
	}
	return list
}

// putUnit puts another unit on the bench; both begin anew, the one that stays as it
// is set.
func (p *Page) putUnit(i int, id string) {
	units := slices.Clone(p.Bench.Units())
	units[i] = id
	p.anew(units)
}

func (p *Page) anew(units []string) {
	if err := p.take(p.Bench.Anew(units)); err != nil {
		p.tell(say.Text("bench.bad-link", err.Error()))
		return
	}
	p.strips = nil
	p.tell(say.Text("bench.begun-anew"))
}

// actUnits does what the buttons of what stands on the bench stand for.
func (p *Page) actUnits(id string) {
	b := p.Bench
	switch id {
	case "double":
		b.Double()
		p.tell(say.Text("bench.doubled"))
	case "without-0", "without-1":
		b.Without(int(id[len(id)-1] - '0'))
		p.side = "0"
	case "anew":
		p.anew(b.Units())
	case "link":
		p.makeLink()
	case "copy":
		p.copyLink()
		return // or what it chooses were made anew
	}
	p.changes++
}

// mostLink is how long an address may be so that a phone still reads its code.
const mostLink = 1800

// makeLink takes the address of the bench as it is now.
func (p *Page) makeLink() {
	at := js.Global().Get("location")
	page := at.Get("origin").String() + at.Get("pathname").String()
	l := core.Link{Plan: p.Bench.Short(p.Bench.Plan(), mostLink-len(page)), OverS: float64(p.over()) * sim.TickS}
	for _, q := range p.charts {
		l.Charts = append(l.Charts, core.Quantities()[q].ID)
	}
	fragment := l.Encode()
	p.link = page + "#" + fragment
	js.Global().Get("history").Call("replaceState", nil, "", "#"+fragment)
	said := "bench.link-moment"
	if l.Tick == 0 && p.Bench.Tick() > 0 {
		said = "bench.link-start"
	}
	p.tellForNow(say.Text(said))
}

func (p *Page) copyLink() {
	choose := func() { // to be copied by hand
		for _, n := range dom.All("#link-text") { // by now it may be gone
			n.Call("select")
		}
	}
	clipboard := js.Global().Get("navigator").Get("clipboard")
	if clipboard.IsUndefined() {
		choose()
		return
	}
	var copied, refused js.Func
	answer := func(do func()) js.Func {
		return js.FuncOf(func(js.Value, []js.Value) any {
			copied.Release()
			refused.Release()
			do()
			return nil
		})
	}
	copied = answer(func() { p.tell(say.Text("bench.copied")) })
	refused = answer(choose)
	clipboard.Call("writeText", p.link).Call("then", copied, refused)
}

// fillLink shows the link and its code.
func (p *Page) fillLink() {
	box := dom.ByID("link")
	box.Become(dom.El("h3", nil, say.Text("bench.link-h")), dom.El("p", dom.Attrs{"class": "none"}, say.Text("bench.link-hint")),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("bench.link"), dom.Attrs{"data-bench": "link", "class": "main"})))
	if p.link == "" {
		return
	}
	box.Add(dom.El("p", nil, dom.El("label", dom.Attrs{"for": "link-text"}, say.Text("bench.address"))),
		dom.El("textarea", dom.Attrs{"id": "link-text", "readonly": "", "rows": "4", "spellcheck": "false"}, p.link),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("bench.copy"), dom.Attrs{"data-bench": "copy"})))
	code, err := dom.QR(p.link, say.Text("bench.code"))
	if err != nil {
		box.Add(dom.El("p", nil, say.Text("bench.no-code")))
		return
	}
	box.Add(code)
}
