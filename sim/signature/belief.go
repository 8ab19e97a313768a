package signature

import (
	"math"

	"brinebench/sim/instrument"
	"brinebench/sim/repro"
)

// Hypothesis is one guess at what is wrong: a cause, somewhere between two
// neighbouring severities of its grid, or at its only one.
type Hypothesis struct {
	Cause  int     // index into Causes
	Prior  float64 // sums to 1 over all
	Lo, Hi int     // indexes of the two units; equal where there is but one
}

// Hypotheses are those of a grid of units, by cause.
func Hypotheses(units []Unit) []Hypothesis {
	var list []Hypothesis
	prior := Prior()
	for i := 0; i < len(units); {
		n := 1
		for i+n < len(units) && units[i+n].Cause == units[i].Cause {
			n++
		}
		spans := max(1, n-1)
		for k := range spans {
			list = append(list, Hypothesis{
				Cause: units[i].Cause, Prior: prior[units[i].Cause] / float64(spans), Lo: i + k, Hi: i + min(k+1, n-1),
			})
		}
		i += n
	}
	return list
}

// Hypotheses are those that the library tells apart.
func (l *Library) Hypotheses() []Hypothesis { return Hypotheses(l.Units) }

// How far a likelihood trusts the library: a reading that no hypothesis explains
// moves the belief little, since a unit is never quite like its model and trainees
// misread.
const (
	strayReading  = 0.01 // floor of the likelihood of a measurement
	straySighting = 0.08 // likelihood of seeing what should not be there: looks are coarse and the grid is too
	gridSigma     = 0.06 // spread of a reading that the library does not know of, relative
)

// Likelihood of reading got where units at both ends of a hypothesis show a and b:
// Student's t with three degrees of freedom on either side of what lies between
// them, scaled to 1 there, over a floor.
func Likelihood(in *instrument.Instrument, got, a, b instrument.Reading) float64 {
	if got.Seen != "" || a.Seen != "" || b.Seen != "" {
		return max(sighting(in, got, a), sighting(in, got, b))
	}
	return measured(in, got.Value, min(a.Value, b.Value), max(a.Value, b.Value))
}

// sighting is the likelihood at one end, if either is something seen.
func sighting(in *instrument.Instrument, got, want instrument.Reading) float64 {
	switch {
	case got.Seen == want.Seen && got.Seen != "":
		return 1
	case got.Seen == "" && want.Seen == "":
		return measured(in, got.Value, want.Value, want.Value)
	}
	return straySighting
}

// measured is the likelihood of v where the library has all from lo to hi.
func measured(in *instrument.Instrument, v, lo, hi float64) float64 {
	near := min(max(v, lo), hi)
	sigma := in.Sigma(near) + float64(gridSigma*math.Abs(near))
	d := (v - near) / sigma
	t := 1 + float64(d*d)/3
	return strayReading + (1-strayReading)/float64(t*t)
}

// Belief is a distribution over hypotheses.
type Belief struct {
	Of []Hypothesis
	P  []float64 // sums to 1
}

// NewBelief is what is believed before anything is known.
func NewBelief(of []Hypothesis) *Belief {
	b := &Belief{Of: of, P: make([]float64, len(of))}
	for i := range of {
		b.P[i] = of[i].Prior
	}
	return b
}

// Update takes a reading into account; want gives what unit u of the grid shows.
func (b *Belief) Update(in *instrument.Instrument, got instrument.Reading, want func(u int) instrument.Reading) {
	sum := 0.0
	for i, h := range b.Of {
		b.P[i] *= Likelihood(in, got, want(h.Lo), want(h.Hi))
		sum += b.P[i]
	}
	for i := range b.P {
		b.P[i] /= sum
	}
}

// ByCause adds up the hypotheses of each cause.
func (b *Belief) ByCause() []float64 {
	p := make([]float64, b.Of[len(b.Of)-1].Cause+1)
	for i, h := range b.Of {
		p[h.Cause] += b.P[i]
	}
	return p
}

// Entropy of a distribution, bits.
func Entropy(p []float64) float64 {
	const ln2 = 0.6931471805599453
	e := 0.0
	for _, x := range p {
		if x > 0 {
			e -= float64(x * repro.Log(x) / ln2)
		}
	}
	return e
}
