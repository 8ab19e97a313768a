//go:build js

package panel

import (
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// tell puts what has happened into the live region, the last one on top, and an
// act that was stopped as unsafe into the alert.
func (p *Panels) tell(notices []game.Notice) {
	var said []any
	for _, n := range notices {
		if n.Kind == game.NoticeUnsafe {
			p.alert(say.Sim(n.Text))
			continue
		}
		said = append(said, dom.El("span", dom.Attrs{"class": string(n.Kind)}, say.Ended(sentence(n.Text, n.Reading, p.game.Look()))))
	}
	if len(said) > 0 {
		p.say(said...)
	}
}

// live is the region that is read aloud. What comes while the last words are still
// fresh waits, and only the latest of it is said.
type live struct {
	waiting []any // nodes and texts
	saidMS  float64
}

const (
	liveEveryMS = 1000
	liveMost    = 3 // notices said together
)

// say has words read aloud, at once or when it is their turn.
func (p *Panels) say(words ...any) {
	l := &p.live
	l.waiting = append(l.waiting, words...)
	l.waiting = l.waiting[max(0, len(l.waiting)-liveMost):]
	p.syncLive()
}

func (p *Panels) syncLive() {
	l := &p.live
	if l.waiting == nil || p.nowMS-l.saidMS < liveEveryMS {
		return
	}
	live := dom.ByID("live")
	live.Become()
	for _, w := range l.waiting {
		live.Add(w, " ")
	}
	live.Flag("data-warns", say.Warns(live.Get("textContent").String()))
	l.waiting, l.saidMS = nil, p.nowMS
}

func (p *Panels) alert(text string) {
	word, rest := say.SafetyWord(text)
	dom.ByID("alert").Become(dom.El("div", dom.Attrs{"class": "hazard"},
		dom.El("p", nil, dom.El("strong", nil, word), " "+rest),
		dom.Button(say.Text("close"), dom.Attrs{"data-act": "dismiss"})))
}

// sentence is a journal line with its reading, when the line does not hold it yet.
func sentence(text string, r *sim.Reading, l game.Look) string {
	if r != nil {
		if res := result(r, l); res != "" {
			return named(say.Sim(r.Name), res)
		}
	}
	return say.Sim(text)
}

// named is a result after the name of its test, which may be a question.
func named(name, result string) string {
	if strings.HasSuffix(name, "?") {
		return name + " – " + result
	}
	return name + ": " + result
}

// result is a reading in words: the number in the units chosen and the remark.
func result(r *sim.Reading, l game.Look) string {
	switch {
	case r.Unit == sim.UnitSpan && strings.HasPrefix(r.Instrument, "clock-"):
		return clockError(r.Value)
	case r.Unit == sim.UnitNone && r.Text != "":
		return say.Sim(r.Text)
	case r.Instrument == sim.ChlorideStrip && r.Text == "" && r.Value < sim.StripLeastKgM3:
		return say.Text("reading.under", l.Quantity(sim.StripLeastKgM3, r.Unit))
	case r.Unit == sim.UnitWeight && r.Value == 0:
		return say.Text("ask.none")
	case r.Unit == sim.UnitWeight: // from memory
		return say.Text("ask.about", l.Quantity(r.Value, r.Unit))
	case r.Text == "":
		return l.Quantity(r.Value, r.Unit)
	}
	return l.Quantity(r.Value, r.Unit) + " – " + say.Sim(r.Text)
}

// syncBusy shows the act that is under way and how far it has come.
func (p *Panels) syncBusy() {
	busy := p.game.Busy()
	p.main.Flag("data-busy", busy)
	dom.ByID("busy").Hide(!busy)
	if !busy {
		return
	}
	doing := say.Sim(p.game.Call().BusyText)
	if next, waits := p.instrument(p.game.Next()); waits {
		doing = say.Text("busy.then", doing, say.Sim(next.Name))
	}
	dom.ByID("busy-text").SetText(doing)
	dom.ByID("busy-bar").Value.Set("value", p.game.BusyDone())
}

// clockError tells by how many seconds a clock is fast, or slow below nothing.
func clockError(s float64) string {
	switch {
	case s > 0:
		return say.Text("clock.fast", game.TimeSpan(s))
	case s < 0:
		return say.Text("clock.slow", game.TimeSpan(-s))
	}
	return say.Text("clock.right")
}
