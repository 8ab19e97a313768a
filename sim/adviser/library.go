// Package adviser follows a service call with shadow units: what is believed about
// the cause by the readings so far, what every test that could be made now would be
// worth, and what tests would be worth in another position of the drum.
//
// Its yardstick is the plant itself. Every fault of the catalogue, at a few
// severities, is given the same history and the same acts of whoever works at the
// unit; what the instruments would have shown on each of those shadow units, at the
// same moments, is what readings are weighed against. A unit that is mended on the
// way is mended on those shadows too that have what was mended: what a repair proves
// is learnt like anything else.
//
// Several causes at once come to mind when a reading is hardly what anything that
// is believed would show: the likeliest candidates are then joined with every other
// cause, and these units live the history and the call so far. What is seen of an opened
// part brings back to mind all that can be wrong with it. From memory, one call in ten
// has a second fault. What the customer tells when he calls is heard first.
package adviser

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
)

// Library holds the shadow units of one installation as its history leaves them.
// Advisers share it; units with several faults are added to it as they are needed.
type Library struct {
	model      *plant.Model // of shadows
	past       *signature.Past
	prior      []float64 // by cause
	told       []*instrument.Complaint
	singles    []signature.Hypothesis
	units      []*unit
	candidates [][]int // causes of each candidate; those of one cause first, in the order of signature.Causes
}

// unit is one shadow unit.
type unit struct {
	signature.Unit
	of    []int            // places of the units of one fault that it is made of, ascending
	start *plant.State     // as it was found
	ahead []signature.Show // see showsAhead, by stop
}

// NewLibrary lives through the history of a scenario, whose plant m is, with every
// unit that has one fault or none; progress, if given, hears how far it has come, 0..1,
// and breaks it off by false: then there is no library, nil.
func NewLibrary(f *scenario.File, m *plant.Model, progress func(done float64) bool) *Library {
	cfg := m.Config()
	grid := signature.Units(cfg)
	l := &Library{
		model: m.Shadow(), past: signature.NewPast(f, m), prior: signature.Prior(cfg),
	}
	l.singles = signature.Hypotheses(grid, l.prior)
	for _, id := range f.Says {
		c, _ := instrument.FindComplaint(id)
		l.told = append(l.told, c)
	}
	for c := range signature.Causes() {
		l.candidates = append(l.candidates, []int{c})
	}
	for i, u := range grid {
		l.units = append(l.units, &unit{Unit: u, of: []int{i}, start: l.past.Live(&u)})
		if progress != nil && !progress(float64(i+1)/float64(len(grid))) {
			return nil
		}
	}
	return l
}

// Fork returns a library of the same units that grows by itself: what comes to mind
// on one call is not known on another, and their beliefs are the same bits in any order.
// Two forks are not used at once.
func (l *Library) Fork() *Library {
	f := *l
	f.units, f.candidates = slices.Clone(l.units), slices.Clone(l.candidates)
	return &f
}

// Candidates are what may be wrong, each as a verdict (see call.VerdictIDs): the
// causes of the catalogue, call.NoFault, and what came to mind since.
func (l *Library) Candidates() []string {
	ids := signature.Causes()
	for _, causes := range l.candidates[len(ids):] {
		id := ""
		for _, c := range causes {
			id += "+" + ids[c]
		}
		ids = append(ids, id[1:])
	}
	return ids
}

// Told is what the customer's words when he called brought, as a step before the first.
// Its belief is over the causes of the catalogue and call.NoFault.
func (l *Library) Told() Step {
	step := Step{Belief: l.belief().ByCause(), Ratio: -1}
	step.tell(l, l.prior, step.Belief)
	return step
}

// belief is a new one that knows the complaint.
func (l *Library) belief() *signature.Belief {
	b := signature.NewBelief(l.singles)
	for _, c := range l.told {
		b.Hear(c.Stray, l.so(c))
	}
	return b
}

// so tells of which units a complaint is so.
func (l *Library) so(c *instrument.Complaint) func(u int) bool {
	sound := l.units[slices.IndexFunc(l.units, func(x *unit) bool { return x.Cause == l.none() })].start
	return func(u int) bool { return c.So(l.model, l.units[u].start, sound) }
}

// Present adds up, for each cause, what a belief over candidates gives to those that
// have it.
func (l *Library) Present(belief []float64) []float64 {
	p := make([]float64, len(l.prior))
	for i, x := range belief {
		for _, c := range l.candidates[i] {
			p[c] += x
		}
	}
	return p
}

// none is the place of call.NoFault among the causes.
func (l *Library) none() int { return len(l.prior) - 1 }

// candidate returns the place of the candidate with these causes.
func (l *Library) candidate(causes []int) int {
	for i, have := range l.candidates {
		if slices.Equal(have, causes) {
			return i
		}
	}
	l.candidates = append(l.candidates, causes)
	return len(l.candidates) - 1
}

// severities are the places of the first and the last unit with one cause alone;
// false where the installation cannot have it.
func (l *Library) severities(cause int) (first, last int, ok bool) {
	first = -1
	for i, u := range l.units {
		if len(u.of) == 1 && u.Cause == cause {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return first, last, first >= 0
}

// both returns the place of the unit that has what is wrong with two others, the
// second of which has one fault.
func (l *Library) both(a, b int) int {
	of := append(slices.Clone(l.units[a].of), b)
	slices.Sort(of)
	for i, u := range l.units {
		if slices.Equal(u.of, of) {
			return i
		}
	}
	u := &unit{Unit: signature.Both(l.units[a].Unit, l.units[b].Unit), of: of}
	u.start = l.past.Live(&u.Unit)
	l.units = append(l.units, u)
	return len(l.units) - 1
}

// secondFault is how often a unit that has a fault has another; from memory.
const secondFault = 0.1

// priorOf is how likely a set of causes is before anything is known.
func (l *Library) priorOf(causes []int) float64 {
	p := 1 / secondFault
	for i, c := range causes {
		p *= float64(l.prior[c] * secondFault * float64(i+1))
	}
	return p
}

// open opens a call on a unit as it was found.
func (l *Library) open(u int) *call.Call {
	k := call.New(l.model, l.units[u].start.Clone(), 0)
	k.Heedless = true
	return k
}
