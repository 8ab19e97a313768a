//go:build js

package classroom

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/sim"
)

// line is a trainee on the board, and the row that shows them.
type line struct {
	class.Row
	tr    dom.Node // undefined until it is made
	cells map[string]dom.Node
}

// begun reports whether the trainee has begun a drill.
func (l *line) begun(drill int64) bool { return slices.Contains(l.Begun, drill) }

// cells of a row, in order; each has its heading "board." and this.
var cells = []string{"state", "drill", "minutes", "position", "last", "named", "belief", "unsafe", "score"}

// telling are those that tell what is found out, or how it went.
var telling = []string{"last", "named", "belief", "score"}

// secret reports whether the board hangs on the wall while an exam runs: what somebody has
// found, how it went and what it is about is for nobody's eyes but the instructor's.
func (r *room) secret() bool {
	exam := func(d class.Drill) bool { return d.Exam }
	return projected() && slices.ContainsFunc(r.class.Drills, exam) && !r.class.Told(r.nowMS())
}

// columns are the cells that are shown.
func (r *room) columns() []string {
	if !r.secret() {
		return cells
	}
	return slices.DeleteFunc(slices.Clone(cells), func(c string) bool { return slices.Contains(telling, c) })
}

func (r *room) heads() []string {
	list := []string{say.Text("board.name")}
	for _, c := range r.columns() {
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
		r.body.Add(dom.El("tr", dom.Attrs{"data-empty": ""}, dom.El("td", dom.Attrs{"colspan": strconv.Itoa(len(r.heads()))}, say.Text("board.empty"))))
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
	name := dom.El("span", nil, r.nameOf(l.Member))
	if !projected() { // tickets and results are not for the wall
		name = dom.Button(r.nameOf(l.Member), dom.Attrs{"data-member-open": strconv.FormatInt(l.Member, 10)})
		name.On("click", func(js.Value) { r.openSheet(l.Member) })
	}
	l.cells = map[string]dom.Node{}
	l.tr = dom.El("tr", dom.Attrs{"data-member": strconv.FormatInt(l.Member, 10)}, dom.El("th", dom.Attrs{"scope": "row"}, name))
	for _, c := range r.columns() {
		l.cells[c] = dom.El("td", dom.Attrs{"data-cell": c, "data-head": say.Text("board." + c)})
		l.tr.Add(l.cells[c])
	}
}

func (r *room) syncLine(l *line) {
	l.tr.SetAttr("data-at", string(l.State))
	l.tr.Flag("data-out", l.Out)
	set := func(cell, text string) {
		if td, shown := l.cells[cell]; shown {
			td.SetText(text)
		}
	}
	set("state", r.stateOf(l))
	set("drill", r.placeOf(l.Drill))
	minutes := ""
	if r.kindOf(l.Drill) == class.Call {
		minutes = say.Number(math.Floor(l.Minutes), 0)
	}
	set("minutes", minutes)
	set("position", say.Sim(l.Position))
	set("last", r.lastOf(l))
	if td, shown := l.cells["named"]; shown {
		td.Become(namedOf(l)...)
	}
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

// lastOf says what a trainee did last: of a call as its journal tells it, of another drill
// how far it has come.
func (r *room) lastOf(l *line) string {
	switch {
	case l.Asked > 0:
		return say.Text("board.answered", l.Answered, l.Asked, attend.Clock(l.LastMS))
	case l.Last == "":
		return ""
	case l.Told != "":
		return say.Sim(l.Told)
	}
	kind, _, _ := strings.Cut(l.Last, " ")
	if !slices.Contains(acts, sim.ActionKind(kind)) { // somebody has made it up, or it is an answer
		kind = "other"
	}
	return say.Text("board.act." + kind)
}

// acts are those that are told before the journal is known.
var acts = []sim.ActionKind{
	sim.ActStartRegen, sim.ActAdvance, sim.ActBypass, sim.ActShutOff, sim.ActPower, sim.ActHouseTap, sim.ActRawTap, sim.ActTest, sim.ActOpen, sim.ActRefit,
	sim.ActClean, sim.ActAdjust, sim.ActReplace, sim.ActLubricate, sim.ActPlan, sim.ActConclude, sim.ActDiagnose, sim.ActTell, sim.ActHint, sim.ActFinish,
}

// namedOf is the cause that was named, with whether it is right.
func namedOf(l *line) []any {
	if l.Named == "" {
		return nil
	}
	mark, word := "✗ ", "board.wrong"
	if l.Right {
		mark, word = "✓ ", "board.right"
	}
	var names []string
	for _, id := range sim.VerdictIDs(l.Named) {
		names = append(names, say.Sim(sim.FaultName(id)))
	}
	return []any{
		dom.El("span", dom.Attrs{"aria-hidden": "true", "data-right": strconv.FormatBool(l.Right)}, mark),
		dom.El("span", dom.Attrs{"class": "aloud"}, say.Text(word)+" "), strings.Join(names, "; "),
	}
}

// kindOf is the kind of a drill, "" for none.
func (r *room) kindOf(drill int64) class.Kind {
	for _, d := range r.class.Drills {
		if d.ID == drill {
			return d.Kind
		}
	}
	return ""
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

// scoresOf are a trainee's scores, each behind the number of its drill.
func (r *room) scoresOf(l *line) string {
	var list []string
	for _, d := range r.class.Drills {
		if s, ok := l.Scores[d.ID]; ok {
			list = append(list, fmt.Sprintf("%d: %s", d.Place, say.Number(math.Round(s), 0)))
		}
	}
	return strings.Join(list, " · ")
}

// fillMistakes shows what several have done wrong, as bars.
func (r *room) fillMistakes() {
	const mostShown = 12
	box := dom.ByID("mistakes")
	if r.secret() {
		box.Become()
		return
	}
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
		bar := dom.El("span", dom.Attrs{"class": "bar", "aria-hidden": "true"})
		bar.Get("style").Set("width", share) // as an attribute the page's policy blocks it
		list.Add(dom.El("li", dom.Attrs{"data-mistake": kind}, bar,
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
