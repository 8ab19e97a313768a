//go:build js

package panel

import (
	"strconv"

	"brinebench/game"
	"brinebench/sim"
)

func (p *Panels) setPace(text string) {
	if pace, err := strconv.ParseFloat(text, 64); err == nil {
		p.game.SetPace(pace)
	}
}

func (p *Panels) toggleSeek() {
	if p.game.Seeking() {
		p.game.SetPace(p.game.Pace())
	} else {
		p.game.Seek()
	}
}

func (p *Panels) syncPace() {
	for _, b := range all("[data-pace]") {
		pace, _ := strconv.ParseFloat(b.data("pace"), 64)
		b.pressed(pace == p.game.Pace() && !p.game.Seeking())
	}
	for _, b := range all("[data-act=next-event]") {
		b.pressed(p.game.Seeking())
	}
}

// syncTimes sets the words of the time bar; only text changes.
func (p *Panels) syncTimes() {
	v, l := p.game.View(), p.game.Look()
	byID("time-clock").text(l.Clock(v.Controller.ClockS))
	byID("time-station").text(stationInWords(v, p.game.Setup()))
	byID("time-used").text(game.Minutes(float64(int(p.game.Call().Minutes))))
	reached, behind := p.game.Behind()
	byID("time-reached").hide(!behind)
	if behind {
		byID("time-reached").text("This computer reaches " + decimals(reached, 0) + "×.")
	}
}

func stationInWords(v *sim.View, s *sim.Setup) string {
	c := v.Controller
	if c.Station < 0 || c.Station >= len(s.Stations) {
		return ""
	}
	name := s.Stations[c.Station].Name
	switch {
	case c.Moving:
		return "Moving to " + game.InSentence(name)
	case !c.Powered:
		return name + ", unplugged"
	case c.RemainingS > 0:
		return name + ", " + game.Duration(c.RemainingS) + " left"
	case c.DaysToRegen > 0:
		return name + ", regenerates in " + strconv.Itoa(c.DaysToRegen) + " d"
	}
	return name
}
