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
	Counts   bool      // it counts in economy
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
	Causes   []string  // fault IDs, call.NoFault last
	Prior    []float64 // belief over them before the call
	True     []string  // what was wrong
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
	for i := range c.Call.Journal {
		if e := &c.Call.Journal[i]; e.Action.Kind != call.Mishap {
			c.entries = append(c.entries, e)
		}
	}
	hyps := hypotheses()
	shadows := make([]shadow, len(hyps))
	for i, h := range hyps {
		shadows[i] = c.live(h)
		if progress != nil {
			progress(float64(i+1) / float64(len(hyps)))
		}
	}
	r := Result{Causes: causes()}
	r.Prior = prior(shadows).byCause(shadows, len(r.Causes))
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
	fresh := newUses()
	for i, d := range c.Deeds {
		e := c.entries[i]
		step := Step{Entry: e, Ratio: -1, Minutes: float64(e.EndTick-e.Tick) * call.TickS / 60}
		if i > 0 && e.Station != c.entries[i-1].Station {
			clear(fresh.used) // the clock has driven on by itself
		}
		if !takesReading(d.Act) {
			fresh.forget(d.Act)
		}
		if k, ok := indexOf(d.Act); ok && e.Reading != nil && i < mended {
			list := fresh.only(options(b, shadows, func(h int) signature { return shadows[h].moments[i] }, n))
			step.appraise(list, k)
			if !fresh.used[k] {
				b = b.update(&instrument.All()[k], instrument.Reading{Value: e.Reading.Value, Seen: e.Reading.Text},
					func(h int) *instrument.Reading { return shadows[h].results[i] })
			}
			fresh.used[k] = true
		}
		step.Belief = b.byCause(shadows, n)
		r.Steps = append(r.Steps, step)
	}
}

// appraise sets the test that was made against the best that could have been.
func (s *Step) appraise(list []option, made int) {
	// A test is left out of economy where no test was worth much any more, and a
	// reading of zero pressure is a duty, not a question.
	const littleBits, dutyBits = 0.1, 0.05
	top := best(list)
	s.GainBits, s.BestBits, s.BestTest = list[made].gain, top.gain, instrument.All()[top.index].Name
	duty := instrument.All()[made].Quantity == instrument.Pressure && list[made].gain < dutyBits
	s.Ratio = 1
	if top.rate() > 0 {
		s.Ratio = list[made].rate() / top.rate()
	}
	s.Counts = top.gain >= littleBits && !duty
}

// uses remembers which instruments have been read in the present state of the
// unit: the same look again says nothing new.
type uses struct{ used []bool }

func newUses() *uses { return &uses{make([]bool, len(instrument.All()))} }

// forget is called for an act that may change what instruments show.
func (u *uses) forget(a call.Act) {
	switch a.Kind {
	case call.Diagnose, call.Power, call.Refit:
		return
	}
	clear(u.used)
}

// only takes the gain from options that were used before.
func (u *uses) only(list []option) []option {
	for i := range list {
		if u.used[list[i].index] {
			list[i].gain = 0
		}
	}
	return list
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
