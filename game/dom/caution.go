//go:build js

package dom

import "brinebench/game/say"

// Cautions lists hazards in the language spoken, each with its safety word set apart.
func Cautions(said ...string) Node {
	l := El("ul", Attrs{"class": "cautions"})
	for _, s := range said {
		word, rest := say.SafetyWord(s)
		l.Add(El("li", nil, El("strong", nil, word), " "+rest))
	}
	return l
}
