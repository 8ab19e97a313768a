//go:build js

package panel

import (
	"syscall/js"

	"brinebench/game"
)

// FirstLook is the look the person chose last time, or the one the system asks for.
func FirstLook() game.Look {
	prefers := func(query string) bool { return js.Global().Call("matchMedia", query).Get("matches").Bool() }
	dark := prefers("(prefers-color-scheme: dark)")
	if kept := recall("theme"); kept != "" {
		dark = kept == "dark"
	}
	return game.Look{
		Dark:          dark,
		ReducedMotion: prefers("(prefers-reduced-motion: reduce)"),
		SI:            recall("units") == "si",
	}
}

// setLook changes what is given; "" leaves a choice as it is.
func (p *Panels) setLook(units, theme string) {
	l := p.game.Look()
	if units != "" {
		l.SI = units == "si"
		keep("units", units)
	}
	if theme != "" {
		l.Dark = theme == "dark"
		keep("theme", theme)
	}
	p.game.SetLook(l)
}

// syncLook shows a look that has changed: the theme, the switches, and every panel with units in it.
func (p *Panels) syncLook() {
	l := p.game.Look()
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
	if l.SI != p.look.SI {
		p.fillCall()
		p.debrief.filled = false
		p.chartMS = 0
	}
	p.look = l
}
