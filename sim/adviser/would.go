package adviser

import (
	"cmp"
	"slices"

	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// Would is what a test was to show if a candidate was what is wrong, by all of its
// severities that are still believed in.
type Would struct {
	ID    string               // of Library.Candidates
	Shown []instrument.Reading // as the instrument shows them: the least and the greatest value, equal or not, then what else may be seen
}

// would tells what a test that has just been made was to show by every candidate that is
// followed: at its start or its end, for what changes meanwhile may be read at any moment.
func (a *Adviser) would(in int) (list []Would) {
	for c, id := range a.lib.Candidates() {
		if shown := a.shownBy(&instrument.All()[in], c, a.momentOf(in), a.results); shown != nil {
			list = append(list, Would{id, shown})
		}
	}
	return list
}

// shownBy is what the units of a candidate show of an instrument; nil where it is not
// followed.
func (a *Adviser) shownBy(in *instrument.Instrument, candidate int, wants ...signature.Wants) []instrument.Reading {
	var values, sights []instrument.Reading
	for _, h := range a.b.Of {
		if h.Cause != candidate {
			continue
		}
		for _, u := range [2]int{h.Lo, h.Hi} {
			for _, want := range wants {
				r, ok := want(u)
				switch r = in.Rounded(r); {
				case !ok:
				case r.Seen == "":
					values = append(values, r)
				case !slices.Contains(sights, r):
					sights = append(sights, r)
				}
			}
		}
	}
	if len(values) == 0 {
		return sights
	}
	byValue := func(r, s instrument.Reading) int { return cmp.Compare(r.Value, s.Value) }
	return append([]instrument.Reading{slices.MinFunc(values, byValue), slices.MaxFunc(values, byValue)}, sights...)
}
