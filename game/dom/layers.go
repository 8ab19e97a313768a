//go:build js

package dom

import (
	"strconv"

	"brinebench/game"
	"brinebench/game/say"
)

// BuildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func BuildLayers() {
	colours := El("div", Attrs{"class": "choice"}) // one of them, or none
	key := El("div", Attrs{"role": "group", "aria-label": say.Text("layers.label"), "class": "keys"}, colours)
	for _, id := range game.LayerIDs {
		b := Button("", Attrs{"data-layer": id, "title": say.Text("layer-words." + id)}, El("span", Attrs{"class": "swatch", "aria-hidden": "true"}), say.Text("layer."+id))
		if id == "water" || id == "pressure" {
			colours.Add(b)
		} else {
			key.Add(b)
		}
	}
	size := El("div", Attrs{"role": "group", "aria-label": say.Text("zoom.label"), "class": "keys"},
		Button(say.Text("zoom.whole"), Attrs{"data-zoom": "whole", "aria-label": say.Text("zoom.whole-words")}), // it comes and goes: the others stay where they are
		Button("−", Attrs{"data-zoom": "out", "aria-label": say.Text("zoom.out")}),
		Button("+", Attrs{"data-zoom": "in", "aria-label": say.Text("zoom.in")}))
	size.Add(Button("", Attrs{"data-act": "fold"}))
	for _, old := range All("#layers") {
		old.Call("remove")
	}
	ByID("stage-box").Add(El("div", Attrs{"id": "layers"}, key, size))
	syncFold()
}

// FoldStage folds the drawing away on a small screen, or unfolds it.
func FoldStage() {
	if Recall("folded") == "" {
		Keep("folded", "yes")
	} else {
		Forget("folded")
	}
	syncFold()
}

// UnfoldStage has the drawing shown.
func UnfoldStage() {
	Forget("folded")
	syncFold()
}

func syncFold() {
	folded := Recall("folded") != ""
	Wrap(Document.Get("documentElement")).Flag("data-folded", folded)
	b := All(`[data-act="fold"]`)[0]
	b.SetAttr("aria-expanded", strconv.FormatBool(!folded))
	b.SetText(say.Text(map[bool]string{true: "layers.unfold", false: "layers.fold"}[folded]))
}

// ShowLayers shows which layers are on; those of what only a test can tell are not to
// be had behind the veil, and the section only where there is one.
func ShowLayers(l game.Look, section bool) {
	for _, b := range All("[data-layer]") {
		id := b.Data("layer")
		hidden := l.Veiled && (id == "pressure" || id == "exchange")
		b.Disable(hidden)
		b.Press(l.Layers.Has(id) && !hidden)
		if id == "section" {
			b.Hide(!section)
		}
	}
}
