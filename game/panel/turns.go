//go:build js

package panel

import (
	"slices"
	"strconv"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// turns are the steps after which a belief is to be read otherwise: at a verdict the
// evidence for it is complete, and after a repair readings show the repaired unit.
type turns struct {
	naming, mending []int
	steps           int
}

// The places of the words in the chart, and between two of a kind, in its own units.
const (
	namedY  = 11
	mendedY = 22
	wordsX  = 70
)

func (p *Panels) turnsOf(r *sim.Report) turns {
	named, mended := game.Turns(r, p.game.Call().Journal)
	return turns{named, mended, len(r.Steps)}
}

// named is the step of the last verdict, or the last step of a call without any.
func (t turns) named() int {
	if n := len(t.naming); n > 0 {
		return t.naming[n-1]
	}
	return t.steps - 1
}

// at is the word for the turn that a step is; false for a step that is none.
func (t turns) at(step int) (word string, is bool) {
	switch {
	case slices.Contains(t.naming, step):
		return say.Text("turn.named"), true
	case slices.Contains(t.mending, step):
		return say.Text("turn.mended"), true
	}
	return "", false
}

// after shades the chart from the first repair on.
func (t turns) after(plot beliefPlot) []dom.Node {
	if len(t.mending) == 0 {
		return nil
	}
	x := plot.x(t.mending[0])
	return []dom.Node{dom.SVG("rect", dom.Attrs{
		"class": "after", "x": dom.Decimals(x, 1), "y": strconv.Itoa(beliefTop),
		"width": dom.Decimals(plot.wide-beliefRight-x, 1), "height": strconv.Itoa(beliefHigh - beliefTop - beliefFoot),
	})}
}

// lines are an upright line for every turn, with its word where there is room.
func (t turns) lines(plot beliefPlot) (drawn []dom.Node) {
	draw := func(steps []int, y int, word string) {
		written := -float64(wordsX)
		for _, step := range steps {
			x := plot.x(step)
			drawn = append(drawn, dom.SVG("path", dom.Attrs{
				"class": "turn", "d": "M" + dom.Decimals(x, 1) + " " + strconv.Itoa(y-8) + "V" + strconv.Itoa(beliefHigh-beliefFoot),
			}))
			if x-written < wordsX {
				continue
			}
			written = x
			class, side := "axis word", 4.0
			if x+wordsX > plot.wide {
				class, side = "axis back", -4
			}
			drawn = append(drawn, dom.SVG("text", dom.Attrs{"class": class, "x": dom.Decimals(x+side, 1), "y": strconv.Itoa(y)}, word))
		}
	}
	draw(t.naming, namedY, say.Text("turn.named"))
	draw(t.mending, mendedY, say.Text("turn.mended"))
	return drawn
}

// words tell how the chart is to be read by its turns.
func (t turns) words() string {
	said := say.Text("turn.share-at-end")
	if len(t.naming) > 0 {
		said = say.Text("turn.share-as-named") + " " + say.Text("turn.judged")
	}
	if len(t.mending) > 0 {
		said += " " + say.Text("turn.after")
	}
	return said
}
