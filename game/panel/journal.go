//go:build js

package panel

import (
	"brinebench/game/dom"
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
		dom.ByID("log").Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("log.none")))
		return
	}
	l := dom.El("ol", dom.Attrs{"class": "log", "reversed": ""})
	for i := len(journal) - 1; i >= 0; i-- {
		l.Add(p.logLine(&journal[i]))
	}
	dom.ByID("log").Become(l)
}

func (p *Panels) logLine(e *sim.Entry) dom.Node {
	what := dom.El("span", nil)
	line := dom.El("li", dom.Attrs{"data-kind": string(e.Action.Kind)}, dom.El("span", dom.Attrs{"class": "minute"}, say.Text("minutes", minuteOf(e.Tick))), what)
	switch {
	case e.Unsafe:
		line.SetAttr("data-unsafe", "")
		word, rest := say.SafetyWord(say.Sim(e.Text))
		what.Add(dom.El("strong", nil, word), " "+rest)
	case e.Text == "":
		what.Add(say.Text("log.doing", say.Sim(p.game.Call().BusyText)))
	default:
		what.Add(say.Sim(e.Text))
	}
	if e.Reading != nil {
		what.Add(dom.El("span", dom.Attrs{"class": "reading"}, " "+result(e.Reading, p.game.Look())))
	}
	return line
}
