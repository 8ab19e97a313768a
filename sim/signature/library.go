package signature

import (
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// Library holds what every unit of the grid would show on one installation.
type Library struct {
	Units      []Unit
	Signatures []Signature // by unit
	Prior      []float64   // by cause
}

// Make lives through the history of every unit up to the call and through a
// regeneration; progress, if given, hears how far it has come, 0..1.
func Make(f *scenario.File, m *plant.Model, progress func(done float64)) *Library {
	return made(f, m, Units(m.Config()), progress)
}

// MakeSmall is Make of one unit for each cause: at the middle of its severities where
// it grows, as a technician meets it, else at its worst: what sticks sticks.
func MakeSmall(f *scenario.File, m *plant.Model, progress func(done float64)) *Library {
	all := Units(m.Config())
	var units []Unit
	for i, j := 0, 0; i < len(all); i = j {
		for j = i; j < len(all) && all[j].Cause == all[i].Cause; j++ {
		}
		at := (i + j) / 2
		if c := all[i].Cause; c < len(fault.Catalogue()) && fault.Catalogue()[c].Onset == fault.Steady {
			at = j - 1
		}
		units = append(units, all[at])
	}
	return made(f, m, units, progress)
}

func made(f *scenario.File, m *plant.Model, units []Unit, progress func(done float64)) *Library {
	l := &Library{Units: units, Prior: Prior(m.Config())}
	past, tour := NewPast(f, m), m.Coarse()
	for i := range l.Units {
		l.Signatures = append(l.Signatures, Of(tour, past.Live(&l.Units[i])))
		if progress != nil {
			progress(float64(i+1) / float64(len(l.Units)))
		}
	}
	return l
}
