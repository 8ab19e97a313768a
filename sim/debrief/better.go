package debrief

import (
	"fmt"

	"brinebench/sim/call"
	"brinebench/sim/expert"
)

// Better is what an expert did at the same unit.
type Better struct {
	Steps   []string // a sentence or two each, of what tells, mends or proves
	Score   float64  // 0..100
	Minutes float64  // of the call
	Tests   int      // readings up to the first verdict
}

// better has the expert play the call on the unit as it was found, and scores it.
func (c *Case) better(r *Result) {
	k := call.New(c.Model, c.Found.Clone(), c.Call.Seed)
	run := expert.New(k, r.lib, k.RunTo).Play()
	played := Case{File: c.File, Model: c.Model, Found: c.Found, Call: k, Deeds: run.Deeds}
	own := played.Score(r.lib, run.Steps)
	r.Better.Score, r.Better.Minutes = own.Score, k.Minutes()
	named := false
	for i, e := range played.entries {
		named = named || e.Action.Kind == call.Diagnose
		if own.Steps[i].Ratio >= 0 && !named {
			r.Better.Tests++
		}
		text := e.Text + " " + run.Reasons[i]
		if e.Action.Kind == call.Test {
			text = run.Reasons[i] // which names it
		}
		r.Better.Steps = append(r.Better.Steps, fmt.Sprintf("%.0f min: %s", float64(e.Tick)*call.TickS/60, text))
	}
}
