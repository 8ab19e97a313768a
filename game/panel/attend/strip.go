//go:build js

package attend

import (
	"encoding/json"
	"strconv"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/outbox"
	"brinebench/game/say"
)

// strip is the line under the page's head that says how the class stands.
type strip struct {
	drill    *Drill
	box      dom.Node
	state    dom.Node
	time     dom.Node
	heard    dom.Node
	frozen   dom.Node
	pill     dom.Node // says the state again where the strip has been scrolled away
	listens  bool     // the stream of events is open
	shown    string
	messages []Message
}

// Message is what the instructor tells: a message or a hint, by the name of its event.
type Message struct{ Kind, Text string }

// Item is a message as it is listed, with what stands behind it.
func (m Message) Item(more ...any) dom.Node {
	item := dom.El("li", dom.Attrs{"data-heard": m.Kind}, dom.El("strong", nil, say.Text("class.heard."+m.Kind)), " "+m.Text+" ")
	item.Add(more...)
	return item
}

// Messages are handlers for Listen that give each message to take.
func Messages(take func(Message)) map[string]func(data []byte) {
	of := func(kind string) func(data []byte) {
		return func(data []byte) {
			var e class.Event
			if json.Unmarshal(data, &e) == nil {
				take(Message{kind, e.Text})
			}
		}
	}
	return map[string]func(data []byte){"message": of("message"), "hint": of("hint")}
}

func newStrip(d *Drill) *strip {
	s := &strip{drill: d}
	s.state = dom.El("span", dom.Attrs{"role": "status"})
	s.time, s.heard = dom.El("span", nil), dom.El("ul", dom.Attrs{"id": "class-heard", "role": "status"})
	s.box = dom.El("div", dom.Attrs{"id": "class-strip"})
	s.pill = dom.El("p", dom.Attrs{"id": "class-pill", "aria-hidden": "true"})
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
	s.box.Become(dom.El("a", dom.Attrs{"href": "join.html"}, m.Class.Name), dom.El("span", nil, say.Text("attend.as", m.Member.Nickname)), s.state, s.time, s.heard)
	s.frozen.Become(dom.El("h2", dom.Attrs{"id": "class-frozen-h", "tabindex": "-1", "autofocus": ""}, say.Text("class.frozen")), dom.El("p", nil, say.Text("attend.stands")))
	s.shown = ""
	s.fillHeard()
	s.show()
	s.tick()
}

// Speak says all of it again, in another language.
func (d *Drill) Speak() {
	if d.strip != nil { // else Attend is still to come
		d.strip.build()
	}
}

// line is a word for how the connection is, and what people are told of it.
func (s *strip) line() (word, text string) {
	b := s.drill.Box
	switch {
	case b.State != outbox.Going && b.State != outbox.Frozen:
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
		s.pill.SetText(text)
		s.pill.SetAttr("data-line", word)
	}
}

// tick says how much time is left.
func (s *strip) tick() {
	c := &s.drill.Mine.Class
	switch {
	case c.EndMS != 0:
		s.time.SetText(say.Text("join.ended"))
	case c.DueMS == 0:
		s.time.SetText("")
	default:
		left := (c.DueMS - NowMS() - s.drill.aheadMS + 59_999) / 60_000
		s.time.SetText(say.Text("attend.left-time", max(0, int(left)), Clock(c.DueMS)))
	}
}

func (s *strip) fillHeard() {
	s.heard.Become()
	for i, m := range s.messages {
		close := dom.Button(say.Text("close"), nil)
		close.On("click", func(js.Value) {
			s.messages = append(s.messages[:i:i], s.messages[i+1:]...)
			s.fillHeard()
		})
		s.heard.Add(m.Item(close))
	}
}

// freeze stops the page, or lets it go on.
func (s *strip) freeze(frozen bool) {
	s.drill.Mine.Class.Frozen = frozen
	if open := s.frozen.Get("open").Bool(); open != frozen {
		if frozen {
			s.frozen.Call("showModal")
		} else {
			s.frozen.Call("close")
		}
	}
	s.drill.stopped(frozen)
}

// listen hears what the server tells, from the last thing heard.
func (d *Drill) listen() {
	s := d.strip
	hear := Messages(func(m Message) {
		s.messages = append(s.messages, m)
		s.fillHeard()
	})
	hear["freeze"] = func([]byte) { s.freeze(true) }
	hear["thaw"] = func([]byte) { s.freeze(false); d.Box.Hurry(); d.pump() }
	hear["extend"], hear["end"], hear["state"] = d.heardDue, d.heardEnd, d.heardState
	Listen("me/events?after="+strconv.FormatInt(d.Mine.Seq, 10), hear, func(on bool) {
		if s.listens = on; on {
			d.Box.Hurry()
			d.pump()
		}
		s.show()
	})
}

func (d *Drill) heardDue(data []byte) {
	var e class.Event
	if json.Unmarshal(data, &e) != nil {
		return
	}
	if due, err := strconv.ParseInt(e.Text, 10, 64); err == nil {
		d.Mine.Class.DueMS = due
		d.Box.Extended()
		d.strip.show()
		d.strip.tick()
	}
}

func (d *Drill) heardEnd(data []byte) {
	var e class.Event
	if json.Unmarshal(data, &e) == nil {
		d.Mine.Class.EndMS = e.MS
		d.strip.tick()
	}
}

// heardState hears how the class stands, after the line was down.
func (d *Drill) heardState(data []byte) {
	var c struct {
		Frozen     bool
		Due, Ended int64
	}
	if json.Unmarshal(data, &c) != nil {
		return
	}
	d.Mine.Class.DueMS, d.Mine.Class.EndMS = c.Due, c.Ended
	d.strip.freeze(c.Frozen)
	d.strip.tick()
}
