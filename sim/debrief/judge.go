package debrief

import (
	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/signature"
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

// unlikely is the share of the belief in the leading hypothesis below which a
// hypothesis is not followed any more. It keeps the belief that it had.
const unlikely = 1e-4

// Judge judges a finished call. It is long work: some two hundred units live
// through the history, and those that readings speak for through the call.
// progress, if given, hears how far it has come, 0..1.
func (c *Case) Judge(progress func(done float64)) Result {
	if progress == nil {
		progress = func(float64) {}
	}
	for i := range c.Call.Journal {
		if e := &c.Call.Journal[i]; e.Action.Kind != call.Mishap {
			c.entries = append(c.entries, e)
		}
	}
	const lived, walked = 0.7, 0.9 // parts of the work done
	l := c.shadows(func(done float64) { progress(lived * done) })
	r := Result{Causes: signature.Causes(), Prior: signature.NewBelief(l.all).ByCause()}
	for _, f := range fault.Wrong(c.File.Condition()) {
		r.True = append(r.True, f.ID)
	}
	c.walk(&r, l, func(done float64) { progress(lived + float64((walked-lived)*done)) })
	c.blame(&r)
	c.better(&r, l)
	c.score(&r)
	progress(1)
	return r
}

// walk follows the belief through the call, deed by deed.
func (c *Case) walk(r *Result, l *shadows, progress func(done float64)) {
	b := signature.NewBelief(l.all)
	followed := c.lastRead() + 1
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
		switch {
		case i >= followed:
		case c.reads(i):
			c.weigh(i, b, l, fresh, &step)
		default:
			l.begin(d, false)
			if !e.Unsafe {
				l.do(d, false)
			}
		}
		step.Belief = b.ByCause()
		r.Steps = append(r.Steps, step)
		progress(float64(i+1) / float64(len(c.Deeds)))
	}
}

// weigh appraises the test that deed i is, and takes its reading into account. The
// same reading again, with nothing changed, says nothing.
func (c *Case) weigh(i int, b *signature.Belief, l *shadows, fresh *uses, step *Step) {
	d, got := c.Deeds[i], c.entries[i].Reading
	k, _ := indexOf(d.Act)
	l.begin(d, true)
	step.appraise(fresh.only(options(b, l.momentOf)), k)
	l.do(d, true)
	if !fresh.used[k] {
		b.Update(&instrument.All()[k], instrument.Reading{Value: got.Value, Seen: got.Text}, l.results, l.momentOf(k))
		b.Drop(unlikely)
		l.follow(b)
	}
	fresh.used[k] = true
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
	if !isTalk(a.Kind) && a.Kind != call.Power && a.Kind != call.Refit && a.Kind != call.Lubricate {
		clear(u.used)
	}
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
