//go:build js

// Package bench is the page of open operation: what stands on the bench, everything
// that can be set on it, the time it runs in, and what its strip charts show. What it
// shows and does is game/bench; the page's skeleton is wasm/pages/bench.html.
//
// Handles for tests, all stable:
//
//	[data-pace=P] [data-bench=next-event|end] [data-back=SECONDS] #scrub #moment   time
//	main[data-tick] [data-end]     the moment shown, and the last one, in ticks
//	main[data-hash]                hash of all units, while time stands
//	main[data-jump-ms]             how long the last jump took until it was shown
//	main[data-opening]             what a link holds is being lived
//	[data-side=0|1|both]           which unit the controls set
//	[data-knob=ID] [data-number=ID] [data-push=ID] [data-switch=ID]   a knob: slider, number, button, toggle
//	#knob-search                   find a knob
//	#figures tr[data-quantity=ID]  a figure; input[data-chart=ID] has it charted
//	figure[data-trace=ID]          a strip; #cursor-1 #cursor-2; [data-bench=cursor-show] [data-bench=csv]
//	#what-if[data-on]              a what-if goes on; [data-bench=what-if|keep|back|as-was]
//	#unit-0 #unit-1 [data-bench=double|without-0|without-1|anew|link|copy]
//	#link-text #link svg           the link and its code
package bench

import (
	"strconv"
	"syscall/js"

	"brinebench/game"
	core "brinebench/game/bench"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// Unit is something that can be put on the bench.
type Unit struct {
	ID    string
	Title func() string // in the language spoken
	Free  bool          // of no call
}

// Page is the page of the bench.
type Page struct {
	Bench *core.Bench
	units []Unit
	open  core.Opener
	clock func() float64

	look     game.Look
	selected sim.Part
	side     string // "0", "1" or "both"
	charts   []int  // quantities charted
	cursors  [2]int64
	link     string  // shown; "" none
	sought   string  // typed into the box that finds a knob
	toldMS   float64 // when what was said is to go; 0: it stays
	trouble  error   // of the bench, told last
	strips   []chart
	controls []control
	figures  []figure
	seen     seen
	changes  int
	nowMS    float64
	textsMS  float64
	chartsMS float64
	setMS    float64     // when a slider that moves last set something
	before   []witnessed // by unit: as time was let run to the next event; nil while it is not
	jumpS    float64     // when a jump began; 0: none under way
}

// seen is what the parts of the page that are made anew depend on.
type seen struct {
	bench, page int
	lang        say.Lang
	si          bool
	knobs       string
	figures     string
	units       int
}

const (
	textsEveryMS  = 250
	chartsEveryMS = 400
	sliderEveryMS = 200
	mostCharts    = 8
	forNowMS      = 5000
)

// firstCharts are charted until others are chosen.
var firstCharts = []string{"pressure.2", "flow.17", "brine-level", "hardness.12"}

// New fills the page for what the address holds behind its #.
func New(link string, units []Unit, open core.Opener, clock func() float64) (*Page, error) {
	p := &Page{units: units, open: open, clock: clock, look: dom.FirstLook(), side: "0"}
	said := p.start(link)
	if p.Bench == nil {
		if err := p.take(core.Plan{Units: []string{units[0].ID}, Seed: 1}); err != nil {
			return nil, err
		}
		p.Bench.SetPace(1)
	}
	if len(p.charts) == 0 {
		p.chart(firstCharts)
	}
	body := dom.Wrap(dom.Document.Get("body"))
	body.On("click", p.clicked)
	body.On("change", p.changed)
	body.On("input", p.moved)
	dom.Wrap(js.Global()).On("hashchange", func(js.Value) { js.Global().Get("location").Call("reload") })
	p.Sync(0)
	if said != "" {
		p.tell(said)
	}
	js.Global().Set("brinebenchReady", true)
	return p, nil
}

// start puts what a link holds on the bench; what it returns is wrong with it.
func (p *Page) start(text string) (wrong string) {
	if text == "" {
		return ""
	}
	l, err := core.Decode(text)
	if err == nil {
		err = p.take(l.Plan)
	}
	if err != nil {
		return say.Text("bench.bad-link", err.Error())
	}
	p.chart(l.Charts)
	if l.OverS > 0 {
		dom.ByID("charts-over").Value.Set("value", dom.Decimals(l.OverS, 0))
	}
	return ""
}

// take puts a plan on the bench.
func (p *Page) take(plan core.Plan) error {
	b, err := core.New(plan, p.open, p.clock)
	if err != nil {
		return err
	}
	p.Bench, p.link, p.cursors = b, "", [2]int64{}
	if p.side != "0" && len(plan.Units) < 2 {
		p.side = "0"
	}
	p.seen, p.changes = seen{lang: p.seen.lang}, p.changes+1
	return nil
}

// chart has quantities charted.
func (p *Page) chart(ids []string) {
	p.charts = nil
	for _, id := range ids {
		if q, ok := core.QuantityAt(id); ok {
			p.charts = append(p.charts, q)
		}
	}
}

// Look returns how things are shown.
func (p *Page) Look() game.Look { return p.look }

// Selected and Select are for the canvas.
func (p *Page) Selected() sim.Part { return p.selected }

// Select makes a part the one that the person looks at: the controls that are about it
// come to the front.
func (p *Page) Select(part sim.Part) {
	if part != p.selected {
		p.selected = part
		p.changes++
	}
}

// tell says something once.
func (p *Page) tell(text string) {
	dom.ByID("live").SetText(text)
	p.toldMS = 0
}

// tellForNow says something that goes after a while, or with the next press.
func (p *Page) tellForNow(text string) {
	p.tell(text)
	p.toldMS = p.nowMS + forNowMS
}

// Sync brings the page up to the bench. Call it every frame.
func (p *Page) Sync(nowMS float64) {
	p.nowMS = nowMS
	if p.toldMS > 0 && nowMS >= p.toldMS {
		p.tell("")
	}
	if s := p.Bench.TakeIdle(); s > 0 {
		p.tellForNow(say.Text("notice.nothing", game.TimeSpan(s)))
	}
	p.syncEvent()
	fresh := seen{bench: p.Bench.Changes(), page: p.changes}
	if anew := fresh.bench != p.seen.bench || fresh.page != p.seen.page; anew {
		p.seen.bench, p.seen.page = fresh.bench, fresh.page
		p.syncLook()
		p.syncWhatIf()
		p.syncKnobs()
		p.syncUnits()
		p.syncFigures()
		p.textsMS, p.chartsMS = nowMS-textsEveryMS, nowMS-chartsEveryMS
	}
	if nowMS-p.textsMS >= textsEveryMS {
		p.textsMS = nowMS
		p.syncTime()
		p.syncCaptions()
		p.fillFigures()
	}
	if nowMS-p.chartsMS >= chartsEveryMS {
		p.chartsMS = nowMS
		p.syncCharts()
	}
	p.arrived()
}

// syncLook shows a look that has changed.
func (p *Page) syncLook() {
	dom.ShowLook(p.look)
	if p.seen.lang != p.look.Lang || p.seen.si != p.look.SI || len(dom.All("#layers")) == 0 {
		p.seen = seen{bench: p.seen.bench, page: p.seen.page, lang: p.look.Lang, si: p.look.SI}
		dom.BuildLayers()
		p.strips = nil
	}
	dom.ShowLayers(p.look, p.hasSection())
}

// hasSection tells whether a picture has room for a section of the part chosen.
func (p *Page) hasSection() bool {
	stage, many := dom.ByID("stage"), float64(len(p.Bench.Pictures()))
	w, h := stage.Get("clientWidth").Float(), stage.Get("clientHeight").Float()
	if dom.ByID("captions").Data("split") == "column" {
		h /= many
	} else {
		w /= many
	}
	return viewmodel.HasSection(p.selected, p.Bench.View(0, false), w, h)
}

// clicked does what a button stands for.
func (p *Page) clicked(e js.Value) {
	hit := e.Get("target").Call("closest", "[data-bench],[data-pace],[data-back],[data-show],[data-side],[data-push],[data-switch],[data-layer],[data-act],[data-units],[data-theme-choice],[data-speak],.plot")
	if hit.IsNull() {
		return
	}
	if p.toldMS > 0 {
		p.tell("")
	}
	n := dom.Wrap(hit)
	switch {
	case n.Data("bench") != "":
		p.act(n.Data("bench"))
	case n.Data("pace") != "":
		p.setPace(n.Data("pace"))
	case n.Data("back") != "":
		seconds, _ := strconv.ParseInt(n.Data("back"), 10, 64)
		p.jump(p.Bench.Tick() - seconds*ticksPerS)
	case n.Data("show") != "":
		p.show(n.Data("show"))
	case n.Data("side") != "":
		p.side = n.Data("side")
		p.changes++
	case n.Data("push") != "":
		p.set(n.Data("push"), 1)
	case n.Data("switch") != "":
		v, _ := strconv.ParseFloat(n.Data("value"), 64)
		p.set(n.Data("switch"), v)
	case n.Data("act") == "fold":
		dom.FoldStage()
	case n.Data("layer") != "":
		p.look.Layers = p.look.Layers.Toggled(n.Data("layer"))
		p.changes++
	case n.Get("classList").Call("contains", "plot").Bool():
		p.point(n, e)
	default:
		p.look = dom.ChosenLook(p.look, n.Data("units"), n.Data("themeChoice"), n.Data("speak"))
		p.tell("") // it was said in the words and units of before
		p.changes++
	}
	p.Sync(p.nowMS)
}

// changed takes what lists and fields are set to.
func (p *Page) changed(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	switch id := n.Get("id").String(); {
	case n.Data("knob") != "":
		p.slide(n, true)
	case n.Data("number") != "":
		p.enter(n)
	case n.Data("chart") != "":
		p.toggleChart(n.Data("chart"), n.Get("checked").Bool())
	case id == "unit-0" || id == "unit-1":
		p.putUnit(int(id[len(id)-1]-'0'), n.Get("value").String())
	case id == "charts-over":
		p.changes++
	}
	p.Sync(p.nowMS)
}

// moved takes what sliders are moved to, while they move.
func (p *Page) moved(e js.Value) {
	n := dom.Wrap(e.Get("target"))
	switch id := n.Get("id").String(); {
	case id == "scrub":
		p.jump(int64(n.Get("valueAsNumber").Float()))
	case id == "cursor-1" || id == "cursor-2":
		p.cursors[id[len(id)-1]-'1'] = int64(n.Get("valueAsNumber").Float())
		p.syncCharts()
	case id == "knob-search":
		p.find(n.Get("value").String())
	case n.Data("knob") != "":
		p.slide(n, false)
	}
}

// act does what a button of the bench stands for.
func (p *Page) act(id string) {
	b := p.Bench
	switch id {
	case "next-event":
		if b.Seeking() {
			b.SetPace(0)
		} else {
			b.Seek()
			p.witness()
		}
	case "end":
		p.jump(b.EndTick())
	case "cursor-show":
		p.jump(p.cursors[0])
	case "csv":
		p.saveCSV()
	case "what-if":
		b.Branch()
	case "keep", "back":
		b.EndWhatIf(id == "keep")
		dom.ByID("scrub").Call("focus", map[string]any{"preventScroll": true})
	case "as-was":
		b.ShowWas(!b.AsWas())
	case "part-close":
		p.Select("")
	default:
		p.actUnits(id)
	}
}

// show brings a section to the front.
func (p *Page) show(section string) {
	dom.ByID("page").SetAttr("data-current", section)
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
	p.textsMS, p.chartsMS = p.nowMS-textsEveryMS, p.nowMS-chartsEveryMS
	if dom.Narrow() {
		dom.BringUp(dom.All(".sec.current")[0])
	}
}
