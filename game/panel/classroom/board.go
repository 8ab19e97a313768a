//go:build js

package classroom

import (
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

func (r *room) heads() []string {
	list := []string{say.Text("board.name")}
	for _, c := range r.columns() {
		list = append(list, say.Text("board."+c))
	}
	return list
}

// fillBoard brings the rows up to date, each in its place.
func (r *room) fillBoard() {
	for i, row := range r.told() {
		l := r.rows[r.order[i]]
		if l.tr.IsUndefined() {
			r.makeLine(l)
			r.body.Add(l.tr)
		}
		r.syncLine(l, &row)
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

// syncLine writes a row as it is told.
func (r *room) syncLine(l *line, row *class.Row) {
	l.tr.SetAttr("data-at", string(row.State))
	l.tr.Flag("data-out", row.Out)
	set := func(cell, text string) {
		if td, shown := l.cells[cell]; shown {
			td.SetText(text)
		}
	}
	become := func(cell string, children []any) {
		if td, shown := l.cells[cell]; shown {
			td.Become(children...)
		}
	}
	set("state", stateOf(row))
	become("drill", r.placeOf(row.Drill))
	minutes := ""
	if r.kindOf(row.Drill) == class.Call {
		minutes = say.Number(math.Floor(row.Minutes), 0)
	}
	set("minutes", minutes)
	set("position", say.Sim(row.Position))
	set("last", lastOf(row))
	become("named", namedOf(row))
	belief := "–"
	if row.Belief != nil {
		belief = dom.Percent(*row.Belief)
	}
	set("belief", belief)
	set("unsafe", strconv.Itoa(row.Unsafe))
	l.cells["unsafe"].Flag("data-some", row.Unsafe > 0)
	become("score", r.scoresOf(row))
}

func stateOf(row *class.Row) string {
	if row.Out {
		return say.Text("board.at.out")
	}
	state := say.Text("board.at." + string(row.State))
	if row.Why != "" {
		state += ": " + say.Text("refusal."+class.WordOf(row.Why))
	}
	return state
}

// lastOf says what a trainee did last: of a call as its journal tells it, of another drill
// how far it has come.
func lastOf(l *class.Row) string {
	switch {
	case l.Asked > 0:
		return say.Text("board.answered", l.Answered, l.Asked, attend.Clock(l.LastMS))
	case l.Last == "":
		return ""
	case l.Warned:
		return firstSentence(say.Sim(l.Told))
	case l.Told != "":
		return say.Sim(l.Told)
	}
	kind, _, _ := strings.Cut(l.Last, " ")
	if !slices.Contains(acts, sim.ActionKind(kind)) { // somebody has made it up, or it is an answer
		kind = "other"
	}
	return say.Text("board.act." + kind)
}

// firstSentence leaves out of a warning what is to be done instead: all of it stands among the
// mistakes.
func firstSentence(text string) string {
	if first, rest, _ := strings.Cut(text, ". "); rest != "" {
		return first + "."
	}
	return text
}

// acts are those that are told before the journal is known.
var acts = []sim.ActionKind{
	sim.ActStartRegen, sim.ActAdvance, sim.ActBypass, sim.ActShutOff, sim.ActPower, sim.ActHouseTap, sim.ActRawTap, sim.ActTest, sim.ActOpen, sim.ActRefit,
	sim.ActClean, sim.ActAdjust, sim.ActReplace, sim.ActLubricate, sim.ActBail, sim.ActDisinfect, sim.ActPlan, sim.ActConclude, sim.ActDiagnose, sim.ActTell, sim.ActHint, sim.ActFinish,
}

// namedOf is the cause that was named, with whether it is right; on the wall, that one was.
func namedOf(l *class.Row) []any {
	switch l.Named {
	case "":
		return nil
	case class.SomeCause:
		return []any{say.Text("board.some-cause")}
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

// placeOf is the number of a drill in the class, none for none, and to the instructor that of
// its sizing job.
func (r *room) placeOf(drill int64) (list []any) {
	for _, d := range r.class.Drills {
		if d.ID != drill {
			continue
		}
		list = append(list, strconv.Itoa(d.Place))
		if job := d.Job(); job != 0 && !projected() {
			list = append(list, dom.El("small", nil, jobIs(job)))
		}
	}
	return list
}

// jobIs names a sizing job by its number.
func jobIs(job uint64) string { return say.Text("sizing.seed-is", strconv.FormatUint(job, 10)) }

// scoresOf are a trainee's scores, a line for each drill.
func (r *room) scoresOf(l *class.Row) (list []any) {
	for _, d := range r.class.Drills {
		if s, ok := l.Scores[d.ID]; ok {
			list = append(list, dom.El("span", dom.Attrs{"data-score-of": strconv.Itoa(d.Place)}, say.Text("board.score-of", d.Place, say.Number(math.Round(s), 0))))
		}
	}
	return list
}

// fillMistakes shows what several have done wrong, as bars.
func (r *room) fillMistakes() {
	mostShown := 12
	box := dom.ByID("mistakes")
	mistakes := r.mistakes
	if projected() {
		mistakes, mostShown = r.wall().Mistakes, 5 // what a picture of 720 lines has room for
	}
	if projected() && len(mistakes) == 0 { // there may be others, which are not for the wall
		box.Become()
		return
	}
	box.Become(dom.El("h3", nil, say.Text("board.mistakes")))
	if len(mistakes) == 0 {
		box.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("board.no-mistake")))
		return
	}
	list := dom.El("ol", dom.Attrs{"class": "class-bars"})
	most := len(mistakes[0].Who)
	for _, m := range mistakes[:min(len(mistakes), mostShown)] {
		kind, what, _ := strings.Cut(m.What, ": ")
		words := says(what)
		if what == "" { // its part is not for the wall
			words = say.Text("board.hazard." + m.Act)
		}
		share := dom.Decimals(100*float64(len(m.Who))/float64(most), 0) + "%"
		bar := dom.El("span", dom.Attrs{"class": "bar", "aria-hidden": "true"})
		bar.Get("style").Set("width", share) // as an attribute the page's policy blocks it
		list.Add(dom.El("li", dom.Attrs{"data-mistake": kind}, bar,
			dom.El("strong", nil, strconv.Itoa(len(m.Who))), " ", say.Text("board.mistake."+kind), " ", words))
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
