//go:build js

package main

import (
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/sim"
)

// drill is a call of a class on the page: the trainee's own.
type drill struct {
	*attend.Drill
	panels *panel.Panels
	source *source
	said   string // of what is waited for
}

// watch is a call of a class on the page: a trainee's, which the instructor looks at.
type watch struct {
	*attend.Watch
	panels *panel.Panels
}

// ofClass is a call of a class.
type ofClass interface {
	panel.Class
	Log() *sim.Log
	Begin(p *panel.Panels)
}

// openClass opens a call of a class where the page's address names one.
func (s *source) openClass() (opened bool, err error) {
	switch id, place := attend.Asked(), dom.Query("watch"); {
	case id != "":
		d, err := attend.TakeUp(id)
		if err != nil {
			return true, err
		}
		if page := placeOf(d.Taken.Kind); page != "" {
			js.Global().Get("location").Call("replace", page+"?drill="+id)
			select {} // the page goes
		}
		return true, s.takeClass(&d.Taken, &drill{Drill: d, source: s})
	case place != "":
		w, err := attend.OpenWatch(place)
		if err != nil {
			return true, err
		}
		return true, s.takeClass(&w.Taken, &watch{Watch: w})
	}
	return false, nil
}

// placeOf is the page for a kind of drill, "" for this one.
func placeOf(k class.Kind) string {
	switch k {
	case class.Sequence:
		return "sequence.html"
	case class.Sizing:
		return "sizing.html"
	}
	return ""
}

func (s *source) takeClass(t *class.Taken, c ofClass) error {
	session, err := sim.Open(t.Name, t.Body, t.Seed)
	if err != nil {
		return err
	}
	kind := "drill"
	if t.Exam {
		kind = "exam"
	}
	if _, looksOn := c.(*watch); looksOn {
		kind = "watch"
	}
	js.Global().Get("document").Get("documentElement").Get("dataset").Set("class", kind)
	s.take(session)
	s.class = c
	return nil
}

// readyClass lives on to where the call of the class is.
func (s *source) readyClass() error {
	prepare(s.Game)
	s.Game.SetPace(0)
	log := s.class.Log()
	for done := 0.0; done < 1; {
		var err error
		if done, err = s.Game.LiveOn(log, sliceS); err != nil {
			return err
		}
		loading(say.Text("loading.back"), done)
	}
	return nil
}

// Log is that of the drill as far as it is known here.
func (d *drill) Log() *sim.Log { return d.Box.Log() }

// Begin takes part.
func (d *drill) Begin(p *panel.Panels) {
	d.panels = p
	if len(d.Box.Acts) > 0 {
		d.source.Game.Settle()
	} else {
		d.source.Game.SetPace(1)
	}
	if d.Over() {
		d.source.Game.SetPace(0)
	}
	d.Attend(func() {
		if d.Frozen() || d.Over() {
			d.source.Game.SetPace(0)
		}
		d.sayWaits()
	})
}

// Mark has the finished call judged here, but for one whose outcome is to be told later.
func (d *drill) Mark(p *panel.Panels) {
	if !d.Withheld() {
		p.Judge()
		return
	}
	d.panels = p
	d.sayWaits()
	go func() {
		if text, err := d.AwaitReport(); err == nil {
			p.Report(text)
		}
	}()
}

// Speak says all of it again, in another language.
func (d *drill) Speak() {
	d.Drill.Speak()
	d.sayWaits()
}

// sayWaits says what is waited for where the outcome is to be told later.
func (d *drill) sayWaits() {
	if text := d.Waits(); d.source.Call().Finished && d.Withheld() && text != d.said {
		d.said = text
		d.panels.Await(text)
	}
}

// Begin looks on.
func (w *watch) Begin(p *panel.Panels) {
	w.panels = p
	w.Watch.Begin()
	p.OfferReplay(say.Text("watch.replay"))
}

// Speak says all of it again, in another language.
func (w *watch) Speak() {
	w.Watch.Speak()
	if !w.panels.Judged() {
		w.panels.OfferReplay(say.Text("watch.replay"))
	}
}

// Mark has the call judged here: the instructor may see.
func (w *watch) Mark(p *panel.Panels) { p.Judge() }

// failClass says why a call of a class cannot be opened, and where to go.
func failClass(err error) {
	fail(say.Text("failed.class"), attend.Say(err))
	dom.ByID("failure").Add(dom.El("p", nil, dom.El("a", dom.Attrs{"href": "join.html"}, say.Text("attend.to-class"))))
	select {}
}
