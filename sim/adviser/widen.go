package adviser

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/signature"
)

// widen brings to mind the candidates that add a cause to one of the likeliest.
func (a *Adviser) widen() {
	const rounds = 4
	if a.rounds++; a.rounds > rounds {
		return
	}
	for _, lead := range a.leads() {
		a.add(lead, func(int) bool { return true })
	}
}

// leads are the candidates that are believed in enough to think of more beside them.
func (a *Adviser) leads() (leads []int) {
	const worthWidening, most = 0.2, 2
	for lead, p := range a.Belief() {
		if p >= worthWidening && len(leads) < most {
			leads = append(leads, lead)
		}
	}
	return leads
}

// Doubt brings to mind that there may be more wrong than the likeliest candidate: any
// of the commoner causes besides.
func (a *Adviser) Doubt() {
	const common = 1.0 / 170
	a.add(Lead(a.Belief()), func(c int) bool { return a.lib.prior[c] >= common })
}

// suspect brings back to mind what can be wrong with a part in which something was seen
// that nobody had thought of any more: by itself, and beside the likeliest candidates.
// What is held in the hand outweighs what has been read before.
func (a *Adviser) suspect(part plant.Part) {
	at := func(c int) bool { return fault.Catalogue()[c].Where == part }
	for c := range a.lib.none() {
		if at(c) && !a.b.FollowsCause(c) {
			a.consider(slices.DeleteFunc(slices.Clone(a.lib.singles), func(h signature.Hypothesis) bool { return h.Cause != c }))
		}
	}
	for _, lead := range a.leads() {
		a.add(lead, at)
	}
}

// add adds to the belief the candidates that one of some causes comes on top of
// another, where that has room for more.
func (a *Adviser) add(lead int, of func(cause int) bool) {
	causes := a.lib.candidates[lead]
	if len(causes) == call.MaxCauses || causes[0] == a.lib.none() {
		return
	}
	var list []signature.Hypothesis
	h := *a.likeliest(lead)
	for c := range a.lib.none() {
		if of(c) && !slices.Contains(causes, c) {
			list = append(list, a.join(&h, causes, c)...)
		}
	}
	a.consider(list)
}

// consider adds hypotheses to the belief for which the readings so far speak.
func (a *Adviser) consider(list []signature.Hypothesis) {
	var of []signature.Hypothesis
	var weights []float64
	for i := range list {
		if w, ok := a.relive(&list[i]); ok {
			of, weights = append(of, list[i]), append(weights, w)
		}
	}
	if len(of) > 0 {
		a.b.Add(of, weights)
		a.drop()
	}
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
// neighbouring severities of it; none where they are in mind. The units have
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
	if a.b.FollowsCause(candidate) {
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
// readings speak for it or one that is still to come may.
func (a *Adviser) relive(h *signature.Hypothesis) (weight float64, ok bool) {
	a.grow()
	for _, u := range []int{h.Lo, h.Hi} {
		a.live[u] = shadow{call: a.lib.open(u)}
	}
	least, mostRaised := repro.Log(float64(unlikely*slices.Max(a.b.P))), signature.MostRaised()
	fits := 0.0
	for _, c := range a.lib.told {
		fits += repro.Log(h.Tells(c.Stray, a.lib.so(c)))
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
		if a.b.Weight(h.Prior, fits) < least-mostRaised {
			return 0, false
		}
	}
	weight = a.b.Weight(h.Prior, fits)
	return weight, weight >= least
}
