//go:build js

package panel

import "brinebench/game"

// layerWords are what the key's buttons say, and at length.
var layerWords = map[string][2]string{
	"water":    {"Water", "Water coloured by its hardness; brine and air as dots"},
	"pressure": {"Pressure", "Passages coloured by their pressure, with its numbers"},
	"exchange": {"Exchange", "The cells of the resin bed: on the left hardness that the resin holds, on the right hardness in the water"},
	"names":    {"Names", "Names of the parts"},
}

// buildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func (p *Panels) buildLayers() {
	key := el("div", attrs{"role": "group", "aria-label": "Layers of the drawing", "class": "keys"})
	for _, id := range game.LayerIDs {
		w := layerWords[id]
		key.add(button("", attrs{"data-layer": id, "title": w[1]}, el("span", attrs{"class": "swatch", "aria-hidden": "true"}), w[0]))
	}
	size := el("div", attrs{"role": "group", "aria-label": "Size of the drawing", "class": "keys"},
		button("−", attrs{"data-zoom": "out", "aria-label": "Smaller"}),
		button("+", attrs{"data-zoom": "in", "aria-label": "Larger, about the chosen part"}),
		button("Whole", attrs{"data-zoom": "whole", "aria-label": "The whole drawing"}))
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
