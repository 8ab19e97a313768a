//go:build js

// Package sizing is the page of the sizing desk. It draws game/sizing's desk into the
// page and turns events into changes of it.
//
// Handles for tests, all stable:
//
//	[data-show=S]              shows section S: job answer marks worked set print; section[data-section=S]
//	[data-source=drawn|library|own]  where the job comes from; #seed, [data-desk=draw|another], #sheet, [data-desk=own|own-fill]
//	#f-ID #u-ID #e-ID          text, unit and trouble of a figure ID; its dots are dashes
//	#c-ID                      a choice of a form: tank, program, controller …
//	[data-desk=mark]           marks the answer; [data-desk=stop] leaves off; [data-desk=again] another try
//	#marks[data-score][data-took]  the score, and how long the outcome took, ms; tr[data-figure=ID][data-verdict=V]
//	[data-desk=solve]          shows the worked solution; li[data-step=ID]
//	[data-controller=clock|demand]   which panel; [data-dial=ID] a setting (a spin button), [data-turn=BY] in it a wheel's notch
//	[data-night=N]             a night of the clock; [data-desk=try] lets the unit live; #set-marks[data-score][data-took]
//	[data-desk=look-house|look-tables|look-back]  on a small screen: the house, its tables (figure[data-table=ID]), and back to the form
//	[data-paper=sheet|key]     what is printed; [data-desk=print]
package sizing

import (
	"errors"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/game/sizing"
)

// page is the page with what belongs to it alone.
type page struct {
	*sizing.Desk
	look       game.Look
	errand     dom.Errand
	begunMS    float64
	running    string // job of the worker, "" none
	troubles   map[string]troubled
	stale      map[string]bool // sections to be made anew once they are shown
	solved     map[string]bool // jobs whose worked solution was asked for, by key
	from       sizing.Source   // whose ways to a job are shown
	left       figureLeft      // a figure that has just been left, and is still to be looked at
	demand     bool            // the panel shown
	setupMS    float64
	markMS     float64
	key        bool              // the key is what is printed, otherwise the sheet
	failures   map[string]string // what kept the worker from its answer, by its job
	drill      *attend.Drill     // of a class, nil for one's own desk
	lookedFrom float64           // place in the form that house or tables were looked up from, px below the sheet; -1 none
	waits      bool              // for the class's server to tell its marks
}

// troubled is what was found wrong with a form; it is told again in another language.
type troubled struct {
	list   []sizing.Trouble
	summed bool // in a list above the form too
}

// figureLeft names a figure of a form.
type figureLeft struct{ form, id string }

// Where the browser keeps the desk, and one that could not be read.
const (
	deskKey  = "sizing"
	asideKey = "sizing.damaged"
)

// sections of the page, in order.
var sections = []string{"job", "answer", "marks", "worked", "set", "print"}

// Open fills the page.
func Open(library []sizing.Sheet) error {
	p, damaged, err := newPage(library)
	if err != nil {
		return err
	}
	p.demand, p.from = p.Job.Demand, p.Source
	body := dom.Wrap(dom.Document.Get("body"))
	body.On("click", func(e js.Value) {
		p.clicked(e)
		p.settle()
	})
	body.On("keyup", func(js.Value) { p.settle() })
	body.On("input", p.typed)
	body.On("change", p.changed)
	body.On("keydown", p.keyed)
	p.fill()
	if damaged {
		p.say(say.Text("sizing.damaged"))
	}
	if p.drill != nil {
		p.attend()
	}
	js.Global().Set("brinebenchReady", true)
	return nil
}

// newPage makes the page with the desk that the browser keeps, or with the job of a class
// where the address names one.
func newPage(library []sizing.Sheet) (p *page, damaged bool, err error) {
	p = &page{look: dom.FirstLook(), troubles: map[string]troubled{}, stale: map[string]bool{}, solved: map[string]bool{}, failures: map[string]string{}, lookedFrom: -1}
	text := dom.Recall(deskKey)
	if id := attend.Asked(); id != "" {
		if p.drill, err = attend.TakeUp(id); err != nil {
			return nil, false, errors.New(attend.Say(err))
		}
		if p.Desk, err = sizing.NewGiven(p.drill.Taken.Body); err != nil {
			return nil, false, err
		}
		text = p.drill.Draft()
		if text == "" {
			p.takeAnswer(p.drill.Taken.Answer)
		}
	} else {
		p.Desk = sizing.New(library)
	}
	if text != "" && p.Restore([]byte(text)) != nil {
		dom.Keep(asideKey, text)
		return p, true, nil
	}
	return p, false, nil
}

func (p *page) keep() {
	if p.drill != nil {
		p.keepDraft()
		p.tellDraft()
		return
	}
	dom.Keep(deskKey, string(p.Text()))
}

// fill makes the whole page anew.
func (p *page) fill() {
	dom.ShowLook(p.look)
	dom.ByID("title").SetText(say.Sim(p.Job.Title))
	p.fillSheet()
	for _, s := range sections {
		p.stale[s] = true
	}
	p.show(p.Section)
}

// show shows a section.
func (p *page) show(section string) {
	known := false
	for _, s := range sections {
		known = known || s == section
	}
	if !known {
		section = sections[0]
	}
	p.Section, p.lookedFrom = section, -1
	p.fillLookUp()
	if p.drill != nil && (section == "job" || section == "set" || section == "print") {
		section = "answer" // the rest is for one's own desk
		p.Section = section
	}
	if p.stale[section] {
		p.fillSection(section)
	}
	dom.ByID("page").SetAttr("data-current", section)
	for _, b := range dom.All("[data-show]") {
		if b.Data("show") == section {
			b.SetAttr("aria-current", "true")
		} else {
			b.Call("removeAttribute", "aria-current")
		}
	}
	for _, s := range dom.All("[data-section]") {
		s.Get("classList").Call("toggle", "current", s.Data("section") == section)
	}
	p.keep()
}

// top brings the top of the section that is shown into view, that of the job sheet where
// it stands above, if the page had been read on beyond it or it lies too far below.
func (p *page) top() {
	const most = 0.9 // of the window's height that it may begin at
	topOf := func(n dom.Node) float64 { return n.Call("getBoundingClientRect").Get("top").Float() }
	first, sheet := dom.Wrap(dom.Document.Call("querySelector", "[data-section].current")), dom.ByID("sheet")
	if topOf(sheet) < topOf(first)-1 {
		first = sheet
	}
	if y := topOf(first); y < 0 || y > most*js.Global().Get("innerHeight").Float() {
		first.Call("scrollIntoView", map[string]any{"block": "start"})
	}
}

// fillSection makes a section anew; those that are not shown wait until they are.
func (p *page) fillSection(section string) {
	delete(p.stale, section)
	switch section {
	case "job":
		p.fillJob()
	case "answer":
		p.fillAnswer()
	case "marks":
		p.fillMarks()
	case "worked":
		p.fillWorked()
	case "set":
		p.fillSet()
	case "print":
		p.fillPrint()
	}
}

// clicked does what a button stands for.
func (p *page) clicked(e js.Value) {
	hit := e.Get("target").Call("closest", "[data-show],[data-source],[data-desk],[data-controller],[data-turn],[data-night],[data-paper],[data-units],[data-theme-choice],[data-speak],a[data-field]")
	if hit.IsNull() {
		return
	}
	n := dom.Wrap(hit)
	switch {
	case n.Data("show") != "":
		p.show(n.Data("show"))
		p.top()
	case n.Data("source") != "":
		p.choose(sizing.Source(n.Data("source")))
	case n.Data("desk") != "":
		p.act(n.Data("desk"))
	case n.Data("controller") != "":
		if p.running == "set" { // for the other panel
			p.stop()
		}
		delete(p.failures, "set") // that of the other panel
		p.demand = n.Data("controller") == "demand"
		p.fillSet()
	case n.Data("turn") != "":
		p.turned(n)
	case n.Data("night") != "":
		p.nightTurned(n)
	case n.Data("paper") != "":
		p.key = n.Data("paper") == "key"
		p.fillPrint()
	case n.Data("field") != "":
		e.Call("preventDefault")
		focus("f-" + n.Data("field"))
	default:
		p.look = dom.ChosenLook(p.look, n.Data("units"), n.Data("themeChoice"), n.Data("speak"))
		p.fill()
		if p.drill != nil {
			p.drill.Speak()
		}
	}
}

func (p *page) act(id string) {
	switch id {
	case "draw":
		p.draw()
	case "another":
		p.Another()
		p.taken()
	case "own":
		p.takeOwn()
	case "own-fill":
		p.Own = sizing.FormOf(p.Job.JSON)
		delete(p.troubles, ownForm)
		p.fillJob()
		p.keep()
	case "mark":
		p.mark()
	case "stop":
		p.stop()
	case "again":
		p.ForgetMarks()
		p.fillMarks()
		p.show("answer")
	case "solve":
		p.solved[p.Key()] = true
		p.fillWorked()
		focus("worked-h")
	case "look-house", "look-tables":
		p.lookUp(id)
	case "look-back":
		p.lookBack()
	case "try":
		p.try()
	case "print":
		js.Global().Call("print")
	}
}

// taken shows a job that has just been taken up.
func (p *page) taken() {
	p.stop()
	p.troubles = map[string]troubled{ownForm: p.troubles[ownForm]}
	p.demand, p.markMS, p.setupMS, p.failures = p.Job.Demand, 0, 0, map[string]string{}
	p.from, p.left = p.Source, figureLeft{}
	p.fill()
	p.say(say.Text("sizing.taken", say.Sim(p.Job.Title)))
}

func (p *page) say(text string) { dom.ByID("live").SetText(text) }

// focus moves the focus to an element, and it into view.
func focus(id string) {
	n := dom.ByID(id)
	n.Call("focus", map[string]any{"preventScroll": true})
	n.Call("scrollIntoView", map[string]any{"block": "center"})
}

// system is the index of the units shown in pairs of the engine.
func (p *page) system() int {
	if p.look.SI {
		return 1
	}
	return 0
}
