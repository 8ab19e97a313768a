//go:build js

package panel

import (
	"encoding/json"
	"syscall/js"

	"brinebench/sim"
)

// debrief is the judging of the finished call, which runs in a worker so that
// the page stays alive.
type debrief struct {
	errand errand
	begun  bool
	filled bool // the report on the page is in the units chosen
	report *sim.Report
	text   string // the report as the judge wrote it
	bar    node

	takeaway node // undefined until the first report
}

// syncDebrief starts the judging when the call has been finished.
func (p *Panels) syncDebrief() {
	d := &p.debrief
	switch {
	case !p.game.Call().Finished:
	case !d.begun:
		d.begun = true
		p.game.SetPace(0)
		p.offerDebrief()
		p.startDebrief()
		byID("debrief-h").Call("focus")
	case d.report != nil && !d.filled:
		d.filled = true
		p.fillReport()
	}
}

func (p *Panels) offerDebrief() {
	for _, b := range all("[data-show=debrief]") {
		b.hide(false)
	}
}

func (p *Panels) startDebrief() {
	recording, err := p.game.Recording()
	if err != nil {
		p.debriefFailed("The recording of the call could not be made: " + err.Error())
		return
	}
	p.debrief.errand.start("judge", recording, p.heard, func(text string) { p.debriefFailed("The judge could not be started: " + text) })
	p.showProgress()
}

func (p *Panels) showProgress() {
	d := &p.debrief
	d.bar = el("progress", attrs{"max": "1", "aria-labelledby": "judging"})
	byID("debrief").become(
		el("p", attrs{"id": "judging"}, "The call is being played again, with every cause in the catalogue, to see what each of your readings was worth."),
		d.bar, button("Stop", attrs{"data-act": "cancel-debrief"}))
	p.main.set("data-debrief", "running")
	p.show("debrief")
}

// heard takes a message of the worker: progress, report or error.
func (p *Panels) heard(message js.Value) {
	d := &p.debrief
	if v := message.Get("progress"); !v.IsUndefined() {
		d.bar.Value.Set("value", v)
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.debriefFailed("The judge met a fault: " + v.String())
		return
	}
	if err := p.takeReport(message.Get("judge").String()); err != nil {
		p.debriefFailed("The judge's answer could not be read: " + err.Error())
		return
	}
	p.debrief.errand.end()
	byID("debrief-h").Call("focus")
	p.say("The debrief is ready: " + decimals(d.report.Score, 0) + " of 100. " + p.record(d.report))
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
	p.fillReport()
	p.syncScrub()
	p.main.set("data-debrief", "ready")
	return nil
}

func (p *Panels) cancelDebrief() { p.debriefFailed("You stopped the judging.") }

func (p *Panels) debriefFailed(text string) {
	p.debrief.errand.end()
	p.main.set("data-debrief", "failed")
	byID("debrief").become(el("p", attrs{"role": "alert"}, text),
		el("div", attrs{"class": "pushes"}, button("Judge the call", attrs{"data-act": "judge-again"}), playAgain()),
		p.scrubBox())
	p.show("debrief")
}

func playAgain() node { return button("Play again", attrs{"data-act": "play-again"}) }
