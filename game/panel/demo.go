//go:build js

package panel

import (
	"encoding/json"
	"strconv"
	"syscall/js"

	"brinebench/sim"
)

// demo is an expert's call at the same unit, played in a worker and then shown on
// the drawing with the reason of every act.
type demo struct {
	errand    errand
	bar       node
	preparing bool // it has been played, and is being lived again here
	shown     bool // it was asked for: the call counts as shown
	scrub     scrub
	line      int // of the expert's journal that is marked; -1 none
}

// demoSliceS is how much of a frame goes into living the expert's call again.
const demoSliceS = 0.02

// startDemo has an expert play a call at this unit.
func (p *Panels) startDemo() {
	d := &p.demo
	for _, b := range all("[data-show=demo]") {
		b.hide(false)
	}
	p.show("demo")
	if p.game.DemoReady() || d.preparing || !d.errand.worker.IsUndefined() {
		return
	}
	recording, err := p.game.Recording()
	if err != nil {
		p.demoFailed("The recording of the call could not be made: " + err.Error())
		return
	}
	p.game.SetPace(0)
	d.shown = true
	d.bar = el("progress", attrs{"max": "1", "aria-labelledby": "demo-wait"})
	byID("demo").become(
		el("p", attrs{"id": "demo-wait"}, "An expert is working on the same unit, and knows no more of it than you do: what can be seen and measured."),
		d.bar, button("Stop", attrs{"data-act": "demo-stop"}))
	d.errand.start("show", recording, p.demoHeard, func(text string) { p.demoFailed("The expert could not be started: " + text) })
	p.fillHelp()
}

func (p *Panels) demoHeard(message js.Value) {
	d := &p.demo
	if v := message.Get("progress"); !v.IsUndefined() {
		d.bar.Value.Set("value", v.Float()*0.8)
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.demoFailed("The expert met a fault: " + v.String())
		return
	}
	var played sim.Demo
	err := json.Unmarshal([]byte(message.Get("show").String()), &played)
	if err == nil {
		err = p.game.TakeDemo(played)
	}
	if err != nil {
		p.demoFailed("The expert's call could not be read: " + err.Error())
		return
	}
	d.errand.end()
	d.preparing = true
}

// syncDemo lives a little more of the expert's call, until it can be shown.
func (p *Panels) syncDemo() {
	d := &p.demo
	if !d.preparing {
		return
	}
	done, err := p.game.PrepareDemo(demoSliceS)
	switch {
	case err != nil:
		d.preparing = false
		p.demoFailed("The expert's call could not be shown: " + err.Error())
	case done >= 1:
		d.preparing = false
		p.fillDemo()
	default:
		d.bar.Value.Set("value", 0.8+0.2*done)
	}
}

// fillDemo shows the expert's acts with their reasons, and the scrubber for them.
func (p *Panels) fillDemo() {
	s := &p.demo.scrub
	*s = scrub{
		id: "demo", title: "Watch it",
		words: "Play, or move the slider, and the drawing shows the expert's unit at that moment. Your own call stands meanwhile and is not touched.",
		whose: "the expert's", begin: p.game.BeginDemo, call: p.game.DemoCall, end: p.game.DemoTicks,
	}
	s.build(p)
	journal := p.game.DemoCall().Journal
	l := el("ol", attrs{"class": "reasons"})
	for i := range journal {
		e := &journal[i]
		l.add(el("li", attrs{"data-reason": strconv.Itoa(i)},
			button("Minute "+minuteOf(e.Tick), attrs{"data-demo-at": strconv.Itoa(i)}),
			el("div", nil, el("p", nil, sentence(e.Text, e.Reading, p.game.Look())), el("p", attrs{"class": "why"}, p.game.Reason(i)))))
	}
	p.demo.line = -1
	byID("demo").become(s.box, el("h3", nil, "What was done, and why"), l)
	p.say("The expert is done: " + plural(len(journal), "act") + " in " + wholeMinutes(p.game.DemoCall().Minutes) + " minutes.")
	byID("demo-h").Call("focus")
}

// demoAt shows the unit after an act of the expert.
func (p *Panels) demoAt(line int) {
	p.scrubTo(&p.demo.scrub, p.demo.scrub.begin().Moments()[line].Tick)
}

// markReason marks the act that has just been done on the drawing.
func (p *Panels) markReason(line int) {
	d := &p.demo
	if line == d.line {
		return
	}
	d.line = line
	for _, li := range all("[data-reason]") {
		if li.data("reason") == strconv.Itoa(line) {
			li.set("aria-current", "step")
		} else {
			li.Call("removeAttribute", "aria-current")
		}
	}
}

func (p *Panels) demoFailed(text string) {
	p.demo.errand.end()
	byID("demo").become(el("p", attrs{"role": "alert"}, text), el("div", attrs{"class": "pushes"}, button("Try again", attrs{"data-act": "demo"})))
}
