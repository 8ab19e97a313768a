//go:build js

package sequence

import (
	"encoding/json"
	"syscall/js"
	"time"

	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// run is a program that a worker tries on the unit. The person may move on meanwhile:
// its answer is entered all the same, and told in #run.
type run struct {
	errand   dom.Errand
	turn     int // the exercise that it answers, see Page.turn
	exercise sim.Exercise
	bench    string // title of the unit
	begunMS  float64
	seconds  float64 // that the answer took
	bar      dom.Node
	trial    *sim.ProgramTrial // once it has come, where the person had moved on
	trouble  string            // id of what kept it from running
	details  string
}

// startRun sends the program off.
func (c *Page) startRun() {
	if c.run.errand.Runs() {
		return
	}
	packed, err := c.Drill.Unit().PackProgram(c.steps)
	if err != nil {
		dom.ByID("answer").Become(dom.El("p", dom.Attrs{"class": "refused", "role": "alert"}, say.Text("cycle.not-run")))
		return
	}
	c.run = run{turn: c.turn, exercise: c.Drill.Exercise(), bench: c.benchTitle(), begunMS: c.nowMS, seconds: (c.nowMS - c.begunMS) / 1000}
	c.run.bar = dom.El("progress", dom.Attrs{"max": "1", "aria-labelledby": "run-wait"})
	dom.ByID("answer").Become()
	c.run.errand.Start("program", packed, c.runHeard, func(text string) { c.runFailed("cycle.run-unstarted", text) })
	c.fillQuestion()
	c.fillRun()
}

func (c *Page) runHeard(message js.Value) {
	r := &c.run
	if v := message.Get("progress"); !v.IsUndefined() {
		r.bar.Value.Set("value", v.Float())
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		c.runFailed("cycle.run-failed", v.String())
		return
	}
	var t sim.ProgramTrial
	if err := json.Unmarshal([]byte(message.Get("program").String()), &t); err != nil {
		c.runFailed("cycle.run-failed", err.Error())
		return
	}
	r.errand.End()
	score := cycle.MarkProgram(&t)
	if r.turn == c.turn && !c.Drill.Answered() {
		c.run = run{}
		c.fillRun()
		c.answered(score, func() []dom.Node { return c.outcome(&t) })
		c.fillQuestion()
		return
	}
	c.Drill.Enter(r.exercise, score, time.Now().Unix(), r.seconds)
	c.keep()
	r.trial = &t
	c.fillRun()
	hear(say.Text("cycle.run-kept", r.bench, verdict(score)), false)
}

func (c *Page) runFailed(id, details string) {
	c.run.errand.End()
	c.run.trouble, c.run.details = id, details
	c.fillRun()
	c.fillQuestion()
}

// stopRun ends it without an answer.
func (c *Page) stopRun() {
	c.run.errand.End()
	c.run = run{}
	c.fillRun()
	c.fillQuestion()
}

// fillRun shows the program under way, or what came of one that the person had left.
func (c *Page) fillRun() {
	r, box := &c.run, dom.ByID("run")
	closing := dom.Button(say.Text("close"), dom.Attrs{"data-cycle": "run-close"})
	switch {
	case r.errand.Runs():
		box.Become(dom.El("p", dom.Attrs{"id": "run-wait"}, say.Text("cycle.run", r.bench)), r.bar,
			dom.Button(say.Text("stop"), dom.Attrs{"data-cycle": "run-stop"}))
	case r.trial != nil:
		told := dom.El("details", nil, dom.El("summary", nil, say.Text("cycle.run-kept", r.bench, verdict(cycle.MarkProgram(r.trial)))), c.outcome(r.trial))
		box.Become(told, closing)
	case r.trouble != "":
		box.Become(dom.El("p", dom.Attrs{"role": "alert", "class": "refused"}, say.Text(r.trouble)), dom.El("p", dom.Attrs{"class": "none"}, r.details), closing)
	default:
		box.Become()
	}
	box.Hide(box.Get("childElementCount").Int() == 0)
}

// underWay reports whether the present exercise's program is being run.
func (c *Page) underWay() bool { return c.run.errand.Runs() && c.run.turn == c.turn }
