//go:build js

package panel

import "brinebench/sim"

// syncJournal makes the log and the readings anew when they have grown or the units have changed.
func (p *Panels) syncJournal() {
	if n := len(p.game.Call().Journal); n != p.journal {
		p.journal = n
		p.fillLog()
		p.fillReadings()
	}
}

// fillLog lists the acts of the call, newest first.
func (p *Panels) fillLog() {
	journal := p.game.Call().Journal
	if len(journal) == 0 {
		byID("log").become(el("p", attrs{"class": "none"}, "Nothing done yet."))
		return
	}
	l := el("ol", attrs{"class": "log", "reversed": ""})
	for i := len(journal) - 1; i >= 0; i-- {
		l.add(p.logLine(&journal[i]))
	}
	byID("log").become(l)
}

func (p *Panels) logLine(e *sim.Entry) node {
	line := el("li", attrs{"data-kind": string(e.Action.Kind)}, el("time", nil, minuteOf(e.Tick)), " ")
	if e.Unsafe {
		line.set("data-unsafe", "")
		line.add(el("strong", nil, "WARNING "))
	}
	line.add(e.Text)
	if e.Reading != nil {
		line.add(el("span", attrs{"class": "reading"}, " "+result(e.Reading, p.game.Look())))
	}
	return line
}
