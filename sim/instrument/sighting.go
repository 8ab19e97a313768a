package instrument

import (
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// seen are the things that can be seen in a part that was opened: sound, in part
// as it should not be, and badly.
type seen [3]string

var (
	bore  = seen{"clear", "partly blocked with grit", "blocked with grit"}
	disc  = seen{"discs and seats sound", "a seat is marked and weeps", "a seat is cut through and does not close"}
	float = seen{"float at its proper height", "float sits a little low", "float sits far too low"}
	plug  = seen{"turns and closes tight", "does not close quite tight", "stands part open in service"}
)

// look is the sighting of an opened part, by how much of it is as it should be.
// Its minutes are those of opening the part, which the call adds.
func look(id, name string, where plant.Part, words seen, sound func(c *plant.Condition) float64) Instrument {
	return Instrument{
		ID: id, Name: name, What: "What there is to see.", Where: where, Minutes: 0,
		seen: func(_ *plant.Model, s *plant.State) string {
			switch free := sound(&s.Cond); {
			case free > 0.9:
				return words[0]
			case free > 0.35:
				return words[1]
			}
			return words[2]
		},
	}
}

// LookAt returns the sighting that opening a part gives.
func LookAt(p plant.Part) (*Instrument, bool) {
	for i := range all {
		if all[i].Where == p && len(all[i].ID) > 5 && all[i].ID[:5] == "look-" {
			return &all[i], true
		}
	}
	return nil, false
}

// NeedsOpening reports whether the instrument is a look into an opened part.
func (in *Instrument) NeedsOpening() bool { return len(in.ID) > 5 && in.ID[:5] == "look-" }

// saltSeen is the salt from above: a bridge looks like a full tank.
func saltSeen(m *plant.Model, s *plant.State) string {
	top, level := m.Tank(s).Pile.TopM, m.Tank(s).LevelM
	switch {
	case top < 0.02:
		return "no salt"
	case top < level:
		return "salt under water only"
	case top < 0.3*m.Config().Brine.HeightM:
		return "low, dry on top"
	}
	return "plenty, dry on top"
}

func saltProbed(m *plant.Model, s *plant.State) string {
	pile := m.Tank(s).Pile
	switch {
	case pile.BottomM > pile.LooseTopM+0.05:
		return "rod breaks through a crust into a hollow"
	case pile.LooseTopM < 0.02:
		return "rod strikes the floor at once"
	}
	return "salt loose and solid to the floor"
}

func drainSeen(m *plant.Model, s *plant.State) string {
	switch q := m.Flow(s, plant.Drain); {
	case q < 0.005*unit.GPM:
		return NothingRuns
	case q < 0.15*unit.GPM:
		return "a trickle"
	case q < 1*unit.GPM:
		return "a thin stream"
	}
	return "a full stream"
}
