package signature

import (
	"math"
	"slices"

	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
)

// Hypothesis is one guess at what is wrong: a cause, somewhere between two
// neighbouring severities of its grid, or at its only one.
type Hypothesis struct {
	Cause  int     // index into Causes
	Prior  float64 // sums to 1 over all
	Lo, Hi int     // indexes of the two units; equal where there is but one
	Swing  float64 // of those units
}

// Hypotheses are those of a grid of units, by cause.
func Hypotheses(units []Unit, prior []float64) []Hypothesis {
	var list []Hypothesis
	for i := 0; i < len(units); {
		n := 1
		for i+n < len(units) && units[i+n].Cause == units[i].Cause {
			n++
		}
		spans := max(1, n-1)
		for k := range spans {
			list = append(list, Hypothesis{
				Cause: units[i].Cause, Prior: prior[units[i].Cause] / float64(spans), Lo: i + k, Hi: i + min(k+1, n-1),
				Swing: units[i].Swing,
			})
		}
		i += n
	}
	return list
}

// Hypotheses are those that the library tells apart.
func (l *Library) Hypotheses() []Hypothesis { return Hypotheses(l.Units, l.Prior) }

// How far a likelihood trusts the library: a reading that no hypothesis explains
// moves the belief little, since a unit is never quite like its model and trainees
// misread.
const (
	strayReading  = 0.01  // floor of the likelihood of a measurement
	straySighting = 0.03  // likelihood of seeing what should not be there: people look in passing, and the grid is coarse
	strayTold     = 0.15  // the same of what somebody remembers
	strayLook     = 0.001 // the same of a part that one holds in one's hand, and of what is as plain
	gridSigma     = 0.03  // spread of a reading that the library does not know of, relative
	driftSigma    = 0.25  // the same of one that changes while it is taken, to that change
	noiseCosts    = 0.39  // 1 − exp of the mean logarithm of the t-distribution under normal noise of its scale
)

// MostRaised is by how much, in logarithms, one reading can raise what explains it over
// what does not.
func MostRaised() float64 { return -repro.Log(strayLook) }

// Likelihood of reading got where a hypothesis may show any of some readings, or
// what lies between them: Student's t with three degrees of freedom on either side
// of it, scaled to 1 there, over a floor. drift is by how much a unit's reading
// changes while it is taken: what changes fast is shown at another moment by a unit
// of another severity, and not always by one between. swing is that of the units.
func Likelihood(in *instrument.Instrument, got instrument.Reading, drift, swing float64, shown ...instrument.Reading) float64 {
	lo, hi, seen, best := math.Inf(1), math.Inf(-1), got.Seen != "", 0.0
	for _, r := range shown {
		lo, hi, seen = min(lo, r.Value), max(hi, r.Value), seen || r.Seen != ""
	}
	if !seen {
		return measured(in, got.Value, lo, hi, drift, swing)
	}
	for _, r := range shown {
		best = max(best, sighting(in, got, r, swing))
	}
	return best
}

// sighting is the likelihood at one end, if either is something seen.
func sighting(in *instrument.Instrument, got, want instrument.Reading, swing float64) float64 {
	switch {
	case got.Seen == want.Seen && got.Seen != "":
		return 1
	case in.NeedsOpening(), in.Plain:
		return strayLook
	case got.Seen == "" && want.Seen == "":
		return measured(in, got.Value, want.Value, want.Value, 0, swing)
	case in.Told:
		return strayTold
	}
	return straySighting
}

// measured is the likelihood of v where the library has all from lo to hi. What
// lies well within takes the loss that noise costs a single value on average: a
// cause must not gain by being vague.
func measured(in *instrument.Instrument, v, lo, hi, drift, swing float64) float64 {
	near := min(max(v, lo), hi)
	sigma := spread(in, near, swing) + float64(driftSigma*drift)
	noise := in.Sigma(near) / sigma
	d := (v - near) / sigma
	t := 1 + float64(d*d)/3
	sure := 1 - float64(noiseCosts*noise*noise*(hi-lo)/(hi-lo+sigma))
	return strayReading + float64((1-strayReading)*sure)/float64(t*t)
}

// spread is the standard deviation of a reading that the library says is v.
func spread(in *instrument.Instrument, v, swing float64) float64 {
	return in.Sigma(v) + float64(gridSigma*math.Abs(v)) + float64(feels(in, swing)*math.Abs(v))
}

// feels is how much of a swing of the supply a reading feels: raw water, settings,
// counts, angles, temperatures and a settled bed's depth nothing; flows, doses, and what
// comes of them, all.
func feels(in *instrument.Instrument, swing float64) float64 {
	switch {
	case in.Where == plant.PartController, in.Where == plant.PartRawTap,
		in.Where == plant.PartBed && in.Quantity == instrument.Length,
		in.Quantity == instrument.Count, in.Quantity == instrument.Angle, in.Quantity == instrument.Warmth:
		return 0
	}
	return swing
}

// Belief is a distribution over hypotheses. Some may be dropped: they keep what
// belief they had, and readings are asked of the others alone.
type Belief struct {
	Of []Hypothesis
	P  []float64 // sums to 1

	dropped []bool
	causes  int
	said    float64   // logarithm of what P of a followed hypothesis stands for over its prior times its likelihoods
	post    []float64 // scratch of Gain: a belief,
	sums    []float64 // and the same by cause
	may     []outcome
}

// NewBelief is what is believed before anything is known.
func NewBelief(of []Hypothesis) *Belief {
	n := len(of)
	b := &Belief{Of: slices.Clip(of), P: make([]float64, n), dropped: make([]bool, n), post: make([]float64, n)}
	for i, h := range of {
		b.P[i] = h.Prior
		b.causes = max(b.causes, h.Cause+1)
	}
	b.sums = make([]float64, b.causes)
	return b
}

// Wants gives what unit u of the grid shows; false where it shows nothing.
type Wants func(u int) (r instrument.Reading, ok bool)

// Update takes a reading into account and returns how likely it was to come, by
// all that was believed. Where it changed while it was taken, want is followed by
// what was shown as the test began: any moment's may have been read.
func (b *Belief) Update(in *instrument.Instrument, got instrument.Reading, want ...Wants) float64 {
	expected := b.weigh(b.P, in, got, want...)
	b.said -= repro.Log(expected)
	return expected
}

// Hear takes into account what a customer told when he called, and is so of some units.
// Nothing may be dropped yet. stray is as with Tells.
func (b *Belief) Hear(stray float64, so func(u int) bool) {
	sum := 0.0
	for i := range b.P {
		b.P[i] = float64(b.P[i] * b.Of[i].Tells(stray, so))
		sum += b.P[i]
	}
	for i := range b.P {
		b.P[i] /= sum
	}
	b.said -= repro.Log(sum)
}

// Tells is how likely it is that the customer of a unit tells something of himself, beside
// one of whose unit it is so: the mean of both ends. stray is how likely he tells it where
// it is not so.
func (h *Hypothesis) Tells(stray float64, so func(u int) bool) float64 {
	p := 0.0
	for _, u := range [2]int{h.Lo, h.Hi} {
		if so(u) {
			p += 0.5
		} else {
			p += float64(0.5 * stray)
		}
	}
	return p
}

// weigh turns p, that holds the belief, into that after a reading, and returns how
// likely it was to come.
func (b *Belief) weigh(p []float64, in *instrument.Instrument, got instrument.Reading, want ...Wants) float64 {
	was, sum := 0.0, 0.0
	for i, h := range b.Of {
		if b.dropped[i] {
			continue
		}
		was += p[i]
		p[i] = float64(p[i] * h.Likelihood(in, got, want...))
		sum += p[i]
	}
	for i := range p {
		if !b.dropped[i] {
			p[i] = float64(p[i] * (was / sum))
		}
	}
	return sum / was
}

// Weight is the logarithm of the belief that a hypothesis of the given prior, whose
// likelihoods of all readings so far multiply to exp(fits), would have beside those
// there are.
func (b *Belief) Weight(prior, fits float64) float64 { return repro.Log(prior) + fits + b.said }

// Add adds hypotheses that come to mind late, with the weights that they have.
func (b *Belief) Add(of []Hypothesis, weights []float64) {
	sum := 1.0
	for i, h := range of {
		p := repro.Exp(weights[i])
		sum += p
		b.Of, b.P, b.dropped = append(b.Of, h), append(b.P, p), append(b.dropped, false)
		b.causes = max(b.causes, h.Cause+1)
	}
	for i := range b.P {
		b.P[i] /= sum
	}
	b.said -= repro.Log(sum)
	b.post, b.sums = make([]float64, len(b.P)), make([]float64, b.causes)
}

// Likelihood of a reading by a hypothesis; 1 where its units show nothing.
func (h *Hypothesis) Likelihood(in *instrument.Instrument, got instrument.Reading, want ...Wants) float64 {
	var shown [4]instrument.Reading
	n, drift := 0, 0.0
	for _, u := range [2]int{h.Lo, h.Hi} {
		first := n
		for _, w := range want {
			if r, ok := w(u); ok {
				shown[n] = r
				n++
			}
		}
		if n == first+2 {
			drift = max(drift, math.Abs(shown[first].Value-shown[first+1].Value))
		}
	}
	if n == 0 {
		return 1
	}
	return Likelihood(in, got, drift, h.Swing, shown[:n]...)
}

// Drop drops every hypothesis with less than a share of the belief in the leading one.
func (b *Belief) Drop(share float64) {
	most := slices.Max(b.P)
	for i, p := range b.P {
		b.dropped[i] = b.dropped[i] || p < float64(share*most)
	}
}

// Follows reports whether readings of unit u are still asked for.
func (b *Belief) Follows(u int) bool {
	for i, h := range b.Of {
		if !b.dropped[i] && (h.Lo == u || h.Hi == u) {
			return true
		}
	}
	return false
}

// FollowsCause reports whether readings are still asked of a hypothesis of that cause.
func (b *Belief) FollowsCause(cause int) bool {
	for i, h := range b.Of {
		if h.Cause == cause && !b.dropped[i] {
			return true
		}
	}
	return false
}

// ByCause adds up the hypotheses of each cause.
func (b *Belief) ByCause() []float64 {
	p := make([]float64, b.causes)
	b.addUp(p, b.P)
	return p
}

// addUp adds up by cause into sums.
func (b *Belief) addUp(sums, p []float64) {
	clear(sums)
	for i := range b.Of {
		sums[b.Of[i].Cause] += p[i]
	}
}

// unlikely is the belief below which a hypothesis does not count in Gain.
const unlikely = 1e-4

// outcome is a reading that may come, and how likely it is.
type outcome struct {
	got    instrument.Reading
	weight float64
}

// Gain is the information that a reading is expected to give over the causes,
// bits: each hypothesis in turn taken for true, at either end of its severities,
// weighted by its belief.
func (b *Belief) Gain(in *instrument.Instrument, want Wants) float64 {
	list, sum := b.outcomes(in, want)
	if len(list) < 2 {
		return 0
	}
	b.addUp(b.sums, b.P)
	before, after := Entropy(b.sums), 0.0
	for _, o := range list {
		copy(b.post, b.P)
		b.weigh(b.post, in, o.got, want)
		b.addUp(b.sums, b.post)
		after += float64(o.weight / sum * Entropy(b.sums))
	}
	return max(0, before-after)
}

// outcomes are the readings that may come, as the instrument shows them, and the
// sum of their weights.
func (b *Belief) outcomes(in *instrument.Instrument, want Wants) (list []outcome, sum float64) {
	list = b.may[:0]
	for i, h := range b.Of {
		if b.dropped[i] || b.P[i] < unlikely {
			continue
		}
		for _, u := range [2]int{h.Lo, h.Hi} {
			r, ok := want(u)
			if !ok {
				continue
			}
			r = in.Rounded(r)
			k := slices.IndexFunc(list, func(o outcome) bool { return o.got == r })
			if k < 0 {
				k, list = len(list), append(list, outcome{got: r})
			}
			list[k].weight += b.P[i]
			sum += b.P[i]
		}
	}
	b.may = list
	return list, sum
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
