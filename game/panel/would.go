//go:build js

package panel

import (
	"slices"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// would lists what a test was to show by what may be wrong; truth marks what was. None
// where it was to tell nothing.
func (p *Panels) would(list []sim.Would, open bool, truth ...string) []dom.Node {
	switch {
	case len(list) == 0, len(list) == 1 && len(list[0].If) == 1:
		return nil
	case len(list) == 1:
		return []dom.Node{dom.El("p", dom.Attrs{"class": "none would"}, say.Text("would.alike"))}
	}
	var pairs []string
	for i := range list {
		var names []string
		for _, f := range list[i].If {
			name := faultTitle(f)
			if slices.Contains(truth, f.ID) {
				name = say.Text("would.true", name)
			}
			names = append(names, name)
		}
		pairs = append(pairs, strings.Join(names, "; "), shown(list[i].Shown, p.game.Look()))
	}
	box := dom.El("details", dom.Attrs{"class": "would"}, dom.El("summary", nil, say.Text("would.title")), dom.Pairs(pairs...))
	box.Flag("open", open)
	return []dom.Node{box}
}

// shown puts what a test may show into words: from the least number to the greatest, and
// what else may be seen.
func shown(list []sim.Reading, l game.Look) string {
	var words []string
	for i := range list {
		words = append(words, result(&list[i], l))
	}
	if len(list) > 1 && list[0].Text == "" {
		words = append([]string{span(words[0], words[1])}, words[2:]...)
	}
	return strings.Join(words, " / ")
}

// span goes from one quantity to another; their unit is told once.
func span(least, greatest string) string {
	if least == greatest {
		return least
	}
	number, unit, _ := strings.Cut(least, " ")
	if strings.HasSuffix(greatest, " "+unit) && strings.Count(greatest, " ") == strings.Count(least, " ") {
		least = number
	}
	return say.Text("would.span", least, greatest)
}
