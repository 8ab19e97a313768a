package signature

import (
	"cmp"
	"math"
	"slices"

	"brinebench/sim/instrument"
	"brinebench/sim/repro"
)

// Move is how a reading of one unit differs from the sound unit's.
type Move struct {
	Stage  Stage
	In     int // place in instrument.All
	Sound  instrument.Reading
	Faulty instrument.Reading
	Sigmas float64 // the difference over the spread of the reading; sightings count seenSigmas
}

// seenSigmas is what another sighting counts beside measurements.
const seenSigmas = 6

// Moves are the readings of unit u that move most, one for each instrument, the
// greatest first; looks into opened parts come after all others.
func (l *Library) Moves(u, most int) []Move {
	var list []Move
	for i := range instrument.All() {
		if m := l.move(u, i); m.Sigmas > 1 {
			list = append(list, m)
		}
	}
	slices.SortStableFunc(list, func(a, b Move) int {
		x, y := &instrument.All()[a.In], &instrument.All()[b.In]
		if x.NeedsOpening() != y.NeedsOpening() {
			if x.NeedsOpening() {
				return 1
			}
			return -1
		}
		return cmp.Compare(b.Sigmas, a.Sigmas)
	})
	return list[:min(most, len(list))]
}

// move is how an instrument's reading of unit u moves at the stage where it moves most.
func (l *Library) move(u, in int) (top Move) {
	for stage := range NumStages {
		if Everything.Takes(stage, &instrument.All()[in]) {
			if m := l.MoveAt(u, in, stage); m.Sigmas > top.Sigmas {
				top = m
			}
		}
	}
	return top
}

// MoveAt is how an instrument's reading of unit u, by their places in All and Units, moves
// at a stage.
func (l *Library) MoveAt(u, in int, stage Stage) Move {
	m := Move{Stage: stage, In: in, Sound: l.Signatures[len(l.Signatures)-1][stage][in], Faulty: l.Signatures[u][stage][in]}
	m.Sigmas = apart(&instrument.All()[in], m.Sound, m.Faulty, l.Units[u].Swing)
	return m
}

// apart is the difference of two readings over their spread.
func apart(in *instrument.Instrument, a, b instrument.Reading, swing float64) float64 {
	switch {
	case a == b:
		return 0
	case a.Seen != "" || b.Seen != "":
		return seenSigmas
	}
	return math.Abs(a.Value-b.Value) / spread(in, max(a.Value, b.Value), swing)
}

// Pair is two causes that readings confuse.
type Pair struct {
	A, B   int     // causes, A before B in the catalogue
	Share  float64 // of the belief in both, what goes to the wrong one where both were as likely before, the mean of all trials of both
	Stage  Stage   // the reading that separates them best,
	In     int     //
	Weight float64 // and by how much: mean logarithm of the odds that it gives
}

// Pairs are the pairs of causes that the readings of a kit confuse by at least a
// share, the worst first. Which reading separates them best is looked for among
// all, looks into parts included.
func (l *Library) Pairs(trials []Trial, kit Kit, share float64) []Pair {
	n := len(l.Prior)
	wrong, count := make([][]float64, n), make([]int, n)
	for i := range wrong {
		wrong[i] = make([]float64, n)
	}
	for i := range trials {
		t := &trials[i]
		p := l.Weigh(&t.Signature, kit).ByCause()
		count[t.Cause]++
		for c := range p {
			if c != t.Cause {
				wrong[t.Cause][c] += even(p[c], l.Prior[c], p[t.Cause], l.Prior[t.Cause])
			}
		}
	}
	var list []Pair
	for a := range n {
		for b := a + 1; b < n; b++ {
			if all := count[a] + count[b]; all > 0 {
				if s := (wrong[a][b] + wrong[b][a]) / float64(all); s >= share {
					list = append(list, l.separate(trials, Pair{A: a, B: b, Share: s}))
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Pair) int { return cmp.Compare(b.Share, a.Share) })
	return list
}

// even is the share of b in two beliefs a and b had both been as likely before.
func even(b, beforeB, a, beforeA float64) float64 {
	if b <= 0 {
		return 0 // none that this unit can have
	}
	return b / (b + float64(a*(beforeB/beforeA)))
}

// separate finds the reading that tells the causes of a pair apart best.
func (l *Library) separate(trials []Trial, p Pair) Pair {
	all := l.Hypotheses()
	for stage := range NumStages {
		for i := range instrument.All() {
			in := &instrument.All()[i]
			if !Everything.Takes(stage, in) {
				continue
			}
			sum, n := 0.0, 0
			for k := range trials {
				t := &trials[k]
				if t.Cause == p.A || t.Cause == p.B {
					got, want := t.Signature[stage][i], l.shown(stage, i)
					sum += repro.Log(fits(all, t.Cause, in, got, want) / fits(all, p.A+p.B-t.Cause, in, got, want))
					n++
				}
			}
			if w := sum / float64(n); w > p.Weight {
				p.Stage, p.In, p.Weight = stage, i, w
			}
		}
	}
	return p
}

// fits is the greatest likelihood that a cause gives a reading.
func fits(all []Hypothesis, cause int, in *instrument.Instrument, got instrument.Reading, want Wants) (most float64) {
	for i := range all {
		if all[i].Cause == cause {
			most = max(most, all[i].Likelihood(in, got, want))
		}
	}
	return most
}
