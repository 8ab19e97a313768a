package say

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// engine is what the engine can say, in another language.
type engine struct {
	lang     Lang
	phrases  map[string]string // whole texts
	patterns []pattern         // texts with places; those that say most themselves first
	known    map[string]heard  // what was asked for already
}

// heard is a text in the other language; not ok where the catalogue lacks some of it.
type heard struct {
	text string
	ok   bool
}

// pattern is a text of the engine with places in it: {1} is a number or a text of
// the engine, {text} words of a person, which stay as they are.
type pattern struct {
	literals []string // what stands before, between and after the places
	places   []string
	text     string // in the other language
}

// quantity is a number with its unit, as the page has written it already.
var quantity = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^−?\d[\d.,\x{a0}]* \PZ{1,5}$`)
})

// measured is a number with its unit, as the engine writes it.
var measured = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(-?\d+(?:\.\d+)?) (\S+|m?g(?:/L)? as CaCO₃)$`)
})

// symbols are units that are the same in all languages.
var symbols = func() map[string]bool {
	set := map[string]bool{}
	for _, s := range strings.Fields("% bar cm eq eq/L g/L gal gpg gpm kg kPa L L/min lb m m³ m³/h meq/L mg/L min mm mmol/L mol psi s °C °Clark °dH °F °fH") {
		set[s] = true
	}
	return set
}()

// free is the place that takes any words.
const free = "{text}"

// Sim returns a text of the engine in the language spoken: a whole text of the
// catalogue, one made by a pattern of it, or several, sentence by sentence. What the
// catalogue lacks stays English.
func Sim(english string) string { return spoken.Sim(english) }

// Sim is Sim in the voice's language.
func (v *Voice) Sim(english string) string {
	text := english
	if v.lang != English {
		text, _ = v.hear(english)
	}
	text = strings.ReplaceAll(text, " %", "\u00a0%") // a number and its sign stay on one line
	if !strings.Contains(text, `"`) {
		return text
	}
	return straight().ReplaceAllString(text, "“$1”")
}

// straight is a quotation as the engine writes it.
var straight = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`"([^"]*)"`) })

// SimAll is Sim of each text.
func SimAll(english []string) []string {
	said := make([]string, len(english))
	for i, s := range english {
		said[i] = Sim(s)
	}
	return said
}

// amount is a number in a text of the engine.
var amount = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b\d+(?:\.\d+)?\b`) })

// Amounts is Sim for a text whose numbers all are amounts: English has commas by thousands
// in them too, as in the page's own.
func Amounts(english string) string {
	if spoken.lang == English {
		return amount().ReplaceAllStringFunc(english, English.localised)
	}
	return Sim(english)
}

// hear is Sim that also tells whether the catalogue has it all.
func (v *Voice) hear(english string) (text string, ok bool) {
	if v.heard == nil {
		v.heard = newEngine(v.lang, mustPhrases(v.lang))
	}
	return v.heard.hear(english)
}

func newEngine(l Lang, phrases map[string]string) *engine {
	e := &engine{lang: l, phrases: phrases, known: map[string]heard{}}
	for english, text := range phrases {
		if literals, places := cutPlaces(english); len(places) > 0 {
			e.patterns = append(e.patterns, pattern{literals, places, text})
		}
	}
	weight := func(p *pattern) (n int) {
		for _, l := range p.literals {
			n += len(l)
		}
		return n
	}
	slices.SortFunc(e.patterns, func(a, b pattern) int {
		if d := weight(&b) - weight(&a); d != 0 {
			return d
		}
		return strings.Compare(strings.Join(a.literals, "{"), strings.Join(b.literals, "{"))
	})
	return e
}

// cutPlaces splits a text at its places.
func cutPlaces(text string) (literals, places []string) {
	for {
		from := strings.IndexByte(text, '{')
		to := strings.IndexByte(text, '}')
		if from < 0 || to < from {
			return append(literals, text), places
		}
		literals, places = append(literals, text[:from]), append(places, text[from:to+1])
		text = text[to+1:]
	}
}

func (e *engine) hear(english string) (string, bool) {
	h, found := e.known[english]
	if !found {
		h.text, h.ok = e.find(strings.TrimSpace(english))
		if h.ok { // the spaces at its ends stay
			h.text = strings.Replace(english, strings.TrimSpace(english), h.text, 1)
		} else {
			h.text = english
		}
		e.known[english] = h
	}
	return h.text, h.ok
}

func (e *engine) find(english string) (string, bool) {
	if text, found := e.phrases[english]; found {
		return text, true
	}
	if isNumber(english) {
		return e.lang.localised(english), true
	}
	if symbols[english] {
		return english, true
	}
	if m := measured().FindStringSubmatch(english); m != nil && m[2] != "in" { // which is a word too
		unit, known := e.phrases[m[2]]
		if !known && symbols[m[2]] {
			unit, known = m[2], true
		}
		if known {
			return e.lang.localised(m[1]) + " " + unit, true
		}
	}
	for i := range e.patterns {
		if text, found := e.match(&e.patterns[i], english); found {
			return text, true
		}
	}
	return e.parted(english)
}

// match fills a pattern's places from a text; every way to cut it is tried.
func (e *engine) match(p *pattern, english string) (string, bool) {
	rest, ok := strings.CutPrefix(english, p.literals[0])
	if !ok {
		return "", false
	}
	return e.matchFrom(p, 0, rest, p.text)
}

func (e *engine) matchFrom(p *pattern, place int, rest, text string) (string, bool) {
	if place == len(p.places) {
		return text, rest == ""
	}
	after := p.literals[place+1]
	last := place == len(p.places)-1
	for at := 0; at <= len(rest); at++ {
		if last { // the last literal ends the text
			at = len(rest) - len(after)
		}
		if at < 0 || !strings.HasPrefix(rest[at:], after) {
			if last {
				return "", false
			}
			continue
		}
		if put, ok := e.put(p.places[place], rest[:at]); ok {
			if found, ok := e.matchFrom(p, place+1, rest[at+len(after):], strings.ReplaceAll(text, p.places[place], put)); ok {
				return found, true
			}
		}
		if last {
			break
		}
	}
	return "", false
}

// put is what comes into a place.
func (e *engine) put(place, words string) (string, bool) {
	if place == free || words == "" {
		return words, true
	}
	if text, ok := e.hear(words); ok {
		return text, true
	}
	return words, quantity().MatchString(words)
}

// parted takes a text apart after a sentence, or a part of one, of the catalogue.
func (e *engine) parted(english string) (string, bool) {
	for at := 1; at < len(english)-1; at++ {
		if english[at] != ' ' || !strings.ContainsRune(".;:!?", rune(english[at-1])) {
			continue
		}
		first, second := english[:at], english[at+1:]
		mark := ""
		if english[at-1] == ';' {
			first, mark = english[:at-1], ";"
		}
		if a, ok := e.hear(first); ok {
			if b, ok := e.hear(second); ok {
				return a + mark + " " + b, true
			}
		}
	}
	return english, false
}
