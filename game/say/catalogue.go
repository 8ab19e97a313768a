package say

import (
	"bytes"
	"embed"
	"encoding/json"
	"regexp"
	"sync"
)

// files are the catalogues: LANG.json the page's texts by id, LANG-engine.json
// what the engine says, by its English.
//
//go:embed *.json
var files embed.FS

// entry is a text of the page. One is for a count of one where the language asks
// for it: both ours have the plural categories "one" and "other" (CLDR's rules for
// en and es, from memory; "many" of es is for millions, which the page never counts).
type entry struct{ One, Other string }

// UnmarshalJSON reads a plain text, or an object with "one" and "other".
func (e *entry) UnmarshalJSON(data []byte) error {
	if data[0] == '"' {
		return json.Unmarshal(data, &e.Other)
	}
	type plural entry
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	return d.Decode((*plural)(e))
}

// mustEntries reads a language's texts of the page.
func mustEntries(l Lang) (entries map[string]entry) {
	mustRead(string(l.Words())+".json", &entries)
	if l == AmericanSpanish {
		for id, e := range entries {
			entries[id] = entry{pointed(e.One), pointed(e.Other)}
		}
	}
	return entries
}

// mustPhrases reads what the engine says in a language, by its English.
func mustPhrases(l Lang) (phrases map[string]string) {
	mustRead(string(l.Words())+"-engine.json", &phrases)
	if l == AmericanSpanish {
		for english, text := range phrases {
			phrases[english] = pointed(text)
		}
	}
	return phrases
}

// comma is a decimal comma in a text.
var comma = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\d),(\d)`) })

// pointed is a text of the catalogue, whose Spanish has decimal commas, with points.
func pointed(text string) string { return comma().ReplaceAllString(text, "$1.$2") }

func mustRead(name string, into any) {
	data, err := files.ReadFile(name)
	if err == nil {
		err = json.Unmarshal(data, into)
	}
	if err != nil {
		panic("say: " + name + ": " + err.Error())
	}
}
