//go:build js

package panel

import (
	"encoding/json"
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// demo is an expert's call at the same unit, played in a worker and then shown on
// the drawing with the reason of every act.
type demo struct {
	errand    dom.Errand
	played    string // by the worker on its way to a debrief, as it wrote it; "" not yet
	bar       dom.Node
	preparing bool // it has been played, and is being lived again here
	shown     bool // it was asked for before the end: the call counts as shown
	trouble   told // why it is not there
	scrub     scrub
	line      int // of the expert's journal that is marked; -1 none
}

// demoSliceS is how much of a frame goes into living the expert's call again.
const demoSliceS = 0.02

// Watch has an expert play a call at this unit, and shows it.
func (p *Panels) Watch() {
	d := &p.demo
	if p.class != nil && p.class.Withheld() {
		p.refused(say.Text("attend.exam"))
		return
	}
	for _, b := range dom.All("[data-show=demo]") {
		b.Hide(false)
	}
	p.show("demo")
	dom.UnfoldStage()
	if p.game.DemoReady() || d.preparing || d.errand.Runs() {
		return
	}
	recording, err := p.game.Recording()
	if err != nil {
		p.demoFailed("judge.unrecorded", err.Error())
		return
	}
	p.game.SetPace(0)
	d.shown = d.shown || !p.game.Call().Finished
	d.bar = dom.El("progress", dom.Attrs{"max": "1", "aria-labelledby": "demo-wait"})
	d.trouble = told{}
	p.fillDemoWait()
	if d.played != "" {
		p.takeDemo(d.played)
	} else {
		d.errand.Start("show", recording, p.demoHeard, func(text string) { p.demoFailed("demo.unstarted", text) })
	}
	p.fillHelp()
}

func (p *Panels) fillDemoWait() {
	dom.ByID("demo").Become(
		dom.El("p", dom.Attrs{"id": "demo-wait"}, say.Text("demo.wait")),
		p.demo.bar, dom.Button(say.Text("stop"), dom.Attrs{"data-act": "demo-stop"}))
}

// sayDemoAgain makes what the section holds anew, in another language.
func (p *Panels) sayDemoAgain() {
	switch d := &p.demo; {
	case d.trouble.id != "":
		p.fillDemoTrouble()
	case d.preparing || d.errand.Runs():
		p.fillDemoWait()
	case p.game.DemoReady():
		p.fillDemo()
	}
}

func (p *Panels) demoHeard(message js.Value) {
	d := &p.demo
	if v := message.Get("progress"); !v.IsUndefined() {
		d.bar.Value.Set("value", v.Float()*0.8)
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.demoFailed("demo.fault", v.String())
		return
	}
	p.takeDemo(message.Get("show").String())
}

// takeDemo takes the call that the worker has played, to be lived again here.
func (p *Panels) takeDemo(text string) {
	var played sim.Demo
	err := json.Unmarshal([]byte(text), &played)
	if err == nil {
		err = p.game.TakeDemo(played)
	}
	if err != nil {
		p.demo.played = "" // another one is played if it is asked for again
		p.demoFailed("demo.unread", err.Error())
		return
	}
	p.demo.errand.End()
	p.demo.preparing = true
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
		d.played = ""
		p.demoFailed("demo.unshown", err.Error())
	case done >= 1:
		d.preparing = false
		p.fillDemo()
		p.playDemo()
		p.say(say.Text("demo.done", len(p.game.DemoCall().Journal), wholeMinutes(p.game.DemoCall().Minutes)))
		dom.ByID("demo-h").Call("focus")
	default:
		d.bar.Value.Set("value", 0.8+0.2*done)
	}
}

// fillDemo shows the expert's acts with their reasons, and the scrubber for them.
func (p *Panels) fillDemo() {
	s := &p.demo.scrub
	*s = scrub{
		id: "demo", title: say.Text("demo.title"),
		words: say.Text("demo.words"),
		whose: "experts", begin: p.game.BeginDemo, call: p.game.DemoCall, end: p.game.DemoTicks,
	}
	s.build(p)
	journal := p.game.DemoCall().Journal
	l := dom.El("ol", dom.Attrs{"class": "reasons"})
	last := ""
	for i := range journal {
		e := &journal[i]
		what := dom.El("div", nil, dom.El("p", nil, sentence(e.Text, e.Reading, p.game.Look())))
		why, would := p.game.Reason(i)
		if i == 0 || why != last { // of acts for one reason the first tells it
			what.Add(dom.El("p", dom.Attrs{"class": "why"}, say.Sim(why)))
		}
		last = why
		what.Add(p.would(would, false))
		l.Add(dom.El("li", dom.Attrs{"data-reason": strconv.Itoa(i)}, dom.Button(say.Text("demo.minute", minuteOf(e.Tick)), dom.Attrs{"data-demo-at": strconv.Itoa(i)}), what))
	}
	p.demo.line = -1
	dom.ByID("demo").Become(s.box, dom.El("h3", nil, say.Text("demo.done-why")), l)
}

// playDemo begins to show the expert's call, from its start.
func (p *Panels) playDemo() {
	s := &p.demo.scrub
	p.game.Select("") // the drawing shows the part that the expert opens
	p.scrubTo(s, 0)
	if !p.game.Look().ReducedMotion {
		s.begin().Play(s.chosenPace())
	}
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
	if journal := p.game.DemoCall().Journal; line >= 0 && journal[line].Action.Kind == sim.ActOpen {
		p.game.Select("")
	}
	for _, li := range dom.All("[data-reason]") {
		if li.Data("reason") == strconv.Itoa(line) {
			li.SetAttr("aria-current", "step")
		} else {
			li.Call("removeAttribute", "aria-current")
		}
	}
}

func (p *Panels) demoFailed(id string, args ...any) {
	p.demo.errand.End()
	p.demo.preparing = false
	p.demo.trouble = told{id, args}
	p.fillDemoTrouble()
}

func (p *Panels) fillDemoTrouble() {
	dom.ByID("demo").Become(dom.El("p", dom.Attrs{"role": "alert"}, p.demo.trouble.String()),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("demo.again"), dom.Attrs{"data-act": "demo"})))
}
