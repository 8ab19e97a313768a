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
	case c.Alarm && v.Face.Powered:
		return "Alarm: the drum's position is lost"
	case c.Moving && !v.Face.Powered:
		return "Stopped on the way to " + InSentence(name)
	case c.Moving:
		return "Moving to " + InSentence(name)
	}
	return name
}

// Face says in words what the controller's face shows of power and time beside the
// clock, "" when all is well.
func Face(v *sim.View) string {
	switch {
	case !v.Controller.Powered:
		return "dark, unplugged"
	case !v.Face.Powered:
		return "dark, no power"
	case v.Face.ClockLost:
		return "clock not set"
	}
	return ""
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
