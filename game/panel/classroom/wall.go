//go:build js

package classroom

import (
	"slices"
	"strconv"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// project shows the page for a projector: large, without names, and without what gives an
// answer away.
func project(on bool) { dom.Wrap(dom.Document.Get("documentElement")).Flag("data-projected", on) }

func projected() bool {
	return dom.Document.Get("documentElement").Call("hasAttribute", "data-projected").Bool()
}

// secret reports whether the board hangs on the wall while an exam runs: what somebody has
// found, how it went and what it is about is for nobody's eyes but the instructor's.
func (r *room) secret() bool { return projected() && r.class.Examines(r.nowMS()) }

// Columns that are not for the wall: ever, and while an exam runs.
var (
	private = []string{"belief", "score"}
	telling = []string{"last", "named"}
)

// columns are the cells that are shown.
func (r *room) columns() []string {
	return slices.DeleteFunc(slices.Clone(cells), func(c string) bool {
		return projected() && slices.Contains(private, c) || r.secret() && slices.Contains(telling, c)
	})
}

// all are the rows in their order.
func (r *room) all() (rows []class.Row) {
	for _, id := range r.order {
		rows = append(rows, r.rows[id].Row)
	}
	return rows
}

// wall is what may be told there.
func (r *room) wall() class.Wall { return class.OnWall(&r.class, r.all(), r.mistakes, r.nowMS()) }

// told are the rows as they are told here.
func (r *room) told() []class.Row {
	if projected() {
		return r.wall().Rows
	}
	return r.all()
}

// fillSums tells the wall what drills that are over came to.
func (r *room) fillSums() {
	box := dom.ByID("sums")
	box.Become()
	if !projected() {
		return
	}
	list := dom.El("ul", dom.Attrs{"class": "class-list"})
	sums := r.wall().Sums
	for _, s := range sums {
		list.Add(r.sumOf(&s))
	}
	if len(sums) > 0 {
		box.Add(dom.El("h3", nil, say.Text("board.over")), list)
	}
}

func (r *room) sumOf(s *class.Sum) dom.Node {
	item := dom.El("li", dom.Attrs{"data-sum": strconv.FormatInt(s.Drill, 10)})
	for _, d := range r.class.Drills {
		if d.ID == s.Drill {
			item.Add(r.numbered(&d))
		}
	}
	item.Add(dom.El("span", nil, say.Text("desk.mean", s.Scored, say.Number(s.Mean, 0))))
	if s.Right+s.Wrong > 0 {
		item.Add(dom.El("span", nil, say.Text("board.verdicts", s.Right, s.Wrong)))
	}
	return item
}
