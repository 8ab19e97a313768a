//go:build js

package panel

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// syncJournal makes the log and the readings anew when they have grown or the units have changed.
func (p *Panels) syncJournal() {
	shown := journalShown{len(p.game.Call().Journal), p.game.Told(), p.game.Look().SI}
	if shown != p.journal {
		p.journal = shown
		p.fillLog()
		p.fillReadings()
		p.fillOrder()
		p.fillInterview()
		p.fillTopics()
		p.fillHelp()
	}
}

// journalShown is what the log and the readings on the page depend on.
type journalShown struct {
	lines, told int
	si          bool
}

// fillLog lists the acts of the call, newest first.
func (p *Panels) fillLog() {
	journal := p.game.Call().Journal
	if len(journal) == 0 {
		byID("log").become(el("p", attrs{"class": "none"}, say.Text("log.none")))
		return
	}
	l := el("ol", attrs{"class": "log", "reversed": ""})
	for i := len(journal) - 1; i >= 0; i-- {
		l.add(p.logLine(&journal[i]))
	}
	byID("log").become(l)
}

func (p *Panels) logLine(e *sim.Entry) node {
	what := el("span", nil)
	line := el("li", attrs{"data-kind": string(e.Action.Kind)}, el("span", attrs{"class": "minute"}, say.Text("minutes", minuteOf(e.Tick))), what)
	switch {
	case e.Unsafe:
		line.set("data-unsafe", "")
		word, rest := safetyWord(say.Sim(e.Text))
		what.add(el("strong", nil, word), " "+rest)
	case e.Text == "":
		what.add(say.Text("log.doing", say.Sim(p.game.Call().BusyText)))
	default:
		what.add(say.Sim(e.Text))
	}
	if e.Reading != nil {
		what.add(el("span", attrs{"class": "reading"}, " "+result(e.Reading, p.game.Look())))
	}
	return line
}
