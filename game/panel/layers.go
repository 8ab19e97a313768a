//go:build js

package panel

import (
	"brinebench/game/dom"
	"brinebench/game/viewmodel"
)

// setLayer shows a layer or hides it.
func (p *Panels) setLayer(id string) {
	l := p.game.Look()
	l.Layers = l.Layers.Toggled(id)
	p.game.SetLook(l)
}

// syncLayers shows which layers are on.
func (p *Panels) syncLayers() {
	stage := dom.ByID("stage")
	dom.ShowLayers(p.game.Look(), viewmodel.HasSection(p.game.Selected(), p.game.View(), stage.Get("clientWidth").Float(), stage.Get("clientHeight").Float()))
}
