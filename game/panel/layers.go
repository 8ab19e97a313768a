//go:build js

package panel

import (
	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// buildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func (p *Panels) buildLayers() {
	key := dom.El("div", dom.Attrs{"role": "group", "aria-label": say.Text("layers.label"), "class": "keys"})
	for _, id := range game.LayerIDs {
		key.Add(dom.Button("", dom.Attrs{"data-layer": id, "title": say.Text("layer-words." + id)}, dom.El("span", dom.Attrs{"class": "swatch", "aria-hidden": "true"}), say.Text("layer."+id)))
	}
	size := dom.El("div", dom.Attrs{"role": "group", "aria-label": say.Text("zoom.label"), "class": "keys"},
		dom.Button("−", dom.Attrs{"data-zoom": "out", "aria-label": say.Text("zoom.out")}),
		dom.Button("+", dom.Attrs{"data-zoom": "in", "aria-label": say.Text("zoom.in")}),
		dom.Button(say.Text("zoom.whole"), dom.Attrs{"data-zoom": "whole", "aria-label": say.Text("zoom.whole-words")}))
	for _, old := range dom.All("#layers") {
		old.Call("remove")
	}
	dom.ByID("stage-box").Add(dom.El("div", dom.Attrs{"id": "layers"}, key, size))
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
	for _, b := range dom.All("[data-layer]") {
		id := b.Data("layer")
		hidden := l.Veiled && (id == "pressure" || id == "exchange")
		b.Disable(hidden)
		b.Press(l.Layers.Has(id) && !hidden)
	}
}
