//go:build js

package classroom

import (
	"math"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// line is a trainee on the board, and the row that shows them.
type line struct {
	class.Row
	tr    dom.Node // undefined until it is made
	cells map[string]dom.Node
}

// cells of a row, in order; each has its heading "board." and this.
var cells = []string{"state", "drill", "minutes", "position", "last", "belief", "unsafe", "score"}

func (r *room) heads() []string {
	list := []string{say.Text("board.name")}
	for _, c := range cells {
		list = append(list, say.Text("board."+c))
	}
	return list
}

// fillBoard brings the rows up to date, each in its place.
func (r *room) fillBoard() {
	for _, id := range r.order {
		l := r.rows[id]
		if l.tr.IsUndefined() {
			r.makeLine(l)
			r.body.Add(l.tr)
		}
		r.syncLine(l)
	}
	if len(r.order) == 0 && r.body.Get("childElementCount").Int() == 0 {
		r.body.Add(dom.El("tr", dom.Attrs{"data-empty": ""}, dom.El("td", dom.Attrs{"colspan": strconv.Itoa(len(cells) + 1)}, say.Text("board.empty"))))
	} else if len(r.order) > 0 {
		for _, empty := range dom.All("[data-empty]") {
			empty.Call("remove")
		}
	}
	text := ""
	if r.alarms > 0 {
		text = say.Text("board.alarms", r.alarms)
	}
	dom.ByID("alarms").SetText(text)
	r.syncSheet()
}

func (r *room) makeLine(l *line) {
	name := dom.Button(r.nameOf(l.Member), dom.Attrs{"data-member-open": strconv.FormatInt(l.Member, 10)})
	name.On("click", func(js.Value) { r.openSheet(l.Member) })
	l.cells = map[string]dom.Node{}
	l.tr = dom.El("tr", dom.Attrs{"data-member": strconv.FormatInt(l.Member, 10)}, dom.El("th", dom.Attrs{"scope": "row"}, name))
	for _, c := range cells {
		l.cells[c] = dom.El("td", dom.Attrs{"data-cell": c, "data-head": say.Text("board." + c)})
		l.tr.Add(l.cells[c])
	}
}

func (r *room) syncLine(l *line) {
	l.tr.SetAttr("data-at", string(l.State))
	l.tr.Flag("data-out", l.Out)
	set := func(cell, text string) { l.cells[cell].SetText(text) }
	set("state", r.stateOf(l))
	set("drill", r.placeOf(l.Drill))
	set("minutes", say.Number(math.Floor(l.Minutes), 0))
	set("position", say.Sim(l.Position))
	last := l.Last
	if l.Told != "" {
		last = say.Sim(l.Told)
	}
	set("last", last)
	belief := "–"
	if l.Belief != nil {
		belief = dom.Percent(*l.Belief)
	}
	set("belief", belief)
	set("unsafe", strconv.Itoa(l.Unsafe))
	l.cells["unsafe"].Flag("data-some", l.Unsafe > 0)
	set("score", r.scoresOf(l))
}

func (r *room) stateOf(l *line) string {
	if l.Out {
		return say.Text("board.at.out")
	}
	state := say.Text("board.at." + string(l.State))
	if l.Why != "" {
		state += ": " + say.Text("refusal."+class.WordOf(l.Why))
	}
	return state
}

// placeOf is the number of a drill in the class, "" for none.
func (r *room) placeOf(drill int64) string {
	for _, d := range r.class.Drills {
		if d.ID == drill {
			return strconv.Itoa(d.Place)
		}
	}
	return ""
}

// scoresOf are a trainee's scores, in the drills' order.
func (r *room) scoresOf(l *line) string {
	var list []string
	for _, d := range r.class.Drills {
		if s, ok := l.Scores[d.ID]; ok {
			list = append(list, say.Number(math.Round(s), 0))
		}
	}
	return strings.Join(list, " · ")
}

// fillMistakes shows what several have done wrong, as bars.
func (r *room) fillMistakes() {
	const mostShown = 12
	box := dom.ByID("mistakes")
	box.Become(dom.El("h3", nil, say.Text("board.mistakes")))
	if len(r.mistakes) == 0 {
		box.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("board.no-mistake")))
		return
	}
	list := dom.El("ol", dom.Attrs{"class": "class-bars"})
	most := r.mistakes[0].Members
	for _, m := range r.mistakes[:min(len(r.mistakes), mostShown)] {
		kind, what, _ := strings.Cut(m.What, ": ")
		share := dom.Decimals(100*float64(m.Members)/float64(most), 0) + "%"
		list.Add(dom.El("li", dom.Attrs{"data-mistake": kind}, dom.El("span", dom.Attrs{"class": "bar", "style": "width:" + share, "aria-hidden": "true"}),
			dom.El("strong", nil, strconv.Itoa(m.Members)), " ", say.Text("board.mistake."+kind), " ", says(what)))
	}
	box.Add(list)
}

// says is the engine's text in the language spoken; of several, each.
func says(list string) string {
	parts := strings.Split(list, "; ")
	for i := range parts {
		parts[i] = say.Sim(parts[i])
	}
	return strings.Join(parts, "; ")
}
