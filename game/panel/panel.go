//go:build js

package panel

import (
	"strconv"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// Panels are the page's panels of one game.
type Panels struct {
	game    *game.Game
	calls   []Call                // that the program holds
	words   map[say.Lang]say.Call // what the customer tells, in other languages than the scenario's
	main    dom.Node
	drawn   int     // game.Changes when the panels were made
	nowMS   float64 // time of the last frame
	textsMS float64 // when the time bar's words were set
	chartMS float64 // when the strip charts were drawn
	part    partShown
	look    game.Look // the look shown
	journal journalShown
	strips  [game.NumTraces]chart
	charted charted // on the strips
	debrief debrief
	keeping keeping
	live    live
	sounds  game.Sounds // that were asked for last

	progress progress
	scrub    scrub
	replay   scrubShown // by the head over the drawing
	retold   retold     // under it
	demo     demo
	class    Class // nil for a call of one's own
}

// Class is the class that a call on the page belongs to.
type Class interface {
	Note(g *game.Game) // hears after every frame and act what the call has come to
	Stops() string     // why nothing can be done here, "" where it can
	Withheld() bool    // what was wrong and how it went is not to be told yet
	Mark(p *Panels)    // has the finished call judged, or says when it will be
	Speak()            // says all of it again, in another language
}

const (
	textsEveryMS = 250
	chartEveryMS = 500
)

// New fills the page's skeleton for a game that is ready to be played and has its
// FirstLook; kept is what the page held when the game was brought back, nil for a
// new call. heard is what the customer tells in the languages that the scenario does not
// speak; class is that of a drill, nil for a call of one's own.
func New(g *game.Game, calls []Call, heard map[say.Lang]say.Call, kept *game.Save, class Class) *Panels {
	p := &Panels{game: g, calls: calls, words: heard, class: class, main: dom.ByID("page"), drawn: -1, journal: journalShown{lines: -1}, live: live{saidMS: -liveEveryMS}}
	p.look.Lang = g.Look().Lang
	p.openProgress()
	p.build()
	body := dom.Wrap(dom.Document.Get("body"))
	body.On("click", p.clicked)
	body.On("keydown", p.keyed)
	dom.Wrap(js.Global()).On("resize", func(js.Value) { p.refitDebrief() })
	p.buildKeeping(kept)
	p.Sync(0)
	p.syncCharts()
	js.Global().Set("brinebenchReady", true)
	return p
}

// build makes the panels that hold the same things throughout a call.
func (p *Panels) build() {
	p.fillCall()
	p.buildUnit()
	p.buildTests()
	p.buildParts()
	p.buildOrder()
	p.buildCause()
	p.buildCharts()
	dom.BuildLayers()
	p.buildPractice()
	dom.ByID("live").SetText(say.Text("live.hint"))
}

// Sync brings the page up to the game. Call it every frame: panels are made
// anew only when the game says that something has changed. nowMS is the time of
// the frame in ms.
func (p *Panels) Sync(nowMS float64) {
	p.nowMS = nowMS
	changed := p.drawn != p.game.Changes()
	if changed {
		p.drawn = p.game.Changes()
		p.tell(p.game.TakeNotices())
		p.syncVeil()
		p.syncLook()
		p.syncLayers()
		p.syncPace()
		p.syncParts()
		p.syncUnit()
		p.syncNeeds()
		p.syncJournal()
		p.main.Flag("data-closed", p.game.Call().Finished)
		p.syncCause()
		p.syncDebrief()
	}
	if changed || nowMS-p.textsMS >= textsEveryMS {
		p.textsMS = nowMS
		p.syncTimes()
		p.syncBusy()
	}
	if nowMS-p.chartMS >= chartEveryMS {
		p.chartMS = nowMS
		p.syncCharts()
	}
	p.syncLive()
	p.syncSound()
	p.syncDemo()
	p.syncScrub()
	p.syncKeeping()
	if p.class != nil {
		p.class.Note(p.game)
	}
}

// clicked finds the handle that was clicked and does what it stands for.
func (p *Panels) clicked(e js.Value) {
	hit := e.Get("target").Call("closest",
		"[data-act],[data-act-at],[data-test],[data-test-at],[data-conclude],[data-tell],[data-help],[data-grease],[data-demo-at],[data-part],[data-show],[data-pace],[data-units],[data-theme-choice],[data-speak],[data-layer]")
	if hit.IsNull() {
		return
	}
	n := dom.Wrap(hit)
	switch {
	case n.Data("act") != "":
		p.act(n.Data("act"))
	case n.Data("actAt") != "":
		p.act(n.Data("actAt"))
	case n.Data("test") != "":
		p.do(sim.Action{Kind: sim.ActTest, ID: n.Data("test")})
	case n.Data("testAt") != "":
		p.do(sim.Action{Kind: sim.ActTest, ID: n.Data("testAt")})
	case n.Data("conclude") != "":
		line, _ := strconv.Atoi(n.Data("ofLine"))
		p.conclude(line, n.Data("conclude"))
	case n.Data("tell") != "":
		p.do(sim.Action{Kind: sim.ActTell, ID: n.Data("tell")})
	case n.Data("help") != "":
		p.do(sim.Action{Kind: sim.ActHint, ID: n.Data("help")})
	case n.Data("grease") != "":
		p.do(sim.Action{Kind: sim.ActLubricate, Part: p.game.Selected(), ID: n.Data("grease")})
	case n.Data("demoAt") != "":
		line, _ := strconv.Atoi(n.Data("demoAt"))
		p.demoAt(line)
	case n.Data("part") != "":
		p.selectPart(sim.Part(n.Data("part")))
	case n.Data("layer") != "":
		p.setLayer(n.Data("layer"))
	case n.Data("show") != "":
		p.show(n.Data("show"))
	case n.Data("pace") != "":
		p.setPace(n.Data("pace"))
	default:
		p.setLook(n.Data("units"), n.Data("themeChoice"), n.Data("speak"))
	}
	p.Sync(p.nowMS) // not only with the next frame, which may be slow to come
}

// act does what a button with that data-act stands for.
func (p *Panels) act(id string) {
	for _, c := range game.Controls {
		for _, i := range c.Intents {
			if i.ID != id {
				continue
			}
			if i.Now != nil && i.Now(p.game.View()) {
				p.refused(say.Text("intent.already"))
			} else {
				p.do(i.Action)
			}
			return
		}
	}
	part := p.game.Selected()
	switch id {
	case "fold":
		dom.FoldStage()
	case "part-open":
		p.do(sim.Action{Kind: sim.ActOpen, Part: part})
	case "part-refit":
		p.do(sim.Action{Kind: sim.ActRefit, Part: part})
	case "part-clean":
		p.do(sim.Action{Kind: sim.ActClean, Part: part})
	case "bail":
		p.do(sim.Action{Kind: sim.ActBail})
	case "disinfect":
		p.do(sim.Action{Kind: sim.ActDisinfect})
	case "part-set":
		p.do(sim.Action{Kind: sim.ActAdjust, Part: part})
	case "part-replace":
		p.do(sim.Action{Kind: sim.ActReplace, Part: part})
	case "part-close":
		p.closePart()
	case "next-event":
		p.toggleSeek()
	case "plan":
		p.plan()
	case "diagnose":
		p.diagnose()
	case "finish":
		p.finish()
	case "finish-no":
		p.askFinish(false)
	case "finish-yes":
		p.do(sim.Action{Kind: sim.ActFinish})
	case "dismiss":
		p.dismiss()
	case "cancel-debrief":
		p.cancelDebrief()
	case "demo":
		p.Watch()
	case "demo-stop":
		p.demoFailed("demo.stopped")
	case "judge-again":
		p.Judge()
	case "next-call":
		p.openNextCall()
	case "progress-export":
		p.exportProgress()
	case "progress-forget", "progress-forget-no":
		p.askForget(id == "progress-forget")
	case "progress-forget-yes":
		p.forgetProgress()
	case "print":
		js.Global().Call("print")
	case "play-again", "start-anew-yes":
		p.startAnew()
	case "start-anew":
		p.askAnew()
	case "kept-close":
		p.closeKept()
	case "aside-save":
		p.saveAside()
	case "aside-forget":
		p.forgetAside()
	default:
		p.scrubAct(id)
	}
}

// keyed lets Escape put away what lies on top: a warning, the question before the end,
// else the part's sheet, and leave the list of parts, in which arrows follow the water.
func (p *Panels) keyed(e js.Value) {
	key := e.Get("key").String()
	if p.followWater(e, key) || key != "Escape" || dom.ByID("cautions").Get("open").Bool() {
		return
	}
	switch listed := focusedPart(); {
	case p.game.Scrub() != nil:
		p.endScrub()
	case dom.ByID("alert").Get("childElementCount").Int() > 0:
		p.dismiss()
	case p.finishAsked():
		p.askFinish(false)
	case p.game.Selected() != "":
		p.closePart()
	case listed != "":
		dom.All("[data-show=parts]")[0].Call("focus")
	}
	p.Sync(p.nowMS)
}

// dismiss takes the warning away; a focus on it goes back to the section.
func (p *Panels) dismiss() {
	held := dom.ByID("alert").Call("contains", dom.Document.Get("activeElement")).Bool()
	dom.ByID("alert").Become()
	if held {
		dom.ByID("panels").Call("focus", map[string]any{"preventScroll": true})
	}
}

// selectPart opens a part's sheet and goes on from there, not from the list
// below it.
func (p *Panels) selectPart(part sim.Part) {
	p.game.Select(part)
	p.Sync(p.nowMS)
	for _, sheet := range dom.All("#part .sheet") {
		sheet.Call("focus", map[string]any{"preventScroll": true})
	}
}

// closePart lets go of the part; a focus on its sheet goes to its name in the list.
func (p *Panels) closePart() {
	part := p.game.Selected()
	held := focusedHandle() != ""
	p.game.Select("")
	if listed := dom.All("[data-part=" + dom.Quote(string(part)) + "]"); held && len(listed) > 0 {
		listed[0].Call("focus")
	}
}

// do carries out an act; a refusal is told at once, and returned, "" for none.
func (p *Panels) do(a sim.Action) (why string) {
	dom.ByID("alert").Become()
	if p.stopped() {
		return ""
	}
	if err := p.game.Do(a); err != nil {
		why = say.Text("refused", say.Sim(sim.Why(err)))
		p.refused(why)
	}
	return why
}

// refused says why something was not done.
func (p *Panels) refused(why string) { p.say(dom.El("span", dom.Attrs{"class": "refused"}, why)) }

// show makes a section the current one. A search ends with the look at its list.
func (p *Panels) show(section string) {
	if p.main.Data("current") != section {
		endSearches()
	}
	for _, s := range dom.All("[data-section]") {
		s.Get("classList").Call("toggle", "current", s.Data("section") == section)
	}
	for _, b := range dom.All("[data-show]") {
		if b.Data("show") == section {
			b.SetAttr("aria-current", "true")
		} else {
			b.Call("removeAttribute", "aria-current")
		}
	}
	dom.ByID("panels").Value.Set("scrollTop", 0)
	p.main.SetAttr("data-current", section)
	p.refitDebrief()
	if dom.Narrow() {
		dom.BringUp(dom.All(".sec.current")[0])
	}
}
