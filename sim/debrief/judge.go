package debrief

import (
	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
)

// Step is one deed of the call as the debrief sees it.
type Step struct {
	Entry    *call.Entry
	Belief   []float64 // over Result.Causes after the deed; sums to 1
	GainBits float64   // what the test was worth when it was chosen
	BestBits float64   // the same of the test that was worth most per minute
	BestTest string    // its name
	Ratio    float64   // bits per minute over the best available, 0..1; -1 where the deed is no test
	Minutes  float64   // what it cost
}

// Item is one part of the score.
type Item struct {
	Name     string
	Got, Max float64
	Reason   string
}

// Result is the judgement of a call.
type Result struct {
	Causes   []string // fault IDs, call.NoFault last
	True     []string // what was wrong
	Steps    []Step
	Items    []Item
	Score    float64 // 0..100
	Unsafe   []string
	Unneeded []string
	Better   []string
}

// Judge judges a finished call. It is long work (about thirty units are lived
// through the whole call); progress, if given, hears how far it has come, 0..1.
func (c *Case) Judge(progress func(done float64)) Result {
	hyps := hypotheses()
	shadows := make([]shadow, len(hyps))
	for i, h := range hyps {
		shadows[i] = c.live(h)
		if progress != nil {
			progress(float64(i+1) / float64(len(hyps)))
		}
	}
	r := Result{Causes: causes()}
	for _, f := range fault.Wrong(c.True) {
		r.True = append(r.True, f.ID)
	}
	c.walk(&r, shadows)
	c.blame(&r)
	c.better(&r, shadows)
	c.score(&r)
	return r
}

// walk follows the belief through the call.
func (c *Case) walk(r *Result, shadows []shadow) {
	b := prior(shadows)
	n := len(r.Causes)
	mended := c.firstMended()
	for i, d := range c.Deeds {
		e := &c.Call.Journal[i]
		step := Step{Entry: e, Ratio: -1, Minutes: float64(e.EndTick-e.Tick) * call.TickS / 60}
		if k, ok := indexOf(d.Act); ok && e.Reading != nil && i < mended {
			list := options(b, shadows, func(h int) signature { return shadows[h].moments[i] }, n)
			top := best(list)
			step.GainBits, step.BestBits, step.BestTest = list[k].gain, top.gain, instrument.All()[top.index].Name
			step.Ratio = 1
			if top.rate() > 0 {
				step.Ratio = list[k].rate() / top.rate()
			}
			b = b.update(&instrument.All()[k], instrument.Reading{Value: e.Reading.Value, Seen: e.Reading.Text},
				func(h int) *instrument.Reading { return shadows[h].results[i] })
		}
		step.Belief = b.byCause(shadows, n)
		r.Steps = append(r.Steps, step)
	}
}

// blame lists unsafe acts and repairs that changed nothing.
func (c *Case) blame(r *Result) {
	for i := range c.Call.Journal {
		e := &c.Call.Journal[i]
		if e.Unsafe {
			r.Unsafe = append(r.Unsafe, e.Text)
		}
		if (e.Action.Kind == call.Clean || e.Action.Kind == call.Replace) && !e.Mended {
			r.Unneeded = append(r.Unneeded, e.Text)
		}
	}
}
