// Package say holds every word of the page in each of its languages: the page's
// own texts by id, and what the engine says by its English, which stays as it is
// in recordings, hashes and comparisons. What language is spoken changes nothing
// but what is read.
package say

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Lang is a language of the page, by its BCP 47 tag.
type Lang string

// The languages. American Spanish has the words of Spanish, and a decimal point.
const (
	English         Lang = "en"
	Spanish         Lang = "es"
	AmericanSpanish Lang = "es-419"
)

// Langs are those that have words of their own, the one that others fall back on first.
var Langs = []Lang{English, Spanish}

// pointRegions are the regions where Spanish has a decimal point (CLDR, from memory: es-419 and
// those of its regions that do not go back to the comma).
var pointRegions = []string{"419", "CU", "DO", "GT", "HN", "MX", "NI", "PA", "PE", "PR", "SV", "US"}

// Named finds the language of a tag such as "es-MX"; English for one that the
// page does not speak.
func Named(tag string) Lang {
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	for _, l := range Langs {
		if string(l) == primary {
			return l.Near(tag)
		}
	}
	return English
}

// Near is a language as it is written in the region of a tag, whatever that one's language.
func (l Lang) Near(tag string) Lang {
	_, region, _ := strings.Cut(strings.ToUpper(tag), "-")
	if l == Spanish && slices.ContainsFunc(strings.FieldsFunc(region, func(r rune) bool { return r == '-' || r == '@' }), func(s string) bool { return slices.Contains(pointRegions, s) }) {
		return AmericanSpanish
	}
	return l
}

// Words is the language whose words a language has.
func (l Lang) Words() Lang {
	if l == AmericanSpanish {
		return Spanish
	}
	return l
}

// Voice speaks one language, for one goroutine at a time. A server, which answers each in
// their own, has one for each answer; the page has the one that Text, Sim and Number use.
type Voice struct {
	lang    Lang
	entries map[string]entry // nil until the first word
	heard   *engine          // nil in English, and until the engine's first word
}

// In returns a voice for a language.
func In(l Lang) *Voice { return &Voice{lang: l} }

// spoken is the language that the page speaks now: there is one page, and it
// speaks one at a time.
var spoken = In(English)

// Speak changes the language.
func Speak(l Lang) {
	if l != spoken.lang {
		spoken = In(l)
	}
}

// Spoken returns the language that is spoken.
func Spoken() Lang { return spoken.lang }

// Text returns the page's text of that id, with the arguments, strings or whole
// numbers, in the places {1}, {2} …; where the text has a plural, the first one
// decides. It panics for an id that the catalogue lacks.
func Text(id string, args ...any) string { return spoken.Text(id, args...) }

// Text is Text in the voice's language.
func (v *Voice) Text(id string, args ...any) string {
	if v.entries == nil {
		v.entries = mustEntries(v.lang)
	}
	e, ok := v.entries[id]
	if !ok {
		panic("say: no text " + strconv.Quote(id) + " in " + string(v.lang))
	}
	text := e.Other
	if e.One != "" && len(args) > 0 && args[0] == 1 {
		text = e.One
	}
	return v.fill(text, args)
}

// Title returns the title of a drill of a class: as it is told in the language spoken, by
// the language's tag, or else as the engine says it.
func Title(english string, told map[string]string) string { return spoken.Title(english, told) }

// Title is Title in the voice's language.
func (v *Voice) Title(english string, told map[string]string) string {
	if title, found := told[string(v.lang.Words())]; found {
		return title
	}
	return v.Sim(english)
}

// fill puts arguments into their places.
func (v *Voice) fill(text string, args []any) string {
	for i, a := range args {
		text = strings.ReplaceAll(text, "{"+strconv.Itoa(i+1)+"}", v.word(a))
	}
	return text
}

func (v *Voice) word(a any) string {
	switch a := a.(type) {
	case string:
		return a
	case int:
		return v.Number(float64(a), 0)
	}
	panic(fmt.Sprintf("say: %T is neither a text nor a whole number", a))
}
