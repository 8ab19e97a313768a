package instrument

import "brinebench/sim/plant"

const inDraw = "Brine draw or refill."

var brineTests = []Instrument{
	{
		ID: "brine-draw", Name: "Brine line flow, tape and watch",
		What:  "How fast the level in the brine well falls (draw, positive) or rises (water running into the tank, negative), over the time of the test.",
		Where: plant.PartBrineLine, Needs: inDraw, Minutes: 3, Quantity: Flow, Resolution: 0.01 * gpm, Noise: 0.004 * gpm, Relative: 0.03,
		Signed: true,
		value: func(m *plant.Model, s *plant.State) float64 {
			return m.TankDraw(s)
		},
		booked: func(l *plant.Ledger) float64 { return l.DrawnM3 - l.DryM3 - l.RefilledM3 },
	},
	{
		ID: "brine-level", Name: "Brine level, tape", What: "Height of the liquid in the brine well above the tank's floor. Fresh water that takes up salt rises a little for an hour.",
		Where: plant.PartBrineTank, Minutes: 1, Quantity: Length, Resolution: 0.005, Noise: 0.003,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Tank(s).LevelM },
	},
	{
		ID: "brine-strength", Name: "Brine strength, hydrometer", What: "Strength of the brine in the well as a fraction of saturation.",
		Where: plant.PartBrineTank, Minutes: 2, Quantity: Fraction, Resolution: 0.01, Noise: 0.01, Most: 1,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Tank(s).Saturation },
	},
	{
		ID: "salt-look", Name: "Salt, look into the tank", What: "How high the salt seems to stand, seen from above.",
		Where: plant.PartSalt, Minutes: 1, seen: saltSeen,
	},
	{
		ID: "salt-probe", Name: "Salt, push a rod through it", What: "Whether the salt stands on the floor all the way down.",
		Where: plant.PartSalt, Minutes: 2, Plain: true, seen: saltProbed,
	},
	{
		ID: "line-look", Name: "Look into the brine line", What: "What runs through the clear tube just now: brine, water, bubbles.",
		Where: plant.PartBrineLine, Minutes: 1, seen: lineSeen,
	},
	{
		ID: "bed-depth", Name: "Bed depth, lamp behind the tank", What: "Where the shadow of the settled bed ends, above the tank's foot.",
		Where: plant.PartBed, Needs: "A bed at rest: service.", Minutes: 2, Quantity: Length, Resolution: 0.02, Noise: 0.01,
		value: func(m *plant.Model, s *plant.State) float64 { return s.BedDepthM },
	},
}

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

// DrawnClear is what is seen in a brine line that draws as it should.
const DrawnClear = "brine runs up, no bubbles"

func saltProbed(m *plant.Model, s *plant.State) string {
	pile := m.Tank(s).Pile
	switch {
	case pile.BottomM > pile.LooseTopM+0.05:
		return "rod breaks through a crust into a hollow"
	case pile.LooseTopM < 0.02:
		return "rod strikes the floor at once"
	case s.Cond.SaltMush > 0.5:
		return "rod sticks in a stiff paste of fine salt near the floor"
	}
	return "salt loose and solid to the floor"
}

func lineSeen(m *plant.Model, s *plant.State) string {
	air := s.Air.Share
	switch q := m.Flow(s, plant.BrineLine); {
	case q > -0.01*gpm && q < 0.01*gpm && air == 0:
		return "stands still"
	case air > 0.9:
		return "air, hardly a drop"
	case air > 0:
		return "bubbles run up with the brine"
	case q > 0:
		return DrawnClear
	}
	return "water runs down"
}
