package debrief

import (
	"fmt"
	"math"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/expert"
)

// Better is what an expert did at the same unit.
type Better struct {
	Steps   []string // a sentence or two each, of what tells, mends or proves
	Score   float64  // 0..100
	Minutes float64  // of the call
	Tests   int      // readings up to the first verdict
	Run     *expert.Run
	Call    *call.Call // as it was left
}

// Play has the expert play the call that the case is of, on the unit as it was found,
// and scores it; what was done in that call does not matter. It is long work. The library
// must be as it was made, or a fork of it. progress hears how far it has come, 0..1: how
// long the call will be, nobody knows; half of it is done with its first hour and a half.
func (c *Case) Play(lib *adviser.Library, progress func(done float64)) (b Better) {
	const half = 90
	k := call.New(c.Model, c.Found.Clone(), c.Call.Seed)
	run := expert.New(k, lib, func(tick int64) { // by ticks, as it will be lived again
		for tick = min(tick, call.MaxTicks); k.Ticks < tick; {
			k.Tick()
		}
		progress(k.Minutes() / (k.Minutes() + half))
	}).Play()
	played := Case{File: c.File, Model: c.Model, Found: c.Found, Call: k, Deeds: run.Deeds}
	own := played.Score(lib, run.Steps)
	b = Better{Score: own.Score, Minutes: k.Minutes(), Run: run, Call: k}
	named := false
	for i, e := range played.entries {
		named = named || e.Action.Kind == call.Diagnose
		if own.Steps[i].Ratio >= 0 && !named {
			b.Tests++
		}
		text := e.Text + " " + run.Reasons[i]
		if e.Action.Kind == call.Test {
			text = run.Reasons[i] // which names it
		}
		b.Steps = append(b.Steps, fmt.Sprintf("%.0f min: %s", math.Floor(float64(e.Tick)*call.TickS/60), text))
	}
	return b
}
