package say

import (
	"slices"
	"strings"
)

var safetyWords = []string{"safety.danger", "safety.warning", "safety.caution", "safety.notice"}

// Warns reports whether a text has a safety word in it.
func Warns(s string) bool {
	return slices.ContainsFunc(safetyWords, func(id string) bool { return strings.Contains(s, Text(id)) })
}

// SafetyWord splits a warning in the language spoken from its safety word (the words are
// those of ANSI Z535, in Spanish as bilingual signs have them; from memory); a text
// without a safety word is a caution.
func SafetyWord(s string) (word, rest string) {
	for _, id := range safetyWords {
		w := Text(id)
		if after, found := strings.CutPrefix(s, w); found {
			return w, strings.TrimLeft(after, ":– ")
		}
	}
	return Text("safety.caution"), s
}
