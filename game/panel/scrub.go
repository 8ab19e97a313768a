//go:build js

package panel

import (
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
	id, title, words, whose        string
	begin                          func() *game.Scrub // shows it on the drawing
	call                           func() *sim.Call
	end                            func() int64 // its last tick
	box                            dom.Node     // undefined until it is asked for
	slider, line, last, play, pace dom.Node
	shown                          scrubShown
}

// scrubShown is what the scrubber on the page depends on.
type scrubShown struct {
	active, there bool
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

// scrubbed is the scrubber in use: that of the call on the drawing, or else of the
// section shown.
func (p *Panels) scrubbed() *scrub {
	at := p.game.Scrub()
	if at != nil && at.Demo() || at == nil && p.main.Data("current") == "demo" {
		return &p.demo.scrub
	}
	return &p.scrub
}

func (s *scrub) build(p *Panels) {
	end := s.end()
	s.slider = dom.El("input", dom.Attrs{
		"type": "range", "id": s.id + "-at", "min": "0", "max": strconv.FormatInt((end+scrubStep-1)/scrubStep, 10), "step": "1", "data-unkept": "",
		"aria-label": say.Text("replay.slider"),
	})
	s.line, s.last = dom.El("output", dom.Attrs{"for": s.id + "-at"}), dom.El("p", dom.Attrs{"class": "last", "aria-live": "polite"})
	s.play = dom.Button(say.Text("replay.play"), dom.Attrs{"data-act": "replay-play"})
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
			dom.Button(say.Text("replay.before"), dom.Attrs{"data-act": "replay-before"}), s.play,
			dom.Button(say.Text("replay.after"), dom.Attrs{"data-act": "replay-after"}),
			dom.El("label", nil, say.Text("replay.at")+" ", s.pace), dom.Button(say.Text("replay.back"), dom.Attrs{"data-act": "replay-end"})),
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
	if s := p.scrubbed(); !s.box.IsUndefined() {
		switch id {
		case "replay-play":
			at := s.begin()
			if at.Pace() > 0 {
				at.Play(0)
			} else {
				at.Play(s.chosenPace())
			}
		case "replay-before", "replay-after":
			p.scrubTo(s, s.begin().Neighbour(id == "replay-after"))
		case "replay-end":
			p.endScrub()
		}
	}
}

// endScrub goes back to the end of the call; a focus on the drawing's button goes to the slider.
func (p *Panels) endScrub() {
	held := dom.ByID("replay").Call("contains", dom.Document.Get("activeElement")).Bool()
	s := p.scrubbed()
	p.game.EndScrub()
	p.syncScrub()
	if held {
		s.slider.Call("focus", map[string]any{"preventScroll": true})
	}
}

// syncScrub shows which moment is on the drawing.
func (p *Panels) syncScrub() {
	s := p.scrubbed()
	if s.box.IsUndefined() {
		return
	}
	now := scrubShown{tick: s.end(), there: true}
	at := p.game.Scrub()
	if at != nil {
		now = scrubShown{true, at.There(), at.Tick(), at.Pace()}
	}
	if now == s.shown {
		return
	}
	s.shown = now
	dom.ByID("replay").Hide(!now.active)
	dom.ByID("replay-back").SetText(say.Text("replay.back"))
	if s == &p.demo.scrub {
		dom.ByID("replay-back").SetText(say.Text("replay.your-call"))
	}
	p.main.Flag("data-replay", now.active)
	if !now.active {
		p.main.SetAttr("data-hash", strconv.FormatUint(p.game.Hash(), 16))
	}
	words := momentInWords(now, s.end(), "replay")
	if s == &p.demo.scrub {
		dom.ByID("replay-line").SetText(momentInWords(now, s.end(), "expert"))
	} else {
		dom.ByID("replay-line").SetText(words)
	}
	s.line.SetText(words)
	s.slider.SetAttr("aria-valuetext", words)
	s.slider.Value.Set("value", strconv.FormatInt((now.tick+scrubStep-1)/scrubStep, 10))
	s.play.SetText(say.Text("replay.play"))
	if now.pace > 0 {
		s.play.SetText(say.Text("replay.pause"))
	}
	s.last.SetText("")
	if at != nil {
		if e := at.Last(); e != nil {
			s.last.SetText(say.Text("replay.last", minuteOf(e.Tick), sentence(e.Text, e.Reading, p.game.Look())))
			if s == &p.demo.scrub {
				p.markReason(at.Line())
			}
		}
	}
}

// momentInWords says which moment of a call is shown: of one's own, "replay", or of
// an "expert".
func momentInWords(s scrubShown, end int64, whose string) string {
	minute := func(tick int64) string { return say.Number(float64(tick)*sim.TickS/60, 1) }
	switch {
	case !s.active:
		return say.Text(whose+".end", minute(end))
	case !s.there && s.pace == 0:
		return say.Text(whose+".going", minute(s.tick), minute(end))
	}
	return say.Text(whose+".minute", minute(s.tick), minute(end))
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
