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
// where it was to tell nothing. On a small screen it folds.
func (p *Panels) would(list []sim.Would, truth ...string) []dom.Node {
	switch {
	case len(list) < 2:
		return nil
	case sim.Alike(list):
		return []dom.Node{dom.El("p", dom.Attrs{"class": "none would"}, say.Text("would.alike"))}
	}
	var pairs []string
	for i := range list {
		w := &list[i]
		name := faultTitle(w.If)
		if slices.Contains(truth, w.If.ID) {
			name = say.Text("would.true", name)
		}
		pairs = append(pairs, name, shown(w.Shown, p.game.Look()))
	}
	box := dom.El("details", dom.Attrs{"class": "would"}, dom.El("summary", nil, say.Text("would.title")), dom.Pairs(pairs...))
	box.Flag("open", !dom.Narrow())
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
		span := words[0]
		if words[0] != words[1] {
			span = say.Text("would.span", words[0], words[1])
		}
		words = append([]string{span}, words[2:]...)
	}
	return strings.Join(words, say.Text("would.or"))
}
