//go:build js

package panel

import (
	"strings"
	"syscall/js"
	"time"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/study"
	"brinebench/sim"
)

// progress is the trainee's record as the page holds it.
type progress struct {
	study.Progress
	ladder   study.Ladder
	startedS int64         // when the call on the page was opened, s since 1970 UTC
	support  study.Support // for the call on the page
	trouble  told          // why the browser does not keep the record
}

// Where the browser keeps the record, and one that could not be read.
const (
	progressKey = "brinebench.progress"
	asideKey    = "brinebench.progress.damaged"
)

func nowS() int64 { return time.Now().Unix() }

// openProgress takes the record from the browser's storage.
func (p *Panels) openProgress() {
	pr := &p.progress
	pr.startedS = nowS()
	rungs := make([]study.Rung, len(p.calls))
	for i, c := range p.calls {
		rungs[i] = study.Rung{Call: c.ID, Rung: c.Rung, Group: c.Group}
	}
	pr.ladder = study.NewLadder(rungs)
	pr.load()
	dom.Wrap(js.Global()).On("storage", func(e js.Value) { // another tab has played
		if key := e.Get("key"); key.IsNull() || key.String() == progressKey {
			pr.load()
			p.fillPractice()
		}
	})
}

// load makes what the browser keeps the record. Where that cannot be read, what
// the page holds stays.
func (pr *progress) load() {
	text, open := dom.Stored(progressKey)
	pr.trouble = told{}
	switch record, err := study.Decode("progress", []byte(text)); {
	case !open:
		pr.trouble = told{id: "progress.closed"}
	case text == "":
		pr.Progress = study.Progress{}
	case err != nil:
		dom.Store(asideKey, text)
		pr.trouble = told{"progress.damaged", []any{firstFaults(err, 1)}}
	default:
		pr.Progress = record
	}
}

// save gives the record to the browser.
func (pr *progress) save() {
	pr.trouble = told{}
	if !dom.Store(progressKey, string(pr.Encode())) {
		pr.trouble = told{id: "progress.full"}
	}
}

// record enters the call that was judged, once, and says what became of it.
func (p *Panels) record(r *sim.Report) told {
	pr := &p.progress
	if text, _ := dom.Stored(progressKey); text != "" {
		if there, err := study.Decode("progress", []byte(text)); err == nil {
			pr.Add(there.Plays...) // another tab may have played
		}
	}
	play := study.NewPlay(p.game.Setup().CallID, p.game.Seed(), pr.startedS, nowS(), r)
	play.Hints, play.Shown = max(0, p.game.Call().Helped-harmless), p.demo.shown
	pr.Add(play)
	pr.save()
	p.fillPractice()
	return pr.trouble
}

// harmless is how many steps of help give nothing of the answer away: where to
// look, and which function fails.
const harmless = 2

// exportProgress hands the record to the person as a file.
func (p *Panels) exportProgress() {
	handOver("brinebench-progress.json", p.progress.Encode())
	sayPractice(say.Text("progress.exported", len(p.progress.Plays)))
}

// importProgress adds the plays of the file that was chosen.
func (p *Panels) importProgress(input dom.Node) {
	file := input.Get("files").Index(0)
	if file.IsUndefined() {
		return
	}
	name := file.Get("name").String()
	afresh := func() { input.Value.Set("value", "") } // so that the same file can be chosen again
	if file.Get("size").Float() > study.MaxBytes {
		sayPractice(say.Text("progress.not-imported") + " " + say.Text("progress.large", name))
		afresh()
		return
	}
	var read, failed js.Func
	done := func(f func(js.Value)) js.Func {
		return js.FuncOf(func(_ js.Value, args []js.Value) any {
			f(args[0])
			afresh()
			read.Release()
			failed.Release()
			return nil
		})
	}
	read = done(func(text js.Value) { p.merge(name, text.String()) })
	failed = done(func(js.Value) {
		sayPractice(say.Text("progress.not-imported") + " " + say.Text("progress.unread", name))
	})
	file.Call("text").Call("then", read, failed)
}

func (p *Panels) merge(name, text string) {
	record, err := study.Decode(name, []byte(text))
	if err != nil {
		sayPractice(say.Text("progress.not-imported") + " " + firstFaults(err, 3))
		return
	}
	added := p.progress.Add(record.Plays...)
	p.progress.save()
	p.fillPractice()
	sayPractice(say.Text("progress.imported", added, name, len(record.Plays)-added))
}

// forgetProgress empties the record.
func (p *Panels) forgetProgress() {
	p.progress.Progress = study.Progress{}
	p.progress.save()
	dom.Drop(asideKey)
	p.fillPractice()
	p.askForget(false)
	sayPractice(say.Text("progress.forgotten"))
}

// firstFaults quotes the first n of joined faults.
func firstFaults(err error, n int) string {
	lines := strings.Split(err.Error(), "\n")
	said := strings.Join(lines[:min(n, len(lines))], "; ")
	if more := len(lines) - n; more > 0 {
		said += say.Text("progress.more-faults", more)
	}
	return said + "."
}
