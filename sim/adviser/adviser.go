package adviser

import (
	"cmp"
	"math"
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// Deed is one act of a call and when it was begun.
type Deed struct {
	Tick int64
	Act  call.Act
}

// Adviser follows one call.
type Adviser struct {
	lib     *Library
	b       *signature.Belief
	live    []shadow // by unit of the library
	deeds   []deed
	used    []bool   // by instrument: read in the present state of the unit, so that the same again says nothing
	seen    []uint64 // by instrument: the positions, a bit each, that it was read in since somebody worked at the unit
	station int      // of the drum at the last deed
	rounds  int      // of widening
	worked  bool     // a repair was tried
}

// deed is one that the shadows have lived through, and what came of it.
type deed struct {
	Deed
	weighed    bool
	instrument int // place in instrument.All
	got        instrument.Reading
}

// shadow is a unit of the library in this call.
type shadow struct {
	call   *call.Call          // nil while nobody believes in it
	moment signature.Show      // as the present deed was begun
	tick   int64               // of moment
	result *instrument.Reading // the exact reading that the deed gave; nil for none
}

// Follow begins to follow a call on the installation.
func (l *Library) Follow() *Adviser {
	a := &Adviser{lib: l, b: l.belief(), used: make([]bool, len(instrument.All())), seen: make([]uint64, len(instrument.All()))}
	a.grow()
	for u := range l.units {
		if len(l.units[u].of) == 1 {
			a.live[u].call = l.open(u)
		}
	}
	return a
}

// grow makes room for the units that the library has got since.
func (a *Adviser) grow() {
	a.live = append(a.live, make([]shadow, len(a.lib.units)-len(a.live))...)
}

// Belief over the library's candidates; it sums to 1.
func (a *Adviser) Belief() []float64 {
	return append(a.b.ByCause(), make([]float64, len(a.lib.candidates))...)[:len(a.lib.candidates)]
}

// Complaints are what the customer told when he called.
func (a *Adviser) Complaints() []*instrument.Complaint { return a.lib.told }

// Present is the belief that a cause, by its ID, is among what is wrong.
func (a *Adviser) Present(id string) float64 {
	return a.lib.Present(a.Belief())[slices.Index(signature.Causes(), id)]
}

// Step is what one deed brought.
type Step struct {
	Belief   []float64 // over candidates after the deed; sums to 1
	GainBits float64   // what the test was worth when it was chosen
	BestBits float64   // the same of the test that was worth most per minute
	BestTest string    // its name
	Ratio    float64   // bits per minute over the best available, 0..1; -1 where the deed is no test
	Told     float64   // the same of what it told when its reading was had, 0..1; 0 where the deed is no test
	Counts   bool      // it counts in economy
	Against  []int     // causes that the reading all but ruled out
	For      []int     // causes that it raised
	Test     string    // ID of the instrument that was read; "" where the deed is no test
	Would    []Would   // what it was to show by each candidate that was followed; nil where the deed is no test or was a duty, and once somebody has worked at the unit
	Apart    []string  // the two candidates that it was best made to tell apart: the most believed, and the most believed of those that show otherwise; nil where there are none
}

// Follow lives through a deed that has been done. e is the journal's entry of it,
// finished.
func (a *Adviser) Follow(d Deed, e *call.Entry) Step {
	step := Step{Ratio: -1}
	if e.Station != a.station {
		a.renew(false) // the clock has driven on by itself
	}
	a.station = e.Station
	switch k, reads := reading(e); {
	case reads:
		a.weigh(d, k, e.Reading, &step)
	case !e.Unsafe:
		a.all(func(u int) {
			a.begin(u, d.Tick, false)
			a.do(u, d.Act, false)
		})
		a.deeds = append(a.deeds, deed{Deed: d})
		a.forget(d.Act)
	}
	step.Belief = a.Belief()
	return step
}

// all calls f for every unit that is followed.
func (a *Adviser) all(f func(u int)) {
	for u := range a.live {
		if a.live[u].call != nil {
			f(u)
		}
	}
}

// begin brings a unit to the moment of a deed, and reads it when the deed is going to read.
func (a *Adviser) begin(u int, tick int64, reads bool) {
	s := &a.live[u]
	s.result = nil
	s.call.RunTo(tick)
	if s.moment != nil && s.tick == tick {
		return
	}
	s.moment = nil
	if reads {
		s.moment, s.tick = signature.Read(a.lib.model, s.call.Plant), tick
	}
}

// do has a unit live through a deed.
func (a *Adviser) do(u int, act call.Act, reads bool) {
	s := &a.live[u]
	k := s.call
	err := k.Do(act)
	if !reads {
		s.moment = nil
	}
	if err != nil || !reads {
		return
	}
	k.RunTo(k.BusyUntil)
	if r := k.Journal[len(k.Journal)-1].Reading; r != nil {
		s.result = &instrument.Reading{Value: r.Value, Seen: r.Text}
	}
}

// weigh appraises a test and takes its reading into account. The same reading again,
// with nothing changed, says nothing.
func (a *Adviser) weigh(d Deed, k int, got *call.Reading, step *Step) {
	a.Look(d.Tick)
	options := a.Options()
	made, top := options[k], Best(options)
	duty := step.appraise(made, top)
	step.Test = instrument.All()[k].ID
	if lead, other, ok := a.Split(k); ok {
		ids := a.lib.Candidates()
		step.Apart = []string{ids[lead], ids[other]}
	}
	a.all(func(u int) { a.do(u, d.Act, true) })
	if !a.worked && !duty {
		step.Would = a.would(k)
	}
	x := deed{Deed: d, weighed: !a.used[k], instrument: k, got: instrument.Reading{Value: got.Value, Seen: got.Text}}
	a.deeds = append(a.deeds, x)
	if !x.weighed {
		return
	}
	a.used[k] = true
	a.seen[k] |= 1 << a.station
	const surprising = 0.05
	before := a.Belief()
	expected := a.b.Update(&instrument.All()[k], x.got, a.results, a.momentOf(k))
	a.drop()
	if expected < surprising {
		if in := &instrument.All()[k]; in.NeedsOpening() {
			a.suspect(in.Where)
		}
		a.widen()
	}
	after := a.Belief()
	step.credit(made, top, signature.Entropy(before)-signature.Entropy(after))
	step.tell(a.lib, before, after)
}

// unlikely is the share of the belief in the leading hypothesis below which a
// hypothesis is not followed any more. It keeps the belief that it had.
const unlikely = 1e-4

// drop lets go of hypotheses and units that readings speak against.
func (a *Adviser) drop() {
	a.b.Drop(unlikely)
	a.all(func(u int) {
		if !a.b.Follows(u) {
			a.live[u].call = nil
		}
	})
}

// momentOf gives what an instrument, by its place in instrument.All, shows as the
// present deed is begun.
func (a *Adviser) momentOf(in int) signature.Wants {
	return func(u int) (r instrument.Reading, ok bool) {
		if s := &a.live[u]; s.call != nil && s.moment != nil {
			return s.moment[in], true
		}
		return r, false
	}
}

// results gives what the present deed brought to light.
func (a *Adviser) results(u int) (r instrument.Reading, ok bool) {
	if s := &a.live[u]; s.call != nil && s.result != nil {
		return *s.result, true
	}
	return r, false
}

// forget is called for an act that may change what instruments show.
func (a *Adviser) forget(act call.Act) {
	switch act.Kind {
	case call.Plan, call.Conclude, call.Diagnose, call.Tell, call.Hint, call.Power, call.Refit, call.Lubricate, call.Disinfect:
		return
	case call.Clean, call.Adjust, call.Replace:
		a.worked = true
		a.renew(true)
		return
	}
	a.renew(false)
}

// renew lets tests tell something again: what is the same in any position only where
// somebody has worked at the unit. Who asks twice gets the same answer.
func (a *Adviser) renew(worked bool) {
	for i := range a.used {
		a.used[i] = a.used[i] && !worked && instrument.All()[i].Fixed
		if worked {
			a.seen[i] = 0
		}
	}
}

// reading is the place in instrument.All of the instrument that gave an entry's
// reading; false where there is none.
func reading(e *call.Entry) (int, bool) {
	if e.Reading == nil || e.Unsafe {
		return 0, false
	}
	i := slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == e.Reading.Instrument })
	return i, i >= 0
}

// tell notes what a reading ruled out and what it raised: causes that fell by more
// than a factor of ten from at least 2 %, and those that it more than doubled; what
// changed most comes first.
func (s *Step) tell(l *Library, before, after []float64) {
	const worthTelling, ruledOut, raised = 0.02, 0.1, 2
	was, is := l.Present(before), l.Present(after)
	for c := range was {
		switch {
		case was[c] >= worthTelling && is[c] < float64(ruledOut*was[c]):
			s.Against = append(s.Against, c)
		case is[c] >= worthTelling && is[c] > float64(raised*was[c]):
			s.For = append(s.For, c)
		}
	}
	most := func(c, d int) int { return cmp.Compare(math.Abs(is[d]-was[d]), math.Abs(is[c]-was[c])) }
	slices.SortStableFunc(s.Against, most)
	slices.SortStableFunc(s.For, most)
}
