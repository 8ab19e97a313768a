// Package say holds every word of the page in each of its languages: the page's
// own texts by id, and what the engine says by its English, which stays as it is
// in recordings, hashes and comparisons. What language is spoken changes nothing
// but what is read.
package say

import (
	"fmt"
	"strconv"
	"strings"
)

// Lang is a language of the page, by its BCP 47 tag.
type Lang string

// The languages.
const (
	English Lang = "en"
	Spanish Lang = "es"
)

// Langs are all of them, the one that others fall back on first.
var Langs = []Lang{English, Spanish}

// Named finds the language of a tag such as "es-MX"; English for one that the
// page does not speak.
func Named(tag string) Lang {
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	for _, l := range Langs {
		if string(l) == primary {
			return l
		}
	}
	return English
}

// spoken is the language that the page speaks now: there is one page, and it
// speaks one at a time.
var spoken = speech{lang: English}

type speech struct {
	lang    Lang
	entries map[string]entry // nil until the first word
	heard   *engine          // nil in English, and until the engine's first word
}

// Speak changes the language.
func Speak(l Lang) {
	if l != spoken.lang {
		spoken = speech{lang: l}
	}
}

// Spoken returns the language that is spoken.
func Spoken() Lang { return spoken.lang }

// Text returns the page's text of that id, with the arguments, strings or whole
// numbers, in the places {1}, {2} …; where the text has a plural, the first one
// decides. It panics for an id that the catalogue lacks.
func Text(id string, args ...any) string {
	if spoken.entries == nil {
		spoken.entries = mustEntries(spoken.lang)
	}
	e, ok := spoken.entries[id]
	if !ok {
		panic("say: no text " + strconv.Quote(id) + " in " + string(spoken.lang))
	}
	text := e.Other
	if e.One != "" && len(args) > 0 && args[0] == 1 {
		text = e.One
	}
	return fill(text, args)
}

// fill puts arguments into their places.
func fill(text string, args []any) string {
	for i, a := range args {
		text = strings.ReplaceAll(text, "{"+strconv.Itoa(i+1)+"}", word(a))
	}
	return text
}

func word(a any) string {
	switch a := a.(type) {
	case string:
		return a
	case int:
		return Number(float64(a), 0)
	}
	panic(fmt.Sprintf("say: %T is neither a text nor a whole number", a))
}
