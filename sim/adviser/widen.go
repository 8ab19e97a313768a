package adviser

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/repro"
	"brinebench/sim/signature"
)

// widen brings to mind the candidates that add a cause to one of the likeliest. It
// reports whether there were any.
func (a *Adviser) widen() bool {
	const worthWidening, atMost = 0.2, 2
	var of []signature.Hypothesis
	var weights []float64
	belief, leads := a.Belief(), 0
	for lead := range belief {
		causes := a.lib.candidates[lead]
		if belief[lead] < worthWidening || len(causes) == call.MaxCauses || causes[0] == a.lib.none() || a.widened[lead] {
			continue
		}
		if leads++; leads > atMost {
			break
		}
		a.widened[lead] = true
		h := a.likeliest(lead)
		for c := range a.lib.none() {
			if joined, w, ok := a.join(h, causes, c); ok {
				of, weights = append(of, joined), append(weights, w)
			}
		}
	}
	if len(of) == 0 {
		return false
	}
	a.b.Add(of, weights)
	a.drop()
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

// join makes the hypothesis that a cause comes on top of another, and tells its
// weight; false where it is nothing new or can be dropped at once.
func (a *Adviser) join(h *signature.Hypothesis, causes []int, cause int) (joined signature.Hypothesis, weight float64, ok bool) {
	l := a.lib
	first, last, ok := l.severities(cause)
	if !ok || slices.Contains(causes, cause) {
		return joined, 0, false
	}
	all := append(slices.Clone(causes), cause)
	slices.Sort(all)
	joined = signature.Hypothesis{Cause: l.candidate(all), Prior: l.priorOf(all)}
	if slices.ContainsFunc(a.b.Of, func(x signature.Hypothesis) bool { return x.Cause == joined.Cause }) {
		return joined, 0, false
	}
	joined.Lo, joined.Hi = l.both(h.Lo, first), l.both(h.Hi, last)
	weight, ok = a.relive(&joined)
	return joined, weight, ok
}

// relive takes the units of a new hypothesis through the call so far, as long as the
// readings speak for it.
func (a *Adviser) relive(h *signature.Hypothesis) (weight float64, ok bool) {
	a.grow()
	for _, u := range []int{h.Lo, h.Hi} {
		a.live[u].call = a.lib.open(u)
	}
	least := repro.Log(float64(unlikely * slices.Max(a.b.P)))
	fits := 0.0
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
			a.live[h.Lo].call, a.live[h.Hi].call = nil, nil
			return 0, false
		}
	}
	return a.b.Weight(h.Prior, fits), true
}
