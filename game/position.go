package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// Position says where the valve stands: at a position, or between two.
func Position(v *sim.View, s *sim.Setup) string {
	c := v.Controller
	if c.Station < 0 || c.Station >= len(s.Stations) {
		return ""
	}
	name := say.Sim(s.Stations[c.Station].Name)
	switch {
	case c.Alarm && v.Face.Powered:
		return say.Text("position.lost")
	case c.Moving && !v.Face.Powered:
		return say.Text("position.stopped", InSentence(name))
	case c.Moving:
		return say.Text("position.moving", InSentence(name))
	}
	return name
}

// Face says in words what the controller's face shows of power and time beside the
// clock, "" when all is well.
func Face(v *sim.View) string {
	switch {
	case !v.Controller.Powered:
		return say.Text("face.unplugged")
	case !v.Face.Powered:
		return say.Text("face.no-power")
	case v.Face.ClockLost:
		return say.Text("face.not-set")
	}
	return ""
}

// circumstances are those of a reading.
type circumstances struct {
	controller sim.ControllerView
	face       sim.Face
	bypass     string
	shutOff    bool
	from       int // station at which it was begun
}

// words say what a reading is worth nothing without: where the valve
// stood and whether water came to it.
func (c *circumstances) words(s *sim.Setup) string {
	where := InSentence(Position(&sim.View{Controller: c.controller, Face: c.face}, s))
	if where != "" && !c.controller.Moving {
		where = say.Text("during.in", where)
		if c.from != c.controller.Station && c.from < len(s.Stations) {
			where = say.Text("during.turned", InSentence(say.Sim(s.Stations[c.from].Name)), where)
		}
	}
	switch {
	case c.shutOff:
		return say.Text("during.shut-off", where)
	case c.bypass == "bypass":
		return say.Text("during.bypassed", where)
	case c.bypass == "shut":
		return say.Text("during.bypass-shut", where)
	}
	return where
}
