package debrief

import (
	"brinebench/sim/instrument"
	"brinebench/sim/repro"
)

// How far a likelihood trusts the library: a reading that no hypothesis explains
// moves the belief little, since the true severity lies between those of the
// grid and trainees misread.
const (
	strayReading  = 0.01 // floor of the likelihood of a measurement
	straySighting = 0.08 // likelihood of seeing what should not be there: looks are coarse and the grid is too
	gridSigma     = 0.06 // spread of a reading by the severities between grid points, relative
)

// belief is a distribution over hypotheses.
type belief []float64

func prior(shadows []shadow) belief {
	b := make(belief, len(shadows))
	for i := range shadows {
		b[i] = shadows[i].prior
	}
	return b
}

// likelihood of reading got where the library has want: Student's t with three
// degrees of freedom, scaled to 1 at its middle, over a floor.
func likelihood(in *instrument.Instrument, got, want instrument.Reading) float64 {
	if got.Seen != "" || want.Seen != "" {
		if got.Seen == want.Seen {
			return 1
		}
		return straySighting
	}
	sigma := in.Sigma(want.Value) + float64(gridSigma*max(want.Value, -want.Value))
	d := (got.Value - want.Value) / sigma
	t := 1 + float64(d*d)/3
	return strayReading + (1-strayReading)/float64(t*t)
}

// update returns the belief after a reading; want gives the library's reading of
// each hypothesis, nil where it has none.
func (b belief) update(in *instrument.Instrument, got instrument.Reading, want func(h int) *instrument.Reading) belief {
	after := make(belief, len(b))
	sum := 0.0
	for h := range b {
		l := 1.0
		if w := want(h); w != nil {
			l = likelihood(in, got, *w)
		}
		after[h] = float64(b[h] * l)
		sum += after[h]
	}
	for h := range after {
		after[h] /= sum
	}
	return after
}

// byCause adds up the hypotheses of each cause.
func (b belief) byCause(shadows []shadow, n int) []float64 {
	p := make([]float64, n)
	for h := range b {
		p[shadows[h].cause] += b[h]
	}
	return p
}

// entropy of a distribution, bits.
func entropy(p []float64) float64 {
	const ln2 = 0.6931471805599453
	e := 0.0
	for _, x := range p {
		if x > 0 {
			e -= float64(x * repro.Log(x) / ln2)
		}
	}
	return e
}
