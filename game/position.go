package game

import "brinebench/sim"

// Position says where the valve stands: at a position, or between two.
func Position(v *sim.View, s *sim.Setup) string {
	c := v.Controller
	if c.Station < 0 || c.Station >= len(s.Stations) {
		return ""
	}
	name := s.Stations[c.Station].Name
	switch {
	case c.Alarm && c.Powered:
		return "Alarm: the drum's position is lost"
	case c.Moving && !c.Powered:
		return "Stopped on the way to " + InSentence(name)
	case c.Moving:
		return "Moving to " + InSentence(name)
	}
	return name
}

// circumstances say what a reading is worth nothing without: where the valve
// stood and whether water came to it.
func circumstances(v *sim.View, s *sim.Setup) string {
	where := InSentence(Position(v, s))
	if where != "" && !v.Controller.Moving {
		where = "in " + where
	}
	switch {
	case v.ShutOff:
		return where + ", supply shut off"
	case v.Bypass == "bypass":
		return where + ", bypassed"
	case v.Bypass == "shut":
		return where + ", bypass shut"
	}
	return where
}
