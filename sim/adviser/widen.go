package adviser

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/repro"
	"brinebench/sim/signature"
)

// widen brings to mind the candidates that add a cause to one of the likeliest.
func (a *Adviser) widen() {
	const worthWidening, leads, rounds = 0.2, 2, 4
	if a.rounds++; a.rounds > rounds {
		return
	}
	n := 0
	belief := a.Belief()
	for lead := range belief {
		if belief[lead] >= worthWidening && n < leads && a.add(lead, 0) {
			n++
		}
	}
}

// Doubt brings to mind that there may be more wrong than the likeliest candidate: any
// of the commoner causes besides.
func (a *Adviser) Doubt() {
	const common = 1.0 / 170
	a.add(Lead(a.Belief()), common)
}

// add adds to the belief the candidates that a cause, not rarer than a share of all
// calls, comes on top of another; false where that has room for none.
func (a *Adviser) add(lead int, common float64) bool {
	causes := a.lib.candidates[lead]
	if len(causes) == call.MaxCauses || causes[0] == a.lib.none() {
		return false
	}
	var of []signature.Hypothesis
	var weights []float64
	h := *a.likeliest(lead)
	for c := range a.lib.none() {
		if a.lib.prior[c] < common || slices.Contains(causes, c) {
			continue
		}
		for _, joined := range a.join(&h, causes, c) {
			if w, ok := a.relive(&joined); ok {
				of, weights = append(of, joined), append(weights, w)
			}
		}
	}
	if len(of) > 0 {
		a.b.Add(of, weights)
		a.drop()
	}
	return true
}

// likeliest is the hypothesis of a candidate that is believed most; nil where it
// never came to mind.
func (a *Adviser) likeliest(candidate int) (top *signature.Hypothesis) {
	most := 0.0
	for i, p := range a.b.P {
		if h := &a.b.Of[i]; h.Cause == candidate && (top == nil || p > most) {
			top, most = h, p
		}
	}
	return top
}

// join makes the hypotheses that a cause comes on top of another, between any two
// neighbouring severities of it; none where they came to mind before. The units have
// the one cause at either of its severities by turns.
func (a *Adviser) join(h *signature.Hypothesis, causes []int, cause int) (list []signature.Hypothesis) {
	l := a.lib
	first, last, ok := l.severities(cause)
	if !ok {
		return nil
	}
	all := append(slices.Clone(causes), cause)
	slices.Sort(all)
	candidate := l.candidate(all)
	if a.likeliest(candidate) != nil {
		return nil
	}
	ends := [2]int{h.Lo, h.Hi}
	if first == last {
		return []signature.Hypothesis{{Cause: candidate, Prior: l.priorOf(all), Lo: l.both(h.Lo, first), Hi: l.both(h.Hi, first)}}
	}
	share := l.priorOf(all) / float64(last-first)
	for u := first; u < last; u++ {
		list = append(list, signature.Hypothesis{
			Cause: candidate, Prior: share, Lo: l.both(ends[(u-first)%2], u), Hi: l.both(ends[(u-first+1)%2], u+1),
		})
	}
	return list
}

// relive takes the units of a new hypothesis through the call so far, as long as the
// readings speak for it.
func (a *Adviser) relive(h *signature.Hypothesis) (weight float64, ok bool) {
	a.grow()
	for _, u := range []int{h.Lo, h.Hi} {
		a.live[u] = shadow{call: a.lib.open(u)}
	}
	least := repro.Log(float64(unlikely * slices.Max(a.b.P)))
	fits := 0.0
	for _, c := range a.lib.told {
		fits += repro.Log(h.Tells(a.lib.so(c)))
	}
	for _, d := range a.deeds {
		for _, u := range []int{h.Lo, h.Hi} {
			if u == h.Lo || h.Lo != h.Hi {
				a.begin(u, d.Tick, d.weighed)
				a.do(u, d.Act, d.weighed)
			}
		}
		if !d.weighed {
			continue
		}
		fits += repro.Log(h.Likelihood(&instrument.All()[d.instrument], d.got, a.results, a.momentOf(d.instrument)))
		if a.b.Weight(h.Prior, fits) < least {
			return 0, false
		}
	}
	return a.b.Weight(h.Prior, fits), true
}
