//go:build js

package classroom

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// openSheet shows what can be done with one trainee.
func (r *room) openSheet(id int64) {
	r.shown = id
	r.fillSheet()
	dom.ByID("member").Call("showModal")
}

// fillSheet fills a trainee's sheet.
func (r *room) fillSheet() {
	l := r.rows[r.shown]
	at := func(what string) string { return fmt.Sprintf("members/%d%s", l.Member, what) }
	change := func(what string) func() error {
		return func() error { return attend.Ask("POST", r.path(at("")), map[string]string{"do": what}, nil) }
	}
	drills := dom.El("ul", dom.Attrs{"class": "class-list"})
	for _, d := range r.class.Drills {
		if !d.For(l.Member) {
			continue
		}
		item := dom.El("li", nil, r.numbered(&d))
		if s, ok := l.Scores[d.ID]; ok {
			item.Add(dom.El("span", nil, say.Text("join.score", say.Number(math.Round(s), 0))))
		}
		if d.Kind == class.Call && l.begun(d.ID) {
			item.Add(dom.El("a", dom.Attrs{"class": "push", "href": fmt.Sprintf("./?watch=%d.%d.%d", r.class.ID, l.Member, d.ID), "target": "_blank", "data-watch": strconv.FormatInt(d.ID, 10)}, say.Text("desk.watch")))
		}
		drills.Add(item)
	}
	token := dom.El("output", dom.Attrs{"id": "new-token", "class": "class-address"})
	out := do(say.Text("desk.send-out"), "send-out", func() error {
		if !js.Global().Call("confirm", say.Text("desk.send-out-sure", r.nameOf(l.Member))).Bool() {
			return nil
		}
		return change("out")()
	})
	if l.Out {
		out = do(say.Text("desk.let-in"), "send-out", change("in"))
	}
	closing := dom.Button(say.Text("close"), dom.Attrs{"class": "main"})
	closing.On("click", func(js.Value) { dom.ByID("member").Call("close") })
	dom.ByID("member").Become(dom.El("h2", dom.Attrs{"id": "member-h"}, r.nameOf(l.Member)), dom.El("p", dom.Attrs{"id": "member-state"}, stateOf(&l.Row)), drills,
		dom.El("div", dom.Attrs{"class": "pushes"}, out,
			do(say.Text("desk.new-token"), "new-token", func() error {
				var made struct{ Token string }
				err := attend.Ask("POST", r.path(at("")), map[string]string{"do": "token"}, &made)
				if err == nil {
					token.SetText(say.Text("desk.token-is", made.Token))
				}
				return err
			}),
			do(say.Text("desk.erase-member"), "erase-member", func() error { return r.eraseMember(l.Member, change("erase")) }), closing), token)
}

// syncSheet brings the state on the open sheet up to date.
func (r *room) syncSheet() {
	if r.shown == 0 || !dom.ByID("member").Get("open").Bool() {
		return
	}
	dom.ByID("member-state").SetText(stateOf(&r.rows[r.shown].Row))
}

func (r *room) eraseMember(id int64, erase func() error) error {
	if !js.Global().Call("confirm", say.Text("desk.erase-member-sure", r.nameOf(id))).Bool() {
		return nil
	}
	if err := erase(); err != nil {
		return err
	}
	dom.ByID("member").Call("close")
	if l := r.rows[id]; !l.tr.IsUndefined() {
		l.tr.Call("remove")
	}
	delete(r.rows, id)
	kept := r.order[:0]
	for _, other := range r.order {
		if other != id {
			kept = append(kept, other)
		}
	}
	r.order, r.shown = kept, 0
	r.fillTo()
	return nil
}

// resultsBox is what there is to take away, and the way to erase it.
func (r *room) resultsBox() dom.Node {
	file := func(label, name string, a dom.Attrs) dom.Node {
		a["class"], a["href"] = "push", "/api/"+r.path(name)
		return dom.El("a", a, say.Text(label))
	}
	return dom.El("section", dom.Attrs{"class": "unprojected"}, dom.El("h3", nil, say.Text("desk.results")), dom.El("ul", dom.Attrs{"class": "class-list", "id": "summary"}),
		dom.El("p", dom.Attrs{"id": "incomplete", "class": "class-alarm", "role": "status"}), dom.El("div", dom.Attrs{"class": "pushes"},
			file("desk.csv", "results.csv?lang="+string(say.Spoken()), dom.Attrs{"download": "", "data-do": "csv"}), file("desk.print", "results.html?lang="+string(say.Spoken()), dom.Attrs{"target": "_blank", "data-do": "print"}), file("desk.export", "export", dom.Attrs{"download": ""}),
			do(say.Text("desk.erase"), "erase", func() error {
				if !js.Global().Call("confirm", say.Text("desk.erase-sure", r.class.Name)).Bool() {
					return nil
				}
				if err := attend.Ask("DELETE", fmt.Sprintf("classes/%d", r.class.ID), nil, nil); err != nil {
					return err
				}
				return r.desk.close()
			})))
}

// fillSummary is the debrief for the class: what each drill came to, and where an expert's
// way through it can be looked at.
func (r *room) fillSummary() {
	list := dom.ByID("summary")
	list.Become()
	for _, d := range r.class.Drills {
		item := dom.El("li", nil, r.numbered(&d), dom.El("span", nil, r.wentOf(d.ID)))
		if d.Kind == class.Call && r.class.EndMS != 0 && d.Ref != "" {
			item.Add(dom.El("a", dom.Attrs{"class": "push", "target": "_blank", "href": fmt.Sprintf("./?call=%s&seed=%d&expert=1", d.Ref, d.Seed)}, say.Text("desk.open-call")))
		}
		list.Add(item)
	}
	text := ""
	if marks := r.marking(); marks != "" {
		text = say.Text("desk.incomplete", marks)
	}
	if note := dom.ByID("incomplete"); note.Get("textContent").String() != text { // it is read aloud
		note.SetText(text)
	}
}

// numbered is a drill's title behind its number, with that of its sizing job, and whose it is
// where it is not for all.
func (r *room) numbered(d *class.Drill) dom.Node {
	title := fmt.Sprintf("%d. %s", d.Place, say.Title(d.Title, d.Titles))
	if job := d.Job(); job != 0 {
		title += ", " + jobIs(job)
	}
	if d.Member != 0 && r.rows[d.Member] != nil {
		title += " – " + r.nameOf(d.Member)
	}
	return dom.El("span", nil, title)
}

// wentOf says how a drill went, or how far the server has come with it.
func (r *room) wentOf(drill int64) string {
	sum := class.SumOf(drill, r.all())
	switch waiting := r.waiting(drill); {
	case waiting > 0:
		return say.Text("desk.marking", sum.Scored, sum.Scored+waiting)
	case sum.Scored > 0:
		return say.Text("desk.mean", sum.Scored, say.Number(sum.Mean, 0))
	case r.class.EndMS != 0:
		return say.Text("desk.not-done")
	}
	return say.Text("desk.none-scored")
}

// marking says how far the server has come with all that is to be scored, "" once it is done.
func (r *room) marking() string {
	scored, waiting := 0, 0
	rows := r.all()
	for _, d := range r.class.Drills {
		scored, waiting = scored+class.SumOf(d.ID, rows).Scored, waiting+r.waiting(d.ID)
	}
	if waiting == 0 {
		return ""
	}
	return say.Text("desk.marks", scored, scored+waiting)
}

// waiting is how many are yet to be scored at a drill.
func (r *room) waiting(drill int64) (n int) {
	for _, l := range r.rows {
		if slices.Contains(l.Marking, drill) {
			n++
		}
	}
	return n
}
