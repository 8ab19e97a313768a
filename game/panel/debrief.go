//go:build js

package panel

import (
	"encoding/json"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// debrief is the judging of the finished call, which runs in a worker so that
// the page stays alive.
type debrief struct {
	errand dom.Errand
	ahead  bool // it was begun while the call went on
	read   int  // readings of the call that the worker knows of then
	begun  bool
	filled bool // the report on the page is in the units chosen
	report *sim.Report
	text   string  // the report as the judge wrote it
	wide   float64 // of its chart
	bar    dom.Node

	takeaway dom.Node // undefined until the first report
	trouble  told     // why there is none
}

// syncDebrief starts the judging when the call has been finished.
func (p *Panels) syncDebrief() {
	d := &p.debrief
	switch {
	case !p.game.Call().Finished:
		p.judgeAhead()
	case !d.begun:
		d.begun = true
		p.game.SetPace(0)
		p.offerDebrief()
		if p.class != nil {
			p.class.Mark(p)
		} else {
			p.Judge()
		}
		dom.ByID("debrief-h").Call("focus")
	case d.report != nil && !d.filled:
		d.filled = true
		p.fillReport()
	}
}

// judgeAhead begins the judging as soon as a cause has been named, and sends on what is
// read after it: most of it is long and needs nothing of what is still to be done. If it
// fails, it begins anew at the end.
func (p *Panels) judgeAhead() {
	d := &p.debrief
	if p.class != nil || !p.game.Call().Diagnosed || d.ahead && !d.errand.Runs() {
		return
	}
	read := 0
	for i := range p.game.Call().Journal {
		if p.game.Call().Journal[i].Reading != nil {
			read++
		}
	}
	if d.ahead && read == d.read {
		return
	}
	recording, err := p.game.Recording()
	switch {
	case err != nil: // as it will be at the end, which tells
	case d.ahead:
		d.errand.Send(recording)
	default:
		p.beginJudging(recording)
	}
	d.ahead, d.read = true, read
}

func (p *Panels) beginJudging(recording []byte) {
	p.debrief.bar = dom.El("progress", dom.Attrs{"max": "1", "aria-labelledby": "judging"})
	p.debrief.errand.Start("judge", recording, p.heard, func(text string) { p.debriefFailed("judge.unstarted", text) })
}

func (p *Panels) offerDebrief() {
	for _, b := range dom.All("[data-show=debrief]") {
		b.Hide(false)
	}
}

// Judge has the finished call judged here.
func (p *Panels) Judge() {
	recording, err := p.game.Recording()
	if err != nil {
		p.debriefFailed("judge.unrecorded", err.Error())
		return
	}
	if p.debrief.errand.Runs() {
		p.debrief.errand.Send(recording)
	} else {
		p.beginJudging(recording)
	}
	p.showProgress()
	p.show("debrief")
}

func (p *Panels) showProgress() {
	dom.ByID("debrief").Become(
		dom.El("p", dom.Attrs{"id": "judging"}, say.Text("judge.wait")),
		p.debrief.bar, dom.Button(say.Text("stop"), dom.Attrs{"data-act": "cancel-debrief"}))
	p.main.SetAttr("data-debrief", "running")
}

// heard takes a message of the worker: progress, report or error.
func (p *Panels) heard(message js.Value) {
	d := &p.debrief
	if v := message.Get("progress"); !v.IsUndefined() {
		d.bar.Value.Set("value", v)
		return
	}
	if v := message.Get("show"); !v.IsUndefined() {
		p.demo.played = v.String()
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.debriefFailed("judge.fault", v.String())
		return
	}
	if err := p.takeReport(message.Get("judge").String()); err != nil {
		p.debriefFailed("judge.unread", err.Error())
		return
	}
	p.debrief.errand.End()
	dom.ByID("debrief-h").Call("focus")
	ready := say.Text("judge.ready", say.Number(d.report.Score, 0))
	if p.class == nil {
		ready += " " + p.record(d.report).String()
	}
	p.say(ready)
}

// Report shows what the class's server made of the call, as JSON of a sim.Report.
func (p *Panels) Report(text string) error { return p.takeReport(text) }

// Judged reports whether the finished call has been judged, or is being judged.
func (p *Panels) Judged() bool { return p.main.Data("debrief") != "" }

// Await says in the debrief's place that it is still to come, with a way to look at the
// call again.
func (p *Panels) Await(text string) {
	p.OfferReplay(text)
	p.show("debrief")
}

// OfferReplay puts a text and the way to look at the call again into the debrief's place.
func (p *Panels) OfferReplay(text string) {
	p.offerDebrief()
	dom.ByID("debrief").Become(dom.El("p", dom.Attrs{"id": "await"}, text), p.scrubBox())
}

// takeReport shows the report that the judge wrote, now or on an earlier visit.
func (p *Panels) takeReport(text string) error {
	report := new(sim.Report)
	if err := json.Unmarshal([]byte(text), report); err != nil {
		return err
	}
	d := &p.debrief
	d.begun, d.filled, d.report, d.text = true, true, report, text
	p.offerDebrief()
	p.main.SetAttr("data-debrief", "ready") // which gives it its width
	p.fillReport()
	p.syncScrub()
	return nil
}

func (p *Panels) cancelDebrief() { p.debriefFailed("judge.stopped") }

func (p *Panels) debriefFailed(id string, args ...any) {
	p.debrief.errand.End()
	if !p.debrief.begun {
		return // nobody waits for it yet
	}
	p.debrief.trouble = told{id, args}
	p.main.SetAttr("data-debrief", "failed")
	p.fillTrouble()
	p.show("debrief")
}

// fillTrouble tells why there is no debrief, and offers to try again.
func (p *Panels) fillTrouble() {
	dom.ByID("debrief").Become(dom.El("p", dom.Attrs{"role": "alert"}, p.debrief.trouble.String()),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("judge.again"), dom.Attrs{"data-act": "judge-again"}), playAgain()),
		p.scrubBox())
}

// sayDebriefAgain makes what the section holds anew, in another language.
func (p *Panels) sayDebriefAgain() {
	d := &p.debrief
	p.scrub.box, d.takeaway = dom.Node{}, dom.Node{}
	p.replay.tick = -1 // the head too
	switch p.main.Data("debrief") {
	case "ready":
		p.fillReport()
	case "running":
		p.showProgress()
	case "failed":
		p.fillTrouble()
	}
}

// refitDebrief draws the debrief's chart anew when its place, seen, has become another width.
func (p *Panels) refitDebrief() {
	if p.main.Data("current") == "debrief" && p.debrief.report != nil && p.debrief.filled && beliefWidth() != p.debrief.wide {
		p.debrief.filled = false
		p.syncDebrief()
	}
}

func playAgain() dom.Node {
	return dom.Button(say.Text("again.play"), dom.Attrs{"data-act": "play-again"})
}
