//go:build js

package bench

import (
	"strings"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/sim"
)

// witnessed is what may be otherwise at the next event.
type witnessed struct {
	moving, draws, seated, floatShut bool
	station                          int
}

// witness takes down every unit's state as time is let run to the next event.
func (p *Page) witness() {
	p.before = nil
	for i := range p.Bench.Units() {
		p.before = append(p.before, witnessedOf(p.Bench.View(i, false)))
	}
}

func witnessedOf(v *sim.View) witnessed {
	c := &v.Controller
	return witnessed{c.Moving, c.DrawUnderWay, v.Tank.AirCheckSeated, v.Tank.FloatShut, c.Station}
}

// syncEvent tells what time has stopped at.
func (p *Page) syncEvent() {
	b := p.Bench
	if p.before == nil || b.Seeking() {
		return
	}
	before, told := p.before, []string{}
	p.before = nil
	if len(before) != len(b.Units()) {
		return
	}
	for i, was := range before {
		for _, text := range p.happened(i, was) {
			told = append(told, p.ofUnit(i, text))
		}
	}
	if len(told) > 0 {
		p.tell(strings.Join(told, " "))
	}
}

// happened says what is otherwise with a unit than it was.
func (p *Page) happened(unit int, was witnessed) (told []string) {
	v := p.Bench.View(unit, false)
	is := witnessedOf(v)
	add := func(id string, args ...any) { told = append(told, say.Text(id, args...)) }
	if stations := p.Bench.Unit(unit).Setup().Stations; is.station != was.station || is.moving != was.moving {
		id := map[bool]string{true: "notice.leaves", false: "notice.reached"}[is.moving]
		if is.station >= 0 && is.station < len(stations) {
			add(id, game.InSentence(say.Sim(stations[is.station].Name)))
		}
	}
	if is.draws && !was.draws {
		add("notice.draw")
	}
	if is.seated != was.seated {
		add(map[bool]string{true: "notice.seated", false: "notice.free"}[is.seated])
	}
	if is.floatShut != was.floatShut {
		add(map[bool]string{true: "notice.float-shut", false: "notice.float-open"}[is.floatShut])
	}
	return told
}
