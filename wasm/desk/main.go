//go:build js

// The program of the pages without a drawing: small, so that they are there at once.
package main

import (
	"io/fs"
	"path"
	"runtime/debug"
	"strings"
	"syscall/js"

	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/panel/cards"
	"brinebench/game/panel/classroom"
	"brinebench/game/panel/sizing"
	"brinebench/game/say"
	desk "brinebench/game/sizing"
	"brinebench/scenarios"
)

// places opens each page, by its name in html[data-place]. What they open goes on
// as the page's events ask for it.
var places = map[string]func() error{
	"cards":  showCards,
	"sizing": func() error { return sizing.Open(jobSheets()) },
	"class":  classroom.OpenDesk,
	"join":   classroom.OpenJoin,
}

func showCards() error {
	benches, err := cycle.Benches(scenarios.Bench)
	if err != nil {
		return err
	}
	return cards.Open(benches)
}

func main() {
	page := js.Global().Get("document").Get("documentElement")
	say.Speak(dom.Language(page.Get("lang").String()))
	place := page.Get("dataset").Get("place").String()
	open := places[place]
	if open == nil {
		panic("desk: no such place: " + place)
	}
	if err := open(); err != nil {
		js.Global().Call("brinebenchFail", say.Text("failed.call"), err.Error())
	} else {
		debug.SetGCPercent(100) // boot.js starts programs without garbage collection
		js.Global().Call("brinebenchLoaded")
	}
	select {}
}

// jobSheets are the job sheets of the library.
func jobSheets() (list []desk.Sheet) {
	names, _ := fs.Glob(scenarios.Sizing, "sizing/*.json")
	for _, name := range names {
		if data, err := fs.ReadFile(scenarios.Sizing, name); err == nil {
			list = append(list, desk.Sheet{ID: strings.TrimSuffix(path.Base(name), ".json"), JSON: data})
		}
	}
	return list
}
