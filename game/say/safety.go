package say

import "strings"

// SafetyWord splits a warning in the language spoken from its safety word (the words are
// those of ANSI Z535, in Spanish as bilingual signs have them; from memory); a text
// without a safety word is a caution.
func SafetyWord(s string) (word, rest string) {
	for _, id := range []string{"safety.danger", "safety.warning", "safety.caution", "safety.notice"} {
		w := Text(id)
		if after, found := strings.CutPrefix(s, w); found {
			return w, strings.TrimLeft(after, ":– ")
		}
	}
	return Text("safety.caution"), s
}
