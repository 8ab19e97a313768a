//go:build js

package sequence

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"syscall/js"
	"time"

	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/game/study"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// Page is the page on which a valve's sequence is practised.
type Page struct {
	Drill   *cycle.Drill
	benches []cycle.Bench
	bench   string

	kinds   []sim.ExerciseKind // asked for; the first is the one chosen, or all
	named   string             // of the answer under way, as are the next three
	set     sim.Seats
	way     []sim.Path
	steps   []sim.ProgramStep
	names   []string // of the marks of a drum without names
	asked   bool     // whether it is meant as it is, with something left out
	turn    int      // counts the exercises taken up
	run     run
	begunMS float64
	race    race
	nowMS   float64
	drawn   int
	result  func() // tells the last answer again
	shown   look
	task    *task // of a class, nil for practice
}

// look is what the words and figures of an answer depend on.
type look struct {
	si   bool
	lang say.Lang
}

// race is practice against the clock.
type race struct {
	endMS        float64 // 0: none under way
	right, asked int
	told         string // ID of what the last one ended with, "" before
	best         int    // of all so far
}

const (
	raceMS   = 120_000
	cycleKey = "brinebench.sequence"
	bestKey  = "brinebench.sequence.best"
)

// New fills the page for practice on the first of the benches, or for a class's drill on
// it where one is given.
func New(benches []cycle.Bench, drill *attend.Drill) (*Page, error) {
	c := &Page{benches: benches, kinds: sim.ExerciseKinds(), drawn: -1}
	if err := c.take(benches[0].ID); err != nil {
		return nil, err
	}
	if drill != nil {
		c.task = newTask(c, drill)
	} else if text, _ := dom.Stored(cycleKey); text != "" {
		if record, err := study.Decode("sequence", []byte(text)); err == nil {
			c.Drill.Progress = record
		}
	}
	c.Drill.SetLook(dom.FirstLook())
	body := dom.Wrap(dom.Document.Get("body"))
	body.On("click", c.clicked)
	body.On("change", c.changed)
	c.next()
	c.Sync(0)
	js.Global().Set("brinebenchReady", true)
	return c, nil
}

// Attend takes part in the class whose drill is on the page.
func (c *Page) Attend() {
	if len(c.task.answers) > 0 && !c.task.drill.Over() {
		c.task.keep() // the server may not have had all
	}
	c.task.drill.Attend(c.task.stand)
}

// take takes up a bench; the record and the look stay.
func (c *Page) take(bench string) error {
	i := max(0, slices.IndexFunc(c.benches, func(b cycle.Bench) bool { return b.ID == bench }))
	unit, err := c.benches[i].Open()
	if err != nil {
		return err
	}
	d := cycle.New(unit)
	if c.Drill != nil {
		d.Progress = c.Drill.Progress
		d.SetLook(c.Drill.Look())
	}
	c.Drill, c.bench, c.drawn = d, bench, -1
	return nil
}

// Sync brings the page up to the drill. Call it every frame.
func (c *Page) Sync(nowMS float64) {
	c.nowMS = nowMS
	if c.drawn != c.Drill.Changes() {
		c.drawn = c.Drill.Changes()
		c.syncLook()
		c.fillSetup()
		c.fillQuestion()
	}
	c.runRace() // its clock is in what has just been filled
}

// syncLook shows a look that has changed; the last answer is told again in its words.
func (c *Page) syncLook() {
	l := c.Drill.Look()
	dom.ShowLook(l)
	if was := (look{l.SI, l.Lang}); was != c.shown {
		c.shown = was
		dom.BuildLayers()
		if c.result != nil {
			c.result()
		}
		c.fillRun()
		if c.task != nil {
			c.task.speak()
		}
	}
	stage := dom.ByID("stage")
	dom.ShowLayers(l, viewmodel.HasSection(c.Drill.Selected(), c.Drill.View(), stage.Get("clientWidth").Float(), stage.Get("clientHeight").Float()))
}

// next takes up the next exercise.
func (c *Page) next() {
	if c.task != nil {
		c.task.next()
		return
	}
	kinds := c.kinds
	if c.race.endMS > 0 {
		kinds = cycle.Quick(kinds)
	}
	c.Drill.Next(kinds, time.Now().Unix())
	c.begin()
}

// begin clears the answer for the exercise taken up.
func (c *Page) begin() {
	c.named, c.set, c.way, c.steps, c.names, c.asked, c.begunMS, c.result = "", sim.Seats{}, nil, nil, nil, false, c.nowMS, nil
	c.turn++
	switch c.Drill.Exercise().Kind {
	case sim.BuildProgram:
		c.steps = []sim.ProgramStep{newStep}
	case sim.ReadDrum:
		c.names = make([]string, len(c.Drill.Drum().Marks))
	}
	dom.ByID("answer").Become()
	c.fillRun()
	hear("", false)
}

// hear says something in the live region. What is read on the page beside it is only heard.
func hear(text string, beside bool) {
	live := dom.ByID("live")
	live.SetText(text)
	live.Flag("data-beside", beside)
}

// answered enters an answer, 0..100, and says it.
func (c *Page) answered(score float64, tell func() []dom.Node) {
	if c.task != nil && c.task.takes() {
		return
	}
	c.Drill.Answer(score, time.Now().Unix(), (c.nowMS-c.begunMS)/1000)
	c.keep()
	if c.race.endMS > 0 {
		c.race.asked++
		if score == 100 {
			c.race.right++
		}
	}
	c.result = func() {
		head := verdict(score)
		box := dom.ByID("answer")
		box.Become(dom.El("h3", dom.Attrs{"tabindex": "-1", "data-right": dom.Decimals(score, 0)}, head), tell(),
			dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("cycle.next"), dom.Attrs{"class": "main", "data-cycle": "next"})))
	}
	held := dom.ByID("question").Call("contains", dom.Document.Get("activeElement")).Bool() // by a button that is of no more use
	c.result()
	dom.ByID("answer").Call("scrollIntoView", map[string]any{"block": "nearest"})
	if held {
		dom.All("#answer > h3")[0].Call("focus", map[string]any{"preventScroll": true})
	}
	var told []string
	for _, n := range dom.All("#answer > :is(h3, p)") {
		told = append(told, say.Ended(n.Get("textContent").String()))
	}
	hear(strings.Join(told, " "), true)
}

// keep puts the record into the browser's storage.
func (c *Page) keep() {
	if c.task != nil { // the class's
		return
	}
	dom.Store(cycleKey, string(c.Drill.Progress.Encode()))
}

// verdict is a score in words.
func verdict(score float64) string {
	switch {
	case score == 100:
		return say.Text("cycle.right")
	case score > 0:
		return say.Text("cycle.partly", int(math.Round(score)))
	}
	return say.Text("cycle.wrong")
}

// runRace ends practice against the clock when its time is over.
func (c *Page) runRace() {
	if c.race.endMS == 0 {
		return
	}
	left := int(math.Ceil((c.race.endMS - c.nowMS) / 1000))
	dom.ByID("race-left").SetText(say.Text("cycle.left", max(left, 0), c.race.right))
	if left <= 0 {
		c.endRace("cycle.over")
	}
}

// endRace ends it and tells what came of it.
func (c *Page) endRace(told string) {
	best := c.race.right
	if text, _ := dom.Stored(bestKey); text != "" {
		was, _ := strconv.Atoi(text) // 0 where it is no number
		best = max(best, was)
	}
	dom.Store(bestKey, dom.Decimals(float64(best), 0))
	c.race.endMS, c.race.told, c.race.best = 0, told, best
	c.next()
	c.Sync(c.nowMS)
	dom.All(".raced")[0].Call("focus")
	hear(c.raceTold(), true)
}

// raceTold is what came of the last practice against the clock.
func (c *Page) raceTold() string {
	return say.Text(c.race.told, c.race.right, c.race.asked, c.race.best)
}

// clicked does what a button stands for.
func (c *Page) clicked(e js.Value) {
	hit := e.Get("target").Call("closest", "[data-cycle],[data-kind],[data-stop],[data-seat],[data-passage],[data-units],[data-theme-choice],[data-speak],[data-layer],[data-act]")
	if hit.IsNull() {
		return
	}
	n := dom.Wrap(hit)
	switch {
	case n.Data("cycle") != "":
		c.act(n.Data("cycle"))
	case n.Data("kind") != "":
		c.choose(n.Data("kind"))
		c.ask()
	case n.Data("stop") != "":
		c.nameStop(n.Data("stop"))
	case n.Data("seat") != "":
		c.turnSeat(n)
	case n.Data("passage") != "":
		c.addPassage(n)
	case n.Data("act") == "fold":
		dom.FoldStage()
	case n.Data("layer") != "":
		l := c.Drill.Look()
		l.Layers = l.Layers.Toggled(n.Data("layer"))
		c.Drill.SetLook(l)
	default:
		l := c.Drill.Look()
		c.Drill.SetLook(dom.ChosenLook(l, n.Data("units"), n.Data("themeChoice"), n.Data("speak")))
	}
	c.Sync(c.nowMS)
}

func (c *Page) act(id string) {
	switch id {
	case "next":
		c.next()
		c.ask()
	case "check":
		c.check()
	case "undo":
		if len(c.way) > 0 {
			c.way = c.way[:len(c.way)-1]
			c.fillQuestion()
		}
	case "race":
		c.race = race{endMS: c.nowMS + raceMS}
		c.next()
		c.ask()
	case "race-stop":
		c.endRace("cycle.stopped")
	case "add", "drop":
		c.changeSteps(id)
	case "run-stop":
		c.stopRun()
	case "run-close":
		c.run = run{}
		c.fillRun()
		dom.ByID("question-h").Call("focus")
	}
}

// check answers what is not answered by one press.
func (c *Page) check() {
	if c.Drill.Answered() || c.askBack() {
		return
	}
	switch c.Drill.Exercise().Kind {
	case sim.SetSeats:
		c.checkSeats()
	case sim.TracePath:
		c.checkPath()
	case sim.ReadDrum:
		c.checkDrum()
	case sim.BuildProgram:
		c.startRun()
	}
}

// ask brings the exercise up, with all in its place that stands above it.
func (c *Page) ask() {
	c.Sync(c.nowMS)
	dom.ByID("question-h").Call("focus")
}

// choose picks a kind of exercise, or all.
func (c *Page) choose(kind string) {
	c.kinds = sim.ExerciseKinds()
	if kind != "all" {
		c.kinds = []sim.ExerciseKind{sim.ExerciseKind(kind)}
	}
	c.next()
}

// changed takes what lists and fields are set to.
func (c *Page) changed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	switch {
	case n.Get("id").String() == "bench":
		if c.take(n.Get("value").String()) == nil {
			c.next()
		}
	case n.Data("step") != "":
		c.setStep(n)
	case n.Data("mark") != "":
		c.setMark(n)
	}
	c.Sync(c.nowMS)
}
