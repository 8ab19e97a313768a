//go:build js

package classroom

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// room is the class that the instructor has open.
type room struct {
	desk     *desk
	class    class.Shown
	rows     map[int64]*line
	order    []int64
	mistakes []class.Mistake
	alarms   int
	stream   js.Value
	body     dom.Node // of the board's table
	shown    int64    // member whose sheet is open, 0 for none
	aheadMS  int64    // the server's clock before the browser's
	hides    bool     // what is told of an exam was left out when it was filled
	over     bool     // the class was over when its top was last filled
	given    string   // who the last drill was given to, in words; "" once another is being chosen
}

func (r *room) path(what string) string { return fmt.Sprintf("classes/%d/%s", r.class.ID, what) }

// heard takes what is new on the board.
func (r *room) heard(data []byte) {
	var n class.News
	if json.Unmarshal(data, &n) != nil {
		return
	}
	before := r.class.Class
	r.class.Class, r.aheadMS = n.Class, n.NowMS-attend.NowMS()
	r.mistakes = n.Mistakes
	r.alarms += len(n.Alarms)
	added := false
	for i := range n.Rows {
		row := n.Rows[i]
		if r.rows[row.Member] == nil {
			r.rows[row.Member] = &line{}
			r.order = append(r.order, row.Member)
			added = true
		}
		r.rows[row.Member].Row = row
	}
	switch {
	case before.EndMS != n.Class.EndMS:
		r.fill()
	case before != n.Class: // what is being typed further down stays
		r.fillTop()
	}
	if added {
		r.fillTo()
	}
	if n.Drills != len(r.class.Drills) { // given in another window
		go func() { complain(r.reload()) }()
	}
	r.fillBoard()
	r.fillBelow()
}

// reload asks for the drills again, after one was added.
func (r *room) reload() error {
	if err := attend.Ask("GET", fmt.Sprintf("classes/%d", r.class.ID), nil, &r.class); err != nil {
		return err
	}
	if r.desk.room == r { // not closed while the server was asked
		r.fill()
	}
	return nil
}

// fill draws the class anew.
func (r *room) fill() {
	kept := typedNow()
	r.body = dom.El("tbody", nil)
	for _, l := range r.rows {
		l.tr = dom.Node{}
	}
	board := dom.Table(say.Text("board.title"), r.heads(), r.body)
	board.SetAttr("id", "board")
	heads := board.Call("querySelectorAll", "thead th")
	for i, c := range r.columns() {
		dom.Wrap(heads.Index(i+1)).SetAttr("data-column", c)
	}
	r.hides = r.secret()
	become(dom.El("div", dom.Attrs{"id": "top"}), board, dom.El("p", dom.Attrs{"id": "alarms", "class": "class-alarm", "role": "status"}),
		dom.El("div", dom.Attrs{"class": "class-below"},
			dom.El("section", dom.Attrs{"id": "mistakes"}), dom.El("section", dom.Attrs{"id": "sums"}), r.tellForm(), r.pushForm(), r.resultsBox()),
		dom.El("dialog", dom.Attrs{"id": "member", "aria-labelledby": "member-h"}))
	r.fillTop()
	r.fillBoard()
	r.fillTo()
	r.fillBelow()
	kept.restore()
}

// fillBelow fills what is below the board and follows from it.
func (r *room) fillBelow() {
	r.fillMistakes()
	r.fillSums()
	r.fillSummary()
}

// fillTop says how the class stands, and offers what concerns all of it.
func (r *room) fillTop() {
	r.over = r.class.Over(r.nowMS())
	stand := dom.El("div", nil, dom.El("h2", nil, r.class.Name), dom.El("p", dom.Attrs{"id": "state", "data-over": strconv.FormatBool(r.over)}, r.standing()))
	if projected() {
		stand.Add(dom.El("a", dom.Attrs{"href": r.address("class"), "class": "class-way-out", "data-do": "board"}, say.Text("desk.board")))
		refill(dom.ByID("top"), dom.El("div", dom.Attrs{"class": "class-head"}, stand, r.entrance()))
		return
	}
	if r.class.Waits() {
		stand.Add(do(say.Text("desk.start"), "start", func() error { return attend.Ask("POST", r.path("start"), nil, nil) }))
	}
	refill(dom.ByID("top"), dom.El("div", dom.Attrs{"class": "class-head"}, stand, r.entrance()), r.buttons())
}

// address is where the class, or its wall, is opened.
func (r *room) address(as string) string { return fmt.Sprintf("class.html?%s=%d", as, r.class.ID) }

// entrance tells how to join.
func (r *room) entrance() dom.Node {
	if r.class.EndMS != 0 {
		return dom.El("div", nil)
	}
	join := js.Global().Get("location").Get("origin").String() + "/join.html"
	box := dom.El("div", dom.Attrs{"class": "class-entrance"})
	words := dom.El("div", nil, dom.El("p", nil, say.Text("desk.join-at")), dom.El("p", dom.Attrs{"class": "class-address"}, strings.TrimPrefix(strings.TrimPrefix(join, "http://"), "https://")),
		dom.El("p", dom.Attrs{"id": "code", "class": "class-code"}, r.class.Code))
	if r.class.Locked {
		words.Add(dom.El("p", dom.Attrs{"class": "class-alarm"}, say.Text("desk.is-locked")))
	}
	if host := js.Global().Get("location").Get("hostname").String(); host == "localhost" || host == "127.0.0.1" || host == "[::1]" {
		words.Add(dom.El("p", dom.Attrs{"class": "class-note"}, say.Text("desk.localhost")))
	}
	box.Add(words)
	if code, err := dom.QR(join+"?code="+r.class.Code, say.Text("desk.qr")); err == nil {
		box.Add(code)
	}
	return box
}

func (r *room) nowMS() int64 { return attend.NowMS() + r.aheadMS }

// tick looks at the clock: time may be up.
func (r *room) tick() {
	switch {
	case r.secret() != r.hides:
		r.fill()
	case r.class.Over(r.nowMS()) != r.over:
		r.fillTop()
	}
	dom.ByID("state").SetText(r.standing())
}

// standing says how the class stands.
func (r *room) standing() string {
	c, now := &r.class.Class, r.nowMS()
	switch left := attend.TimeLeft(c, now); {
	case c.EndMS != 0:
		return r.ended()
	case c.Waits() && projected():
		return left
	case c.Waits():
		return say.Text("desk.waits", int(c.LengthMS/60_000))
	case c.Frozen:
		return say.Text("desk.is-frozen") + " " + left
	case c.TimeUp(now) && now < c.HandedMS() && projected():
		return left
	case c.TimeUp(now) && now < c.HandedMS():
		return left + " " + say.Text("desk.hands-in", class.Countdown(c.HandedMS()-now))
	case c.TimeUp(now):
		return left + " " + say.Text("desk.handed-in") + " " + r.marking()
	case left != "":
		return left
	}
	return say.Text("desk.no-limit")
}

// ended says when the class ended, and how far the server has come with its work.
func (r *room) ended() string {
	on := day(r.class.EndMS)
	if marks := r.marking(); marks != "" {
		return say.Text("desk.ended-marking", on, marks)
	}
	return say.Text("desk.has-ended", on)
}

// buttons are what concerns the whole class.
func (r *room) buttons() dom.Node {
	c := &r.class
	row := dom.El("div", dom.Attrs{"class": "pushes"})
	post := func(label, name, path string, value any) {
		row.Add(do(say.Text(label), name, func() error { return attend.Ask("POST", r.path(path), value, nil) }))
	}
	if c.EndMS == 0 {
		if c.Frozen {
			post("desk.thaw", "freeze", "freeze", map[string]bool{"frozen": false})
		} else {
			post("desk.freeze", "freeze", "freeze", map[string]bool{"frozen": true})
		}
		if c.Locked {
			post("desk.unlock", "lock", "lock", map[string]bool{"locked": false})
		} else {
			post("desk.lock", "lock", "lock", map[string]bool{"locked": true})
		}
		if c.DueMS != 0 { // without a limit there is nothing to add to
			row.Add(do(say.Text("desk.extend"), "extend", r.extend))
		}
		row.Add(do(say.Text("desk.end"), "end", r.end))
	}
	row.Add(dom.El("a", dom.Attrs{"class": "push", "href": r.address("wall"), "target": "_blank", "data-do": "wall"}, say.Text("desk.project")),
		do(say.Text("desk.back"), "back", r.desk.close))
	return row
}

// extend gives five minutes more: asked for twice because no answer came, it is given once.
func (r *room) extend() error {
	const more = 5 * 60_000
	due := max(r.class.DueMS, r.class.Clock(r.nowMS())) + more
	return attend.Ask("POST", r.path("extend"), map[string]int64{"due": due}, nil)
}

// end ends the class, once it has been asked for twice.
func (r *room) end() error {
	if !js.Global().Call("confirm", say.Text("desk.end-sure")).Bool() {
		return nil
	}
	return attend.Ask("POST", r.path("end"), nil, nil)
}

// pushForm gives the class another drill.
func (r *room) pushForm() dom.Node {
	if r.class.EndMS != 0 {
		return dom.El("section", nil)
	}
	form := r.desk.drillForm("push", say.Text("desk.push-it"), func(w class.Wanted) error {
		if err := attend.Ask("POST", r.path("drills"), w, nil); err != nil {
			return err
		}
		dom.All("[data-form=push]")[0].Call("reset")
		r.given = say.Text("desk.given", r.toName(w.Member))
		return r.reload()
	}, labelled(say.Text("desk.to"), dom.El("select", dom.Attrs{"name": "to", "data-to": ""})))
	form.On("input", func(js.Value) {
		r.given = ""
		dom.ByID("given").SetText("")
	})
	return dom.El("section", dom.Attrs{"class": "unprojected"}, dom.El("h3", nil, say.Text("desk.push")), form, dom.El("p", dom.Attrs{"id": "given", "role": "status"}, r.given))
}

// nameOf is a trainee's name, or a number where the board is projected.
func (r *room) nameOf(id int64) string {
	if !projected() {
		return r.rows[id].Nickname
	}
	for i, other := range r.order {
		if other == id {
			return attend.OnWall(i + 1)
		}
	}
	return ""
}
