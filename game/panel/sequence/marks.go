//go:build js

package sequence

import (
	"strings"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// told says what was answered to an exercise, and what is right: which position it asked for
// follows from that.
func (t *task) told(e *sim.Exercise, answered bool) dom.Node {
	mine, right := t.answerTo(e)
	list := dom.El("p", nil)
	if answered {
		list.Add(say.Text("cycle.yours")+": ", dom.El("strong", nil, orNone(mine)), ". ")
	}
	list.Add(say.Text("cycle.theirs")+": ", dom.El("strong", nil, orNone(right)), ".")
	return list
}

// answerTo is an answer and the right one, in words.
func (t *task) answerTo(e *sim.Exercise) (mine, right string) {
	a, unit := t.answers[e.ID()], t.page.Drill.Unit()
	switch e.Kind {
	case sim.SetSeats:
		var set sim.Seats
		for _, seat := range a.Seats {
			set[seat] = true
		}
		return seatNames(set), seatNames(unit.Right(e.Stop))
	case sim.TracePath:
		return passageNames(a.Path), passageNames(unit.Trace(e.Stop, e.Way))
	}
	return t.page.stopNameOr(a.Stop), t.page.stopName(e.Stop)
}

func passageNames(way []sim.Path) string {
	var names []string
	for _, p := range way {
		names = append(names, passageName(p))
	}
	return strings.Join(names, " → ")
}

func orNone(text string) string {
	if text == "" {
		return "–"
	}
	return text
}
