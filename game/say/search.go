package say

import (
	"strings"
	"unicode"
)

// HasAll tells whether each of the words, or what it begins, is in a text made Plain.
func HasAll(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, " "+w) {
			return false
		}
	}
	return true
}

// accents are those of the page's languages.
var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n")

// Plain is a text as it is searched, a space before each word: whoever types no accents
// finds what has them.
func Plain(text string) string {
	split := func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }
	return " " + strings.Join(strings.FieldsFunc(accents.Replace(strings.ToLower(text)), split), " ")
}

// Find returns where in a text words begin that begin like one of some made Plain, and
// where that ends, in UTF-16 units: both languages have no letter that takes two.
func Find(text string, words []string) (spans [][2]int) {
	letters := []rune(accents.Replace(strings.ToLower(text)))
	inWord := false
	for i := range letters {
		is := unicode.IsLetter(letters[i]) || unicode.IsDigit(letters[i])
		if is && !inWord {
			for _, w := range words {
				if n := len([]rune(w)); i+n <= len(letters) && string(letters[i:i+n]) == w {
					spans = append(spans, [2]int{i, i + n})
				}
			}
		}
		inWord = is
	}
	return spans
}
