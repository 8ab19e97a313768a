// Package debrief judges a finished call: what each reading was worth, how the
// belief over the causes moved, whether the verdict was supported by what had
// been seen, and what an expert would have done at the same unit.
//
// # Several causes
//
// A unit can have several faults, and a verdict can name several. Repairs cut a
// call into episodes: a new one begins with the first reading after a repair that
// changed the unit, as long as something is still wrong with it. In each episode
// that verdict counts which was the last before its first repair; failing that, the
// first one after it, judged on what was known at that repair. Readings after a
// repair count for the verdicts after it: what was mended is mended on the shadow
// units too. So both ways earn full credit, to name all causes at once or one after
// the other, each when the readings speak for it.
//
// The cause's points are shared evenly among the true causes; each earns by how far
// the readings supported it when it was named. They shrink in the measure in which
// the names that count were wrong: who names one right and one wrong gets half.
// The points for a confidence that fits are the mean over the verdicts that count, by
// what the readings said then.
package debrief

import (
	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// Case is what is to be judged.
type Case struct {
	File  *scenario.File
	Model *plant.Model // of the file's plant
	Found *plant.State // the unit as the call was opened; Judge does not write it
	Call  *call.Call   // the finished call
	Deeds []adviser.Deed

	entries []*call.Entry // of the journal, by deed: all but the mishaps
}

// Step is one deed of the call as the debrief sees it.
type Step struct {
	adviser.Step
	Entry   *call.Entry
	Minutes float64 // what it cost
}

// Item is one part of the score.
type Item struct {
	Name     string
	Got, Max float64
	Reason   string
}

// Result is the judgement of a call.
type Result struct {
	Causes   []string     // candidates: fault IDs, call.NoFault, and verdicts of several causes that came to mind
	Told     adviser.Step // what the customer's words when he called brought; see adviser.Library.Told
	True     []string     // what was wrong
	Steps    []Step
	Items    []Item
	Score    float64 // 0..100
	Unsafe   []string
	Unneeded []string

	lib *adviser.Library
}

// Judge judges a finished call by a walk through it, which it takes to its end. It is long
// work where many units show what was read; progress hears how far it has come, 0..1.
func (c *Case) Judge(w *Walk, progress func(done float64)) Result {
	w.Follow(c.Deeds, c.Call.Journal, progress)
	steps := w.steps
	for len(steps) < len(c.Deeds) {
		steps = append(steps, adviser.Step{Ratio: -1, Belief: w.adviser.Belief()})
	}
	progress(1)
	return c.Score(w.lib, steps)
}

// Score judges the call by what an adviser learnt of each deed.
func (c *Case) Score(lib *adviser.Library, steps []adviser.Step) Result {
	c.entries = entriesOf(c.Call.Journal)
	r := Result{Causes: lib.Candidates(), lib: lib, Told: lib.Told()}
	for i, s := range steps {
		e := c.entries[i]
		s.Belief = append(s.Belief, make([]float64, len(r.Causes)-len(s.Belief))...)
		r.Steps = append(r.Steps, Step{Step: s, Entry: e, Minutes: float64(e.EndTick-e.Tick) * call.TickS / 60})
	}
	for _, f := range fault.Wrong(c.File.Condition()) {
		r.True = append(r.True, f.ID)
	}
	c.blame(&r)
	c.score(&r)
	return r
}

// blame lists unsafe acts and repairs that changed nothing.
func (c *Case) blame(r *Result) {
	for i := range c.Call.Journal {
		e := &c.Call.Journal[i]
		if e.Unsafe {
			r.Unsafe = append(r.Unsafe, e.Text)
		}
		if e.Needless {
			r.Unneeded = append(r.Unneeded, e.Text)
		}
	}
}
