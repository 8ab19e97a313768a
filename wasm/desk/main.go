//go:build js

// The program of the pages without a drawing: small, so that they are there at once.
package main

import (
	"syscall/js"

	"brinebench/game/say"
)

// places opens each page, by its name in html[data-place]. What they open goes on
// as the page's events ask for it.
var places = map[string]func() error{}

func main() {
	page := js.Global().Get("document").Get("documentElement")
	say.Speak(say.Named(page.Get("lang").String()))
	place := page.Get("dataset").Get("place").String()
	open := places[place]
	if open == nil {
		panic("desk: no such place: " + place)
	}
	if err := open(); err != nil {
		js.Global().Call("brinebenchFail", say.Text("failed.call"), err.Error())
	} else {
		js.Global().Call("brinebenchLoaded")
	}
	select {}
}
