//go:build js

package panel

import (
	"syscall/js"

	"brinebench/game"
	"brinebench/game/say"
)

// FirstLook is the look the person chose last time, or the one the system asks for.
func FirstLook() game.Look {
	prefers := func(query string) bool { return js.Global().Call("matchMedia", query).Get("matches").Bool() }
	dark := prefers("(prefers-color-scheme: dark)")
	forced := prefers("(forced-colors: active)") // the page has the system's colours, whatever was chosen
	if kept := recall("theme"); kept != "" && !forced {
		dark = kept == "dark"
	}
	return game.Look{
		Dark:          dark,
		Strong:        forced || prefers("(prefers-contrast: more)"),
		ReducedMotion: prefers("(prefers-reduced-motion: reduce)"),
		SI:            recall("units") == "si",
		Lang:          say.Spoken(),
	}
}

// setLook changes what is given; "" leaves a choice as it is.
func (p *Panels) setLook(units, theme, lang string) {
	p.game.SetLook(chosenLook(p.game.Look(), units, theme, lang))
}

// chosenLook is a look with what was chosen, which the browser keeps; "" leaves a
// choice as it is.
func chosenLook(l game.Look, units, theme, lang string) game.Look {
	if units != "" {
		l.SI = units == "si"
		keep("units", units)
	}
	if theme != "" {
		l.Dark = theme == "dark"
		keep("theme", theme)
	}
	if lang != "" {
		l.Lang = say.Named(lang)
		keep("lang", lang)
	}
	return l
}

// showLook shows the theme, and what is chosen on the switches.
func showLook(l game.Look) {
	theme, units := "light", "us"
	if l.Dark {
		theme = "dark"
	}
	if l.SI {
		units = "si"
	}
	document.Get("documentElement").Get("dataset").Set("theme", theme)
	for _, b := range all("[data-theme-choice]") {
		b.pressed(b.data("themeChoice") == theme)
	}
	for _, b := range all("[data-units]") {
		b.pressed(b.data("units") == units)
	}
	for _, b := range all("[data-speak]") {
		b.pressed(b.data("speak") == string(l.Lang))
	}
}

// syncLook shows a look that has changed: the theme, the switches, and every panel with units in it.
func (p *Panels) syncLook() {
	l := p.game.Look()
	showLook(l)
	if l.Lang != p.look.Lang {
		p.speak()
	}
	if l.SI != p.look.SI {
		p.fillCall()
		p.debrief.filled = false
		p.chartMS = 0
	}
	p.look = l
}

// speak makes all that holds words anew, in the language chosen; what was typed,
// ticked and unfolded stays.
func (p *Panels) speak() {
	say.Speak(p.game.Look().Lang)
	js.Global().Call("brinebenchSpeak", string(say.Spoken()))
	fields := fieldsOnPage()
	var unfolded []string
	for _, fold := range all("details[data-fold][open]") {
		section := node{fold.Call("closest", "[data-section]")}
		unfolded = append(unfolded, "[data-section="+section.data("section")+"] [data-fold="+quote(fold.data("fold"))+"]")
	}
	p.build()
	p.sayDebriefAgain()
	p.sayDemoAgain()
	fillFields(fields)
	for _, selector := range unfolded {
		for _, fold := range all(selector) {
			fold.flag("open", true)
		}
	}
	if p.keeping.line != nil {
		p.keeping.line()
	}
	p.dismiss()
	p.chartMS = 0
}
