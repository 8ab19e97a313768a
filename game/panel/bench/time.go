//go:build js

package bench

import (
	"strconv"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// ticksPerS is how many ticks a second of the units has.
const ticksPerS = int64(1 / sim.TickS)

func (p *Page) setPace(text string) {
	if pace, err := strconv.ParseFloat(text, 64); err == nil {
		p.Bench.SetPace(pace)
	}
}

// jump shows another moment.
func (p *Page) jump(tick int64) {
	p.jumpS = p.clock()
	p.Bench.GoTo(tick)
	p.Bench.Frame(0) // at once, and not with the next frame
	p.arrived()
	p.syncTime()
}

// arrived tells how long a jump took, once it is over.
func (p *Page) arrived() {
	if p.jumpS > 0 && p.Bench.There() {
		dom.ByID("page").SetAttr("data-jump-ms", dom.Decimals(1000*(p.clock()-p.jumpS), 1))
		p.jumpS = 0
	}
}

// syncTime shows the moment, and what drives time.
func (p *Page) syncTime() {
	b, main := p.Bench, dom.ByID("page")
	main.SetAttr("data-tick", strconv.FormatInt(b.Tick(), 10))
	main.SetAttr("data-end", strconv.FormatInt(b.EndTick(), 10))
	if b.There() && b.Pace() == 0 {
		main.SetAttr("data-hash", strconv.FormatUint(b.Hash(), 16))
	} else {
		main.Call("removeAttribute", "data-hash")
	}
	if done, ready := b.Ready(); main.Get("dataset").Get("opening").Truthy() && ready {
		main.Call("removeAttribute", "data-opening")
		p.tell(p.leftOut())
	} else if !ready && b.Pace() == 0 && !b.Seeking() && b.Tick() == b.EndTick() {
		main.SetAttr("data-opening", "1")
		p.tell(say.Text("bench.opening", dom.Percent(done)))
	}
	for _, n := range dom.All("[data-pace]") {
		pace, _ := strconv.ParseFloat(n.Data("pace"), 64)
		n.Press(pace == b.Pace() && !b.Seeking())
	}
	for _, n := range dom.All("[data-bench=next-event]") {
		n.Press(b.Seeking())
	}
	s := dom.ByID("scrub")
	for _, n := range dom.All("[data-back]") {
		back := !strings.HasPrefix(n.Data("back"), "-")
		n.DisableTo(s, back && b.Tick() <= b.FirstTick() || !back && b.Tick() >= b.EndTick())
	}
	dom.All("[data-bench=end]")[0].DisableTo(s, b.Tick() >= b.EndTick())
	words := p.moment()
	dom.ByID("moment").SetText(words)
	s.SetAttr("min", strconv.FormatInt(b.FirstTick(), 10))
	s.SetAttr("max", strconv.FormatInt(max(b.EndTick(), b.FirstTick()+1), 10))
	s.SetAttr("aria-valuetext", words)
	s.Value.Set("value", strconv.FormatInt(b.Tick(), 10))
}

// moment says in words which moment is shown.
func (p *Page) moment() string {
	b := p.Bench
	at := game.TimeSpan(seconds(b.Tick()))
	if ago := b.EndTick() - b.Tick(); ago > 0 {
		return say.Text("bench.moment-back", at, game.TimeSpan(seconds(ago)))
	}
	return say.Text("bench.moment", at)
}

func seconds(ticks int64) float64 { return float64(ticks) * sim.TickS }

// syncWhatIf tells of a what-if, and offers the ways on from it.
func (p *Page) syncWhatIf() {
	b, box := p.Bench, dom.ByID("what-if")
	since, on := b.WhatIf()
	box.Flag("data-on", on)
	if err := b.Trouble(); err != p.trouble {
		if p.trouble = err; err != nil {
			p.tell(p.leftOut())
		}
	}
	switch {
	case on:
		ways := []dom.Node{
			dom.Button(say.Text("bench.what-if.back"), dom.Attrs{"data-bench": "back"}),
			dom.Button(say.Text("bench.what-if.keep"), dom.Attrs{"data-bench": "keep"}),
		}
		if len(b.Units()) > 1 {
			was := dom.Button(say.Text("bench.what-if.as-was"), dom.Attrs{"data-bench": "as-was"})
			was.Press(b.AsWas())
			ways = append(ways, was)
		}
		box.Become(dom.El("div", dom.Attrs{"class": "kept"}, dom.El("p", nil, say.Text("bench.what-if.on", game.TimeSpan(seconds(since)))), ways))
	case b.Tick() < b.EndTick():
		box.Become(dom.El("div", dom.Attrs{"class": "kept"}, dom.El("p", nil, say.Text("bench.what-if.offer")),
			dom.Button(say.Text("bench.what-if.begin"), dom.Attrs{"data-bench": "what-if"})))
	default:
		box.Become()
	}
}

// leftOut says what could not be set, as it had been; "" where all could.
func (p *Page) leftOut() string {
	if err := p.Bench.Trouble(); err != nil {
		return say.Text("bench.left-out", err.Error())
	}
	return ""
}

// syncCaptions says over each picture what it is of.
func (p *Page) syncCaptions() {
	pictures := p.Bench.Pictures()
	key := ""
	texts := make([][2]string, len(pictures))
	for i, x := range pictures {
		name, state := say.Text("bench.side."+strconv.Itoa(x.Unit))+" ", ""
		if x.Was {
			name = say.Text("bench.was") + " "
		} else if len(pictures) > len(p.Bench.Units()) {
			name = say.Text("bench.now") + " "
		}
		if len(pictures) == 1 {
			name = ""
		}
		rig := p.Bench.Unit(x.Unit)
		if x.Was {
			rig = p.Bench.Was(x.Unit)
		}
		switch wrong := rig.Wrong(); len(wrong) {
		case 0:
			state = say.Text("bench.sound")
		case 1:
			state = say.Sim(wrong[0])
		default:
			state = say.Text("bench.faults", len(wrong))
		}
		texts[i] = [2]string{name, state + ". " + p.title(p.Bench.Units()[x.Unit])}
		key += name + texts[i][1] + "\n"
	}
	box := dom.ByID("captions")
	if box.Data("key") == key {
		return
	}
	box.SetAttr("data-key", key)
	box.Become()
	for _, t := range texts {
		box.Add(dom.El("p", nil, dom.El("strong", nil, t[0]), t[1]))
	}
	box.SetAttr("data-many", strconv.Itoa(len(texts)))
}

// title is what a unit of the bench is called.
func (p *Page) title(id string) string {
	for i := range p.units {
		if p.units[i].ID == id {
			return p.units[i].Title()
		}
	}
	return id
}
