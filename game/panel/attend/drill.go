//go:build js

package attend

import (
	"encoding/json"
	"strconv"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/outbox"
	"brinebench/sim"
)

// Drill is a drill of a class that the page has open.
type Drill struct {
	Taken class.Taken
	Mine  class.Mine
	Box   *outbox.Box
	Other bool // another device had gone on: what this one kept was put aside

	shelf   *dom.Shelf // nil where the browser keeps nothing
	strip   *strip
	seen    seen
	aheadMS int64 // the server's clock before the browser's
	stands  func()
	awaits  bool // that the server hands in what there is
	draft   draft
}

// seen is what of a call tells that it has come on: time alone does not.
type seen struct {
	lines          int // of the journal
	busy, finished bool
}

// Asked is the drill that the page's address names, "" for none.
func Asked() string { return dom.Query("drill") }

// TakeUp opens a drill of the class this device has joined: from the server, or where
// there is no answer from what the device keeps of it.
func TakeUp(id string) (*Drill, error) {
	d := &Drill{}
	d.shelf, _ = dom.OpenShelf(shelfName) // without one it lives as long as the page
	kept, keptBox := d.read(id)
	err := Ask("GET", "me", nil, &d.Mine)
	if err == nil {
		d.aheadMS = d.Mine.NowMS - NowMS()
		err = Ask("POST", "me/drills/"+id+"/open", nil, &d.Taken)
	}
	if WordOf(err) == Offline && kept != nil {
		d.Taken, d.Mine, err = kept.Taken, kept.Mine, nil
		d.Taken.Acts = nil // those that are kept are all
	}
	if err != nil {
		return nil, err
	}
	if kept != nil && (kept.Mine.Member.ID != d.Mine.Member.ID || kept.Taken.Seed != d.Taken.Seed) {
		keptBox = nil // of another class with the same number
	}
	if d.Box, err = outbox.New(&d.Taken, keptBox); err != nil {
		d.Other = true
	}
	d.seen.lines = -1
	if d.closed() {
		d.drop()
	} else {
		d.write(0)
	}
	return d, nil
}

func (d *Drill) name() string { return strconv.FormatInt(d.Taken.Attempt.Drill, 10) }

// Withheld reports whether how it went is not to be told yet.
func (d *Drill) Withheld() bool {
	return d.Taken.Exam && !d.Mine.Class.Told(d.nowMS())
}

// Attend begins to send and to listen, and shows how the class stands. stands hears when
// that has changed: frozen, going on, over, handed in.
func (d *Drill) Attend(stands func()) {
	d.stands = stands
	d.strip = newStrip(d)
	d.listen()
	dom.Wrap(js.Global()).On("online", func(js.Value) { d.Box.Hurry(); d.pump() })
	js.Global().Call("setInterval", js.FuncOf(func(js.Value, []js.Value) any { d.pump(); d.strip.tick(); return nil }), 500)
	d.pump()
	d.stand()
}

// Note takes what the call has come to; call it whenever something may have been done.
func (d *Drill) Note(g *game.Game) {
	if d.Over() {
		return
	}
	call := g.Call()
	now := seen{len(call.Journal), g.Busy(), call.Finished}
	if now == d.seen {
		d.Box.Ticks = max(d.Box.Ticks, g.Tick())
		return
	}
	recording, err := g.Recording()
	if err != nil {
		return
	}
	log, err := sim.LogOf(recording)
	if err != nil {
		panic("attend: " + err.Error()) // this program wrote it
	}
	d.seen = now
	d.write(d.Box.Note(&log, call.Finished))
	if !d.Box.Offline() {
		d.Box.Hurry()
	}
	d.pump()
	d.strip.show()
}

// pump sends what is to be sent; of a drill that is no call the answer as far as it has
// come, or that somebody is here.
func (d *Drill) pump() {
	if d.drafts() {
		d.Box.Hurry()
	}
	u := d.Box.Next(NowMS())
	if u == nil {
		return
	}
	go func() {
		a := d.Taken.Attempt
		switch {
		case d.Taken.Kind == class.Call:
			d.answered(Ask("POST", "me/drills/"+d.name()+"/acts", u, &a), &a)
		case d.draft.waits():
			d.answered(d.sendDraft(&a), &a)
		default:
			d.answered(Ask("POST", "me/here", nil, nil), &a)
		}
	}()
}

func (d *Drill) answered(err error, a *class.Attempt) {
	was := d.closed()
	if err == nil {
		d.Taken.Attempt = *a
		d.Box.Answered(NowMS(), 200, "", "", a)
		if d.Handed() {
			d.handed()
		} else {
			d.write(len(d.Box.Acts)) // how far it has come
		}
	} else if t, ok := err.(*Trouble); ok {
		d.Box.Answered(NowMS(), t.Status, t.Word, t.Text, nil)
	} else {
		d.Box.Answered(NowMS(), 0, "", "", nil)
	}
	if d.closed() && !was && !d.Handed() { // it goes on elsewhere, or not at all
		d.stand()
	} else {
		d.strip.show()
	}
	if d.Box.Waiting() > 0 && !d.Box.Offline() {
		d.pump()
	}
}

// handed takes it that the server has all of the drill. A call that it has brought to its
// end by itself is opened anew.
func (d *Drill) handed() {
	d.drop()
	if d.Taken.Kind == class.Call && !d.seen.finished {
		reload()
		return
	}
	d.stands()
}

// Answer hands in the answer to a drill that is no call.
func (d *Drill) Answer(answer any) error {
	var a class.Attempt
	err := Ask("POST", "me/drills/"+d.name()+"/answer", map[string]any{"epoch": d.Taken.Attempt.Epoch, "answer": answer}, &a)
	if err == nil {
		d.Taken.Attempt, d.Box.State, d.draft = a, outbox.Handed, draft{}
		d.strip.show()
	}
	return err
}

// AwaitReport waits until the server has scored the drill and tells it, and returns the
// report. The error is that the server knows this device no more. Not to be called in an
// event's own turn.
func (d *Drill) AwaitReport() (text string, err error) {
	const every = 3 * time.Second
	for {
		var m class.Mine
		err := Ask("GET", "me", nil, &m)
		switch {
		case err == nil:
			d.Mine = m
		case WordOf(err) == "join" || WordOf(err) == "out":
			return "", err
		}
		if err == nil && d.scored() && !d.Withheld() {
			if text, err := d.Report(); err == nil {
				return text, nil
			}
		}
		time.Sleep(every)
	}
}

func (d *Drill) scored() bool {
	a := d.attempt()
	return a != nil && a.Status == class.Scored
}

// Report asks for what the server made of the drill, as JSON; "none" and "exam" are the
// words of errors where there is nothing to be told yet.
func (d *Drill) Report() (text string, err error) {
	var raw json.RawMessage
	err = Ask("GET", "me/drills/"+d.name()+"/report", nil, &raw)
	return string(raw), err
}
