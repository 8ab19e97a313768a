package signature

import "brinebench/sim/plant"

// Library holds what every unit of the grid would show on one installation.
type Library struct {
	Units      []Unit
	Signatures []Signature // by unit
}

// Make lives through the history of every unit up to the call and through a
// regeneration; progress, if given, hears how far it has come, 0..1.
func Make(m *plant.Model, historyS float64, progress func(done float64)) *Library {
	l := &Library{Units: Units()}
	swift, coarse := m.Swift(), m.Coarse()
	for i, u := range l.Units {
		l.Signatures = append(l.Signatures, Of(coarse, Live(swift, u.Cond, historyS)))
		if progress != nil {
			progress(float64(i+1) / float64(len(l.Units)))
		}
	}
	return l
}
