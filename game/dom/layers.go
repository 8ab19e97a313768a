//go:build js

package dom

import (
	"brinebench/game"
	"brinebench/game/say"
)

// BuildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func BuildLayers() {
	key := El("div", Attrs{"role": "group", "aria-label": say.Text("layers.label"), "class": "keys"})
	for _, id := range game.LayerIDs {
		key.Add(Button("", Attrs{"data-layer": id, "title": say.Text("layer-words." + id)}, El("span", Attrs{"class": "swatch", "aria-hidden": "true"}), say.Text("layer."+id)))
	}
	size := El("div", Attrs{"role": "group", "aria-label": say.Text("zoom.label"), "class": "keys"},
		Button("−", Attrs{"data-zoom": "out", "aria-label": say.Text("zoom.out")}),
		Button("+", Attrs{"data-zoom": "in", "aria-label": say.Text("zoom.in")}),
		Button(say.Text("zoom.whole"), Attrs{"data-zoom": "whole", "aria-label": say.Text("zoom.whole-words")}))
	for _, old := range All("#layers") {
		old.Call("remove")
	}
	ByID("stage-box").Add(El("div", Attrs{"id": "layers"}, key, size))
}

// ShowLayers shows which layers are on; those of what only a test can tell are not to
// be had behind the veil.
func ShowLayers(l game.Look) {
	for _, b := range All("[data-layer]") {
		id := b.Data("layer")
		hidden := l.Veiled && (id == "pressure" || id == "exchange")
		b.Disable(hidden)
		b.Press(l.Layers.Has(id) && !hidden)
	}
}
