//go:build js

package panel

import (
	"strconv"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

func (p *Panels) setPace(text string) {
	if pace, err := strconv.ParseFloat(text, 64); err == nil && !p.stopped() {
		p.game.SetPace(pace)
	}
}

// stopped reports whether the class lets nothing be done here, and says why.
func (p *Panels) stopped() bool {
	if p.class == nil || p.class.Stops() == "" {
		return false
	}
	p.refused(p.class.Stops())
	return true
}

func (p *Panels) toggleSeek() {
	switch {
	case p.game.Seeking():
		p.game.SetPace(p.game.Pace())
	case !p.stopped():
		p.game.Seek()
	}
}

func (p *Panels) syncPace() {
	closed := p.game.Call().Finished // its minutes count no more
	for _, b := range dom.All("[data-pace]") {
		pace, _ := strconv.ParseFloat(b.Data("pace"), 64)
		b.Press(pace == p.game.Pace() && !p.game.Seeking())
		b.Disable(closed)
	}
	for _, b := range dom.All("[data-act=next-event]") {
		b.Press(p.game.Seeking())
		b.Disable(closed)
	}
}

// syncTimes sets the words of the time bar; only text changes.
func (p *Panels) syncTimes() {
	v, l := p.game.View(), p.game.Look()
	p.syncClock(v, l)
	dom.ByID("time-station").SetText(stationInWords(v, p.game.Setup()))
	dom.ByID("time-used").SetText(say.Text("time.used", wholeMinutes(p.game.Call().Minutes), tokens(costOf(p.game.Call()))))
	reached, behind := p.game.Behind()
	dom.ByID("time-reached").Hide(!behind)
	if behind {
		dom.ByID("time-reached").SetText(say.Text("time.reached", say.Number(reached, 0)))
	}
}

// syncClock sets the clock as the controller's face has it: dark without power, and
// blinking beside words when it has lost the time. It stands while time does.
func (p *Panels) syncClock(v *sim.View, l game.Look) {
	name, clock := say.Text("time.clock"), dom.ByID("time-clock")
	if v.Face.Powered {
		clock.SetText(l.Clock(v.Controller.ClockS))
		if v.Face.ClockLost {
			name = say.Text("time.not-set")
		}
	} else {
		clock.SetText(say.Text("time.dark"))
	}
	dom.ByID("time-clock-name").SetText(name)
	clock.Flag("data-dark", !v.Face.Powered)
	clock.Flag("data-blinks", v.Face.Powered && v.Face.ClockLost && p.game.Speed() > 0)
}

// stationInWords names the position; with the time that is left there is room for
// what it is for now only.
func stationInWords(v *sim.View, s *sim.Setup) string {
	c := v.Controller
	where := game.Position(v, s)
	switch {
	case !c.Powered && c.Moving:
		return say.Text("station.unplugged-between", game.InSentence(say.Sim(s.Stations[c.Station].Name)))
	case !c.Powered:
		return say.Text("station.unplugged", where)
	case !v.Face.Powered:
		return say.Text("station.no-power", where)
	case c.Moving:
		return where
	case c.RemainingS > 0:
		return say.Text("station.left", viewmodel.UnderWay(where, v), say.TimeLeft(c.RemainingS))
	case c.DaysToRegen > 0:
		return say.Text("station.regenerates", c.DaysToRegen, where)
	case c.DaysToRegen == 0:
		return say.Text("station.regenerates-soon", where)
	}
	return where
}
