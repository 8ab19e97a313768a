//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/game/say"
)

// buildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func (p *Panels) buildLayers() {
	key := el("div", attrs{"role": "group", "aria-label": say.Text("layers.label"), "class": "keys"})
	for _, id := range game.LayerIDs {
		key.add(button("", attrs{"data-layer": id, "title": say.Text("layer-words." + id)}, el("span", attrs{"class": "swatch", "aria-hidden": "true"}), say.Text("layer."+id)))
	}
	size := el("div", attrs{"role": "group", "aria-label": say.Text("zoom.label"), "class": "keys"},
		button("−", attrs{"data-zoom": "out", "aria-label": say.Text("zoom.out")}),
		button("+", attrs{"data-zoom": "in", "aria-label": say.Text("zoom.in")}),
		button(say.Text("zoom.whole"), attrs{"data-zoom": "whole", "aria-label": say.Text("zoom.whole-words")}))
	for _, old := range all("#layers") {
		old.Call("remove")
	}
	byID("stage-box").add(el("div", attrs{"id": "layers"}, key, size))
}

// setLayer shows a layer or hides it.
func (p *Panels) setLayer(id string) {
	l := p.game.Look()
	l.Layers = l.Layers.Toggled(id)
	p.game.SetLook(l)
}

// syncLayers shows which layers are on; those of what only a test can tell are
// not to be had behind the veil.
func (p *Panels) syncLayers() {
	l := p.game.Look()
	for _, b := range all("[data-layer]") {
		id := b.data("layer")
		hidden := l.Veiled && (id == "pressure" || id == "exchange")
		b.disable(hidden)
		b.pressed(l.Layers.Has(id) && !hidden)
	}
}
