package plant

import "brinebench/sim/unit"

// Happening is what a person at a unit may wait for: a change of any of it is an event.
type Happening struct {
	Moving         bool // the drum is in motion
	AirCheckSeated bool
	FloatShut      bool
	DrawUnderWay   bool // the controller has brine draw run for drawShowsS: a unit that draws shows it
}

// drawShowsS is how long a draw takes to show at the brine level: the tenth part of a
// gallon and more is gone by then (common practice, no source).
const drawShowsS = 3 * unit.Minute

// Happening is what happens at this moment.
func (m *Model) Happening(s *State) Happening {
	c := &s.Control
	return Happening{
		Moving: c.Moving, AirCheckSeated: s.Tank.AirCheckSeated, FloatShut: s.Tank.FloatShut,
		DrawUnderWay: c.Regenerating && !c.Moving && m.cfg.Program.Stops[c.Station].ID == "brine" && c.StationS >= drawShowsS,
	}
}

// Since counts what is otherwise than it was.
func (h Happening) Since(was Happening) (n int) {
	for _, changed := range []bool{
		h.Moving != was.Moving, h.AirCheckSeated != was.AirCheckSeated, h.FloatShut != was.FloatShut, h.DrawUnderWay != was.DrawUnderWay,
	} {
		if changed {
			n++
		}
	}
	return n
}
