//go:build js

package panel

import (
	"strconv"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/viewmodel"
)

// buildLayers puts the key that switches the drawing's layers under it, and the
// buttons of its size.
func (p *Panels) buildLayers() {
	colours := dom.El("div", dom.Attrs{"class": "choice"}) // one of them, or none
	key := dom.El("div", dom.Attrs{"role": "group", "aria-label": say.Text("layers.label"), "class": "keys"}, colours)
	for _, id := range game.LayerIDs {
		b := dom.Button("", dom.Attrs{"data-layer": id, "title": say.Text("layer-words." + id)}, dom.El("span", dom.Attrs{"class": "swatch", "aria-hidden": "true"}), say.Text("layer."+id))
		if id == "water" || id == "pressure" {
			colours.Add(b)
		} else {
			key.Add(b)
		}
	}
	size := dom.El("div", dom.Attrs{"role": "group", "aria-label": say.Text("zoom.label"), "class": "keys"},
		dom.Button("−", dom.Attrs{"data-zoom": "out", "aria-label": say.Text("zoom.out")}),
		dom.Button("+", dom.Attrs{"data-zoom": "in", "aria-label": say.Text("zoom.in")}),
		dom.Button(say.Text("zoom.whole"), dom.Attrs{"data-zoom": "whole", "aria-label": say.Text("zoom.whole-words")}))
	size.Add(dom.Button("", dom.Attrs{"data-act": "fold"}))
	for _, old := range dom.All("#layers") {
		old.Call("remove")
	}
	dom.ByID("stage-box").Add(dom.El("div", dom.Attrs{"id": "layers"}, key, size))
	p.syncFold()
}

// foldStage folds the drawing away on a small screen, or unfolds it.
func (p *Panels) foldStage() {
	if dom.Recall("folded") == "" {
		dom.Keep("folded", "yes")
	} else {
		dom.Forget("folded")
	}
	p.syncFold()
}

func (p *Panels) syncFold() {
	folded := dom.Recall("folded") != ""
	dom.Wrap(dom.Document.Get("documentElement")).Flag("data-folded", folded)
	b := dom.All(`[data-act="fold"]`)[0]
	b.SetAttr("aria-expanded", strconv.FormatBool(!folded))
	b.SetText(say.Text(map[bool]string{true: "layers.unfold", false: "layers.fold"}[folded]))
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
		if id == "section" {
			stage := dom.ByID("stage")
			b.Hide(!viewmodel.HasSection(p.game.Selected(), p.game.View(), stage.Get("clientWidth").Float(), stage.Get("clientHeight").Float()))
		}
	}
}
