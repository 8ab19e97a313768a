//go:build js

package panel

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// scrub shows a finished call again, moment by moment: the person's own in the
// debrief, or an expert's.
type scrub struct {
	id, title, words, whose         string
	begin                           func() *game.Scrub // shows it on the drawing
	call                            func() *sim.Call
	end                             func() int64 // its last tick
	box                             dom.Node     // undefined until it is asked for
	slider, line, last, start, pace dom.Node
	shown                           scrubShown
}

// scrubShown is what a scrubber on the page depends on, and the head over the drawing.
type scrubShown struct {
	active, there bool
	demo          bool // it is the expert's
	tick          int64
	pace          float64
}

// scrubStep is how far one step of the slider goes, in ticks: ten seconds.
const scrubStep = int64(10 / sim.TickS)

// scrubBox makes the scrubber of the person's own call, once.
func (p *Panels) scrubBox() dom.Node {
	s := &p.scrub
	if s.box.IsUndefined() {
		*s = scrub{
			id: "replay", title: say.Text("replay.title"),
			words: say.Text("replay.words"),
			whose: "mine", begin: p.game.BeginScrub, call: p.game.Call, end: p.game.Tick,
		}
		s.build(p)
	}
	return s.box
}

// scrubbed is the scrubber of the section shown.
func (p *Panels) scrubbed() *scrub { return p.scrubOf(p.main.Data("current") == "demo") }

// scrubOf is that of the expert's call, or of the person's own.
func (p *Panels) scrubOf(demo bool) *scrub {
	if demo {
		return &p.demo.scrub
	}
	return &p.scrub
}

// play lets a call go by that stands, and stops one that goes by.
func (s *scrub) play(at *game.Scrub) {
	pace := 0.0
	if at.Pace() == 0 {
		pace = s.chosenPace()
	}
	at.Play(pace)
}

func (s *scrub) build(p *Panels) {
	end := s.end()
	s.slider = dom.El("input", dom.Attrs{
		"type": "range", "id": s.id + "-at", "min": "0", "max": strconv.FormatInt((end+scrubStep-1)/scrubStep, 10), "step": "1", "data-unkept": "",
		"aria-label": say.Text("replay.slider"),
	})
	s.line, s.last = dom.El("output", dom.Attrs{"for": s.id + "-at"}), dom.El("p", dom.Attrs{"class": "last", "aria-live": "polite"})
	s.start = dom.Button(say.Text("replay.play"), dom.Attrs{"data-act": "replay-play"})
	s.pace = dom.El("select", dom.Attrs{"id": s.id + "-pace", "data-unkept": ""})
	for _, pace := range game.ScrubPaces {
		s.pace.Add(dom.El("option", dom.Attrs{"value": dom.Decimals(pace, 0)}, dom.Decimals(pace, 0)+"×"))
	}
	s.pace.Value.Set("value", "60")
	s.box = dom.El("section", dom.Attrs{"class": "replay", "aria-labelledby": s.id + "-again-h"},
		dom.El("h3", dom.Attrs{"id": s.id + "-again-h"}, s.title),
		dom.El("p", nil, s.words),
		actMarks(s.call().Journal, end), s.slider, dom.El("small", nil, marksInWords(s.call().Journal, s.whose)), s.line,
		dom.El("div", dom.Attrs{"class": "pushes"},
			dom.Button(say.Text("replay.before"), dom.Attrs{"data-act": "replay-before"}),
			dom.Button(say.Text("replay.after"), dom.Attrs{"data-act": "replay-after"}),
			dom.El("span", dom.Attrs{"class": "runs"}, s.start, dom.El("label", nil, say.Text("replay.at")+" ", s.pace)), dom.Button(say.Text("replay.back"), dom.Attrs{"data-act": "replay-end"})),
		s.last)
	s.slider.On("input", func(js.Value) {
		p.scrubTo(s, int64(s.slider.Get("valueAsNumber").Float())*scrubStep)
	})
	s.pace.On("change", func(js.Value) {
		if at := p.game.Scrub(); at != nil && at.Pace() > 0 {
			at.Play(s.chosenPace())
		}
	})
	s.shown.tick = -1
}

// actMarks draws a line over the slider for each act; those stopped as unsafe
// are tall and heavy.
func actMarks(journal []sim.Entry, end int64) dom.Node {
	var acts, unsafe strings.Builder
	for i := range journal {
		x := dom.Decimals(1000*float64(journal[i].Tick)/float64(max(end, 1)), 1)
		if journal[i].Unsafe {
			unsafe.WriteString("M" + x + " 0V16")
		} else {
			acts.WriteString("M" + x + " 7V16")
		}
	}
	return dom.El("div", dom.Attrs{"class": "acts"}, dom.SVG("svg", dom.Attrs{"viewBox": "0 0 1000 16", "preserveAspectRatio": "none", "aria-hidden": "true"},
		dom.SVG("path", dom.Attrs{"class": "act-mark", "d": acts.String()}), dom.SVG("path", dom.Attrs{"class": "act-mark unsafe", "d": unsafe.String()})))
}

func marksInWords(journal []sim.Entry, whose string) string {
	if slices.ContainsFunc(journal, func(e sim.Entry) bool { return e.Unsafe }) {
		return say.Text("replay.marks-unsafe-" + whose)
	}
	return say.Text("replay.marks-" + whose)
}

func (s *scrub) chosenPace() float64 {
	pace, err := strconv.ParseFloat(s.pace.Get("value").String(), 64)
	if err != nil {
		return game.ScrubPaces[0]
	}
	return pace
}

// scrubTo shows the moment at a tick and lets time stand there.
func (p *Panels) scrubTo(s *scrub, tick int64) {
	at := s.begin()
	at.Play(0)
	at.GoTo(tick)
	p.syncScrub()
}

func (p *Panels) scrubAct(id string) {
	if at := p.game.Scrub(); id == "replay-pause" && at != nil { // of the head, for what the drawing shows
		p.scrubOf(at.Demo()).play(at)
		return
	}
	if s := p.scrubbed(); !s.box.IsUndefined() {
		switch id {
		case "replay-play":
			s.play(s.begin())
		case "replay-before", "replay-after":
			p.scrubTo(s, s.begin().Neighbour(id == "replay-after"))
		case "replay-end":
			p.endScrub()
		}
	}
}

// endScrub goes back to the end of the call; a focus on the drawing's button goes to the
// slider. From the expert's call it is one's own that is talked of again.
func (p *Panels) endScrub() {
	held := dom.ByID("replay").Call("contains", dom.Document.Get("activeElement")).Bool()
	s, expert := p.scrubbed(), p.replay.demo
	p.game.EndScrub()
	p.syncScrub()
	switch own := map[bool]string{true: "debrief", false: "log"}[p.game.Call().Finished]; {
	case expert && p.main.Data("current") == "demo":
		p.say(say.Text("replay.yours"))
		p.show(own)
		dom.All("[data-show=" + own + "]")[0].Call("focus", map[string]any{"preventScroll": true})
	case held:
		s.slider.Call("focus", map[string]any{"preventScroll": true})
	}
}

// syncScrub shows which moment of which call is on the drawing.
func (p *Panels) syncScrub() {
	p.scrub.sync(p, false)
	p.demo.scrub.sync(p, true)
	now := scrubNow(p.game.Scrub(), 0)
	if now == p.replay {
		return
	}
	if now.demo && !p.replay.demo {
		p.say(say.Text("demo.shown"))
	}
	p.replay = now
	dom.ByID("replay").Hide(!now.active)
	pause := dom.ByID("replay-pause")
	pause.SetAttr("aria-label", playOrPause(now))
	pause.Become(playMark(now))
	p.main.Flag("data-replay", now.active)
	switch {
	case !now.active:
	case now.demo:
		dom.ByID("replay-back").SetText(say.Text("replay.your-call"))
		dom.ByID("replay-line").SetText(momentInWords(now, p.game.DemoTicks(), "expert"))
	default:
		dom.ByID("replay-back").SetText(say.Text("replay.back"))
		dom.ByID("replay-line").SetText(momentInWords(now, p.game.Tick(), "replay"))
	}
}

// scrubNow is what is shown of a call's earlier moments; where nothing is, its end.
func scrubNow(at *game.Scrub, end int64) scrubShown {
	if at == nil {
		return scrubShown{tick: end, there: true}
	}
	return scrubShown{true, at.There(), at.Demo(), at.Tick(), at.Pace()}
}

// sync shows on the scrubber which moment of its call is on the drawing.
func (s *scrub) sync(p *Panels, demo bool) {
	if s.box.IsUndefined() {
		return
	}
	at := p.game.Scrub()
	if at != nil && at.Demo() != demo {
		at = nil
	}
	now := scrubNow(at, s.end())
	if now == s.shown {
		return
	}
	s.shown = now
	words := momentInWords(now, s.end(), "replay")
	s.line.SetText(words)
	s.slider.SetAttr("aria-valuetext", words)
	s.slider.Value.Set("value", strconv.FormatInt((now.tick+scrubStep-1)/scrubStep, 10))
	s.start.SetText(playOrPause(now))
	s.last.SetText("")
	if at == nil {
		if !demo {
			p.main.SetAttr("data-hash", strconv.FormatUint(p.game.Hash(), 16))
		}
		return
	}
	if e := at.Last(); e != nil {
		s.last.SetText(p.lastTold(e))
	}
	p.retell(at)
}

// lastTold is an act that is done, in words.
func (p *Panels) lastTold(e *sim.Entry) string {
	return say.Text("replay.last", minuteOf(e.Tick), sentence(e.Text, e.Reading, p.game.Look()))
}

// retold is what stands large under the drawing.
type retold struct {
	demo bool
	line int    // of the journal
	told string // of it
}

// retell shows large what is being done at the moment shown, or was done last, and why: anew
// only where that has changed, for this runs in every frame of a call that goes by.
func (p *Panels) retell(at *game.Scrub) {
	told := ""
	line, doing := at.Doing()
	if line >= 0 {
		told = say.Text("replay.now", minuteOf(at.Moments()[line].Entry.Tick), say.Sim(doing))
	} else if e := at.Last(); e != nil {
		line, told = at.Line(), p.lastTold(e)
	}
	if at.Demo() && line >= 0 {
		p.markReason(line)
	}
	now := retold{at.Demo(), line, told}
	if now == p.retold {
		return
	}
	p.retold = now
	box := dom.ByID("retold")
	box.Become()
	if told == "" { // nothing has been begun
		return
	}
	box.Add(dom.El("p", nil, told))
	if at.Demo() && line >= 0 {
		why, _ := p.game.Reason(line)
		box.Add(dom.El("p", dom.Attrs{"class": "why"}, say.Sim(why)))
	}
}

func playOrPause(now scrubShown) string {
	if now.pace > 0 {
		return say.Text("replay.pause")
	}
	return say.Text("replay.play")
}

// playMark is the same drawn, for the head, where there is little room.
func playMark(now scrubShown) dom.Node {
	d := "M3 1L11 6.5L3 12Z"
	if now.pace > 0 {
		d = "M2 1H5V12H2Z M8 1H11V12H8Z"
	}
	return dom.SVG("svg", dom.Attrs{"class": "mark", "viewBox": "0 0 13 13", "aria-hidden": "true"}, dom.SVG("path", dom.Attrs{"d": d}))
}

// momentInWords says which moment of a call is shown: of one's own, "replay", or of
// an "expert".
func momentInWords(s scrubShown, end int64, whose string) string {
	whole := math.Floor(float64(end) * sim.TickS / 60) // as they are told everywhere else
	minute := func(tick int64) string { return say.Number(min(float64(tick)*sim.TickS/60, whole), 1) }
	of := say.Number(whole, 0)
	switch {
	case !s.active:
		return say.Text(whose+".end", minute(end))
	case !s.there && s.pace == 0:
		return say.Text(whose+".going", minute(s.tick), of)
	}
	return say.Text(whose+".minute", minute(s.tick), of)
}

// onceMore offers the ways on from a debrief.
func (p *Panels) onceMore() dom.Node {
	other := freshQuery(p.game.Setup().CallID, p.game.Seed()+1)
	ways := dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("practice.next"), dom.Attrs{"data-act": "next-call"}), playAgain(),
		dom.El("a", dom.Attrs{"class": "push", "href": other, "data-once-more": "seed"}, say.Text("again.seed")))
	if alike := lookAlike(p.calls); alike != "" {
		_, query := stateOf(alike)
		ways.Add(dom.El("a", dom.Attrs{"class": "push", "href": query, "data-once-more": "alike"}, say.Text("again.alike")))
	}
	return ways
}

// lookAlike is the next call of the open one's group, from the last on to the
// first, "" when it is alone.
func lookAlike(calls []Call) string {
	open := slices.IndexFunc(calls, func(c Call) bool { return c.Open })
	if open < 0 || calls[open].Group == "" {
		return ""
	}
	for i := range calls {
		if c := calls[(open+1+i)%len(calls)]; c.Group == calls[open].Group && !c.Open {
			return c.ID
		}
	}
	return ""
}
