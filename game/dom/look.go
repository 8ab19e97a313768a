//go:build js

package dom

import (
	"math"
	"strconv"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/say"
)

// FirstLook is the look the person chose last time, or the one the system asks for.
func FirstLook() game.Look {
	si := game.UsesSI(here())
	if units := Recall("units"); units != "" {
		si = units == "si"
	}
	return game.Look{
		Dark:          Document.Get("documentElement").Get("dataset").Get("theme").String() == "dark", // see boot.js
		Strong:        asked("(forced-colors: active)") || asked("(prefers-contrast: more)"),
		ReducedMotion: asked("(prefers-reduced-motion: reduce)"),
		SI:            si,
		Lang:          say.Spoken(),
	}
}

// here is the browser's own language, a tag.
func here() string { return js.Global().Get("navigator").Get("language").String() }

// Language is one of the page's as it is written where the browser is.
func Language(tag string) say.Lang { return say.Named(tag).Near(here()) }

// asked is the answer to a question of the style's.
func asked(query string) bool { return js.Global().Call("matchMedia", query).Get("matches").Bool() }

// Low tells whether a section has little height.
func Low() bool { return asked("(max-height: 49em)") }

// Narrow tells whether the page has no room for its sections beside the drawing.
func Narrow() bool { return asked("not all and (min-width: 56.25em) and (min-height: 33.75em)") }

// ChosenLook is a look with what was chosen, which the browser keeps; "" leaves a
// choice as it is.
func ChosenLook(l game.Look, units, theme, lang string) game.Look {
	if units != "" {
		l.SI = units == "si"
		Keep("units", units)
	}
	if theme != "" {
		l.Dark = theme == "dark"
		Keep("theme", theme)
	}
	if lang != "" {
		l.Lang = Language(lang)
		Keep("lang", lang)
	}
	return l
}

// ShowLook shows the theme and what is chosen on the switches, and has the page speak
// its language; what the caller has made with words it makes anew.
func ShowLook(l game.Look) {
	if l.Lang != say.Spoken() {
		say.Speak(l.Lang)
		js.Global().Call("brinebenchSpeak", string(l.Lang.Words()))
	}
	theme, units := "light", "us"
	if l.Dark {
		theme = "dark"
	}
	if l.SI {
		units = "si"
	}
	Document.Get("documentElement").Get("dataset").Set("theme", theme)
	for _, b := range All("[data-theme-choice]") {
		b.Press(b.Data("themeChoice") == theme)
	}
	for _, b := range All("[data-units]") {
		b.Press(b.Data("units") == units)
	}
	for _, b := range All("[data-speak]") {
		b.Press(b.Data("speak") == string(l.Lang.Words()))
	}
}

// Switches has the page's switches of language, units and theme work; chosen is given what
// the look is then, to show it.
func Switches(chosen func(l game.Look)) {
	l := FirstLook()
	Wrap(Document.Get("body")).On("click", func(e js.Value) {
		hit := e.Get("target").Call("closest", "[data-units],[data-theme-choice],[data-speak]")
		if hit.IsNull() {
			return
		}
		n := Wrap(hit)
		l = ChosenLook(l, n.Data("units"), n.Data("themeChoice"), n.Data("speak"))
		ShowLook(l)
		chosen(l)
	})
}

// Decimals writes x with n decimals for the machine: a drawing, an attribute.
func Decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }

// Percent writes a share, 0..1, in whole per cent.
func Percent(share float64) string { return say.Number(math.Round(100*share), 0) + "\u00a0%" }
