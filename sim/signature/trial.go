package signature

import (
	"fmt"

	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
)

// Trial is a unit that the library does not have, to be named by it: a fault at
// any severity between the least and the greatest of its grid.
type Trial struct {
	Unit
	Signature
}

// Trials makes n of them, the faults by turns, each lived through as a watched
// unit's history is: every draw of the family by itself. progress, if given, hears
// how far it has come, 0..1.
func Trials(file *scenario.File, m *plant.Model, n int, seed uint64, progress func(done float64)) []Trial {
	r := repro.NewStream(seed, "signature/severities")
	coarse := m.Coarse()
	past := newPast(file, coarse, coarse, 0)
	var list []Trial
	for len(list) < n {
		for i := range fault.Catalogue() {
			f := &fault.Catalogue()[i]
			if !f.CanBe(m.Config()) || len(list) == n {
				continue
			}
			least, greatest := f.Severities[0], f.Severities[len(f.Severities)-1]
			t := Trial{Unit: unitOf(m.Config(), i, f, least+float64((greatest-least)*r.Float64()))}
			t.Signature = Of(coarse, past.Live(&t.Unit))
			list = append(list, t)
			if progress != nil {
				progress(float64(len(list)) / float64(n))
			}
		}
	}
	return list
}

// Noisy is what a technician reads of a signature.
func (sig *Signature) Noisy(seed uint64, name string) *Signature {
	var out Signature
	for stage := range sig {
		for i := range instrument.All() {
			in := &instrument.All()[i]
			r := repro.NewStream(seed, fmt.Sprintf("%s/%s/%s", name, Stage(stage), in.ID))
			out[stage] = append(out[stage], in.Noisy(sig[stage][i], &r))
		}
	}
	return &out
}

// Kit tells which readings are taken.
type Kit int

// The kits.
const (
	Everything Kit = iota // tests at every stage, questions, and a look into every part
	Unopened              // the same without opening anything
)

// Takes reports whether an instrument is read at a stage: one that shows the same
// in every position is read once.
func (k Kit) Takes(stage Stage, in *instrument.Instrument) bool {
	return (stage == Service || !in.Fixed) && !(k == Unopened && in.NeedsOpening())
}

// shown gives what the units of the library show of an instrument at a stage.
func (l *Library) shown(stage Stage, in int) Wants {
	return func(u int) (instrument.Reading, bool) { return l.Signatures[u][stage][in], true }
}

// Weigh is what is believed after all readings of a kit.
func (l *Library) Weigh(sig *Signature, kit Kit) *Belief {
	b := NewBelief(l.Hypotheses())
	for stage := range NumStages {
		for i := range instrument.All() {
			if in := &instrument.All()[i]; kit.Takes(stage, in) {
				b.Update(in, sig[stage][i], l.shown(stage, i))
			}
		}
	}
	return b
}

// Naming is how well the trials of one cause are named.
type Naming struct {
	Trials, First, Second int   // all; named at once; named first or second
	Mistaken              []int // by cause: how often it was named instead
}

// Name names every trial by its noisy readings and counts by cause.
func (l *Library) Name(trials []Trial, kit Kit, seed uint64) []Naming {
	list := make([]Naming, len(l.Prior))
	for i := range trials {
		t := &trials[i]
		n := &list[t.Cause]
		if n.Mistaken == nil {
			n.Mistaken = make([]int, len(list))
		}
		p := l.Weigh(t.Noisy(seed, fmt.Sprintf("signature/trial/%d", i)), kit).ByCause()
		first, second := leading(p)
		n.Trials++
		switch t.Cause {
		case first:
			n.First++
			n.Second++
		case second:
			n.Second++
		}
		if first != t.Cause {
			n.Mistaken[first]++
		}
	}
	return list
}

// leading are the places of the two greatest of p.
func leading(p []float64) (first, second int) {
	first, second = 0, 1
	if p[1] > p[0] {
		first, second = 1, 0
	}
	for i := 2; i < len(p); i++ {
		switch {
		case p[i] > p[first]:
			first, second = i, first
		case p[i] > p[second]:
			second = i
		}
	}
	return first, second
}
