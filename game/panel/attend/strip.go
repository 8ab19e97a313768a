//go:build js

package attend

import (
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/outbox"
	"brinebench/game/say"
)

// strip is the line under the page's head that says how the class stands.
type strip struct {
	drill   *Drill
	box     dom.Node
	state   dom.Node
	time    dom.Node
	heard   *Heard
	frozen  dom.Node
	pill    dom.Node // says the state again, and the last minutes, where the strip has been scrolled away
	pillWay dom.Node // the state in it
	pillDue dom.Node // the minutes in it
	listens bool     // the stream of events is open
	up      bool     // the class was over when it was last looked
	shown   string
}

func newStrip(d *Drill) *strip {
	s := &strip{drill: d}
	s.state = dom.El("span", dom.Attrs{"role": "status"})
	s.time, s.heard = dom.El("span", nil), NewHeard("class-heard", &d.Mine)
	s.box = dom.El("div", dom.Attrs{"id": "class-strip"})
	s.pillWay, s.pillDue = dom.El("span", nil), dom.El("span", nil)
	s.pill = dom.El("p", dom.Attrs{"id": "class-pill", "aria-hidden": "true"}, s.pillWay, s.pillDue)
	s.frozen = dom.El("dialog", dom.Attrs{"id": "class-frozen", "aria-labelledby": "class-frozen-h"})
	s.frozen.On("cancel", func(e js.Value) { e.Call("preventDefault") })
	dom.All("header.top")[0].Add(s.box)
	dom.Wrap(dom.Document.Get("body")).Add(s.frozen, s.pill)
	s.build()
	return s
}

// build makes the strip, anew in another language.
func (s *strip) build() {
	m := &s.drill.Mine
	s.box.Become(dom.El("a", dom.Attrs{"href": "join.html"}, m.Class.Name), dom.El("span", nil, s.drill.who()), s.state, s.time)
	s.frozen.Become(dom.El("h2", dom.Attrs{"id": "class-frozen-h", "tabindex": "-1", "autofocus": ""}, say.Text("class.frozen")), dom.El("p", nil, say.Text("attend.stands")))
	s.shown = ""
	s.placeHeard()
	s.heard.Fill()
	s.show()
	s.showTime()
}

// who is the trainee, by name and as the wall has them.
func (d *Drill) who() string {
	if d.Mine.Number == 0 { // of a page that was kept before it was told
		return say.Text("attend.as", d.Mine.Member.Nickname)
	}
	return say.Text("attend.as-on-wall", d.Mine.Member.Nickname, OnWall(d.Mine.Number))
}

// Speak says all of it again, in another language.
func (d *Drill) Speak() {
	if d.Attended() { // else Attend is still to come
		d.strip.build()
	}
}

// line is a word for how the connection is, and what people are told of it.
func (s *strip) line() (word, text string) {
	b := s.drill.Box
	switch {
	case s.drill.up() && (!s.drill.closed() || b.State == outbox.Late):
		text = s.drill.overWords()
		if b.Waiting() > 0 {
			text += " " + say.Text("attend.waiting", b.Waiting())
		}
		return string(outbox.Late), text
	case s.drill.closed():
		return string(b.State), say.Text("attend." + string(b.State))
	case b.Offline():
		return "off", say.Text("attend.off", b.Waiting())
	case b.Waiting() > 0:
		return "waiting", say.Text("attend.waiting", b.Waiting())
	case !s.listens:
		return "deaf", say.Text("attend.deaf")
	}
	return "on", say.Text("attend.on")
}

// show brings the strip up to how the drill stands.
func (s *strip) show() {
	if s == nil {
		return
	}
	word, text := s.line()
	if s.drill.shelf == nil && word != string(outbox.Handed) {
		text += " " + say.Text("attend.unkept")
	}
	s.box.SetAttr("data-waiting", strconv.Itoa(s.drill.Box.Waiting()))
	if word+text != s.shown {
		s.shown = word + text
		s.box.SetAttr("data-line", word)
		s.state.SetText(text)
		s.pillWay.SetText(text)
		s.pill.SetAttr("data-line", word)
	}
}

// tick looks at the clock: time may be up.
func (s *strip) tick() {
	if up := s.drill.up(); up != s.up {
		s.up = up
		s.drill.stand()
	}
	s.showTime()
}

// soonMS is how much time is left when it is told wherever one is on the page.
const soonMS = 5 * 60_000

// showTime says how much time is left. That it is up is said beside it.
func (s *strip) showTime() {
	text, d := "", s.drill
	c := &d.Mine.Class.Class
	if !d.up() || d.Handed() {
		text = TimeLeft(c, d.nowMS())
	}
	s.time.SetText(text)
	soon := !d.up() && !d.closed() && c.DueMS != 0 && c.LeftMS(d.nowMS()) <= soonMS
	s.pill.Flag("data-soon", soon)
	s.pillDue.Hide(!soon)
	s.pillDue.SetText(text)
}

// freeze stops the page while the class stands still.
func (s *strip) freeze() {
	frozen := s.drill.Frozen()
	if open := s.frozen.Get("open").Bool(); open != frozen {
		if frozen {
			s.frozen.Call("showModal")
		} else {
			s.frozen.Call("close")
		}
	}
	s.placeHeard()
}

// placeHeard puts what the instructor tells where it is seen: while the class stands still,
// on what lies over the page.
func (s *strip) placeHeard() {
	at := s.box
	if s.drill.Frozen() {
		at = s.frozen
	}
	if !at.Call("contains", s.heard.Box.Value).Bool() {
		at.Add(s.heard.Box)
	}
}
