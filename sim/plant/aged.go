package plant

import (
	"math"

	"brinebench/sim/unit"
)

// Aged is Start for a unit that has been in a condition for longer than its history goes
// back: its brine tank is as regenerations in that condition leave it in the end, with what
// salt the unit starts with. A charge of good brine from before would hide for a week that
// there is no salt, no water to it, or none drawn.
func (m *Model) Aged(cond Condition) *State {
	const most, sameM, same = 4, 0.01, 0.05
	s := m.Start(cond)
	was := s.Clone()
	was.NoDraw = true
	for range most {
		before := m.Tank(was)
		m.regenerate(was)
		after := m.Tank(was)
		if math.Abs(after.LevelM-before.LevelM) < sameM && math.Abs(after.Saturation-before.Saturation) < same {
			break
		}
	}
	m.Exchange(was)
	salt, hanging := s.Tank.SolidMol, s.Tank.HangingMol
	s.Tank = was.Tank
	s.Tank.SolidMol, s.Tank.HangingMol = salt, hanging
	m.feel(s)
	return s
}

// regenerate takes a unit through a regeneration, and gives what salt there is the rest of
// the night.
func (m *Model) regenerate(s *State) {
	const nightS = 6 * unit.Hour
	s.StartNow = true
	m.Run(s, nightS)
}
