//go:build js

package sequence

import (
	"encoding/json"
	"slices"
	"strconv"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/sim"
)

// task is a drill of a class: all exercises of its kinds, once each, handed in together.
// The server marks them. What came of each is shown at once, but for an exam. The order in
// which they are asked is drawn by the drill's numbers: it is the same for all its members.
type task struct {
	page    *Page
	drill   *attend.Drill
	list    []sim.Exercise
	at      int
	answers map[string]class.SequenceAnswer
	trouble error                // why it could not be handed in
	ended   bool                 // nothing was taken any more when it was last looked
	waits   bool                 // for the server's marks
	marks   *class.SequenceMarks // once they are told
}

func newTask(c *Page, d *attend.Drill) *task {
	t := &task{page: c, drill: d, answers: map[string]class.SequenceAnswer{}}
	for _, kind := range class.SequenceKinds {
		t.list = append(t.list, c.Drill.Unit().Exercises(kind)...)
	}
	t.list = cycle.Mixed(t.list, d.Taken.Seed+uint64(d.Taken.Attempt.Drill))
	t.restore([]byte(d.Draft()))
	t.restore(d.Taken.Answer)
	for t.at < len(t.list) && t.has(t.at) {
		t.at++
	}
	t.ended = t.over()
	return t
}

// restore takes up what was answered before: here, or as the server has it.
func (t *task) restore(text []byte) {
	var answers map[string]class.SequenceAnswer
	if json.Unmarshal(text, &answers) == nil && len(answers) > len(t.answers) {
		t.answers = answers
	}
}

func (t *task) has(i int) bool {
	_, ok := t.answers[t.list[i].ID()]
	return ok
}

// over reports whether all has been asked, or nothing more is taken.
func (t *task) over() bool { return t.at >= len(t.list) || t.drill.Over() }

// next takes up the exercise that is next in the list.
func (t *task) next() {
	for t.at < len(t.list) && t.has(t.at) {
		t.at++
	}
	if !t.over() {
		t.page.Drill.Begin(t.list[t.at])
		t.page.begin()
		return
	}
	t.close()
}

// close shows that nothing is asked any more, and waits for what came of it.
func (t *task) close() {
	dom.ByID("answer").Become()
	t.page.fillQuestion()
	t.page.fillSetup()
	if t.drill.Handed() && t.marks == nil && !t.waits {
		t.waits = true
		go t.report()
	}
}

// stand goes by how the class stands: over, or going on after more time was given.
func (t *task) stand() {
	switch {
	case t.over():
		t.close()
	case t.ended:
		t.next()
	}
	t.ended = t.over()
}

// takes keeps the answer to the exercise, and reports whether nothing is told of it.
func (t *task) takes() bool {
	if t.drill.Over() { // just now
		return true
	}
	c := t.page
	a := class.SequenceAnswer{Stop: c.named, Path: c.way}
	for seat, open := range c.set {
		if open {
			a.Seats = append(a.Seats, sim.Seat(seat))
		}
	}
	t.answers[t.list[t.at].ID()] = a
	t.keep()
	t.fillSetup()
	if !t.drill.Taken.Exam {
		return false
	}
	t.next()
	c.ask() // the next one may have the same words, and stands where this one did
	return true
}

// keep keeps what was answered, here and at the server.
func (t *task) keep() {
	if text, err := json.Marshal(t.answers); err == nil {
		t.drill.KeepDraft(string(text))
		t.drill.TellDraft(text)
	}
}

// fillSetup says how far it has come.
func (t *task) fillSetup() {
	dom.ByID("drill-setup").Become(dom.El("p", dom.Attrs{"id": "task", "data-answered": strconv.Itoa(len(t.answers))}, say.Text("task.at", len(t.answers), len(t.list))),
		dom.El("progress", dom.Attrs{"max": strconv.Itoa(len(t.list)), "value": strconv.Itoa(len(t.answers)), "aria-labelledby": "task"}))
}

// fillEnd asks for the drill to be handed in, or says what came of it.
func (t *task) fillEnd() {
	head, box := dom.ByID("question-h"), dom.ByID("question")
	switch {
	case t.marks != nil:
		head.SetText(say.Text("task.scored", say.Number(t.marks.Score, 0)))
		box.Become(t.marksList())
	case t.drill.Handed():
		head.SetText(say.Text("attend.handed"))
		box.Become(dom.El("p", dom.Attrs{"id": "await"}, t.drill.Waits()))
	case t.drill.Over():
		head.SetText(t.drill.Stops())
		box.Become()
	default:
		head.SetText(say.Text("task.all"))
		hand := dom.Button(say.Text("task.hand-in"), dom.Attrs{"class": "main", "data-task": "hand-in"})
		hand.On("click", func(js.Value) { go t.handIn() })
		box.Become(dom.El("p", nil, say.Text("task.all-words")), dom.El("div", dom.Attrs{"class": "pushes"}, hand))
		if t.trouble != nil {
			box.Add(dom.El("p", dom.Attrs{"class": "refused", "role": "alert"}, attend.Say(t.trouble)))
		}
	}
}

func (t *task) marksList() dom.Node {
	l := dom.El("ul", dom.Attrs{"class": "class-marks", "data-score": dom.Decimals(t.marks.Score, 1)})
	for _, m := range t.marks.Exercises {
		i := slices.IndexFunc(t.list, func(e sim.Exercise) bool { return e.ID() == m.ID })
		if i < 0 {
			continue // of a server that asks other exercises
		}
		e, words := &t.list[i], verdict(m.Score)
		if !m.Answered {
			words = say.Text("task.open")
		}
		l.Add(dom.El("li", nil, say.Text("cycle.ask."+string(e.Kind), t.page.stopNameOr(e.Stop), t.page.wayName(e.Way)), " – ", words, t.told(e, m.Answered)))
	}
	return l
}

// stopNameOr is the name of a position, "" where there is none.
func (c *Page) stopNameOr(id string) string {
	if id == "" {
		return ""
	}
	return c.stopName(id)
}

func (t *task) handIn() {
	if t.trouble = t.drill.Answer(t.answers); t.trouble == nil {
		t.drill.KeepDraft("")
	}
	t.close()
}

// report waits for the server's marks.
func (t *task) report() {
	text, err := t.drill.AwaitReport()
	t.waits = false
	marks := new(class.SequenceMarks)
	if err == nil && json.Unmarshal([]byte(text), marks) == nil {
		t.marks = marks
		t.page.fillQuestion()
	}
}

// speak says all of it again, in another language.
func (t *task) speak() {
	t.drill.Speak()
	t.fillSetup()
}
