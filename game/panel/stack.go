//go:build js

package panel

import "brinebench/game/dom"

// stacked is a table whose rows stand as lines of their own where its columns have no
// room beside each other: every cell then goes with its column's head.
func stacked(name, class string, head []string, body dom.Node) dom.Node {
	t := dom.Table(name, head, body)
	t.SetAttr("class", "scroll stacks "+class)
	rows := body.Get("rows")
	for r := range rows.Length() {
		cells := rows.Index(r).Get("cells")
		for c := range cells.Length() {
			dom.Wrap(cells.Index(c)).SetAttr("data-of", head[c])
		}
	}
	return t
}

// refitDebrief draws the debrief's chart anew when its place, seen, has become another width.
func (p *Panels) refitDebrief() {
	if p.main.Data("current") == "debrief" && p.debrief.report != nil && p.debrief.filled && beliefWidth() != p.debrief.wide {
		p.debrief.filled = false
		p.syncDebrief()
	}
}
