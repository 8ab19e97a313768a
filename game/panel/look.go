//go:build js

package panel

import "brinebench/game/dom"

// setLook changes what is given; "" leaves a choice as it is.
func (p *Panels) setLook(units, theme, lang string) {
	p.game.SetLook(dom.ChosenLook(p.game.Look(), units, theme, lang))
}

// syncLook shows a look that has changed: the theme, the switches, and every panel with units in it.
func (p *Panels) syncLook() {
	l := p.game.Look()
	dom.ShowLook(l)
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

// speak makes all that holds words anew, in the language that the page speaks now; what was typed,
// ticked and unfolded stays.
func (p *Panels) speak() {
	fields := fieldsOnPage()
	var unfolded []string
	for _, fold := range dom.All("details[data-fold][open]") {
		section := dom.Wrap(fold.Call("closest", "[data-section]"))
		unfolded = append(unfolded, "[data-section="+section.Data("section")+"] [data-fold="+dom.Quote(fold.Data("fold"))+"]")
	}
	p.build()
	p.sayDebriefAgain()
	p.sayDemoAgain()
	fillFields(fields)
	for _, selector := range unfolded {
		for _, fold := range dom.All(selector) {
			fold.Flag("open", true)
		}
	}
	if p.keeping.line != nil {
		p.keeping.line()
	}
	p.dismiss()
	p.chartMS = 0
	if p.class != nil {
		p.class.Speak()
	}
}
