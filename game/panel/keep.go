//go:build js

package panel

import (
	"encoding/json"
	"slices"
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// keeping is what the page knows of its call in the browser's storage.
type keeping struct {
	slot    string
	saved   saved
	savedMS float64
	off     bool   // the call has been given up: it is not to be kept any more
	refused bool   // the person was told that the browser does not keep it
	back    bool   // the line that tells that the call is back is shown
	line    func() // says again what the line says; nil while there is none
}

// saved is what a new save is worth making for.
type saved struct {
	lines, told      int
	finished, judged bool
	tick             int64
}

const (
	saveEveryMS  = 10_000 // while time runs
	worthKeeping = 1      // minutes of a call in which nothing was done yet
)

// buildKeeping begins to keep the call, or goes on keeping the one given.
func (p *Panels) buildKeeping(kept *game.Save) {
	k := &p.keeping
	k.slot = slotOf(p.game.Setup().CallID, p.game.Seed())
	k.saved = p.savedNow()
	if p.class != nil { // it has its own way of keeping it
		k.off = true
		return
	}
	p.sayAside()
	if kept != nil {
		p.takeUp(kept)
	}
	js.Global().Call("addEventListener", "pagehide", js.FuncOf(func(js.Value, []js.Value) any { p.save(); return nil }))
	dom.Document.Call("addEventListener", "visibilitychange", js.FuncOf(func(js.Value, []js.Value) any {
		if dom.Document.Get("visibilityState").String() == "hidden" {
			p.save()
		}
		return nil
	}))
}

func (p *Panels) savedNow() saved {
	c := p.game.Call()
	return saved{len(c.Journal), p.game.Told(), c.Finished, p.debrief.report != nil, p.game.Tick()}
}

// syncKeeping saves after every act and its end, and from time to time while the clock runs.
func (p *Panels) syncKeeping() {
	k, now := &p.keeping, p.savedNow()
	ranOnly := k.saved
	ranOnly.tick = now.tick
	switch {
	case now == k.saved:
	case now != ranOnly, p.nowMS-k.savedMS >= saveEveryMS:
		p.save()
	}
	if c := p.game.Call(); k.back && !c.Finished && (p.game.Speed() > 0 || p.game.Busy()) {
		k.say(nil)
	}
}

// save puts the call into the browser's storage.
func (p *Panels) save() {
	k := &p.keeping
	c := p.game.Call()
	if k.off || len(c.Journal) == 0 && c.Minutes < worthKeeping {
		return
	}
	k.saved, k.savedMS = p.savedNow(), p.nowMS
	text, err := p.saveText()
	switch {
	case err == nil && keepCall(k.slot, text):
		k.refused = false
	case !k.refused:
		k.refused = true
		k.say(func() { dom.ByID("kept").Become(dom.El("p", nil, say.Text("kept.refused"))) })
	}
}

func (p *Panels) saveText() (string, error) {
	recording, err := p.game.Recording()
	if err != nil {
		return "", err
	}
	s := game.Save{
		Recording: recording, Pace: p.game.Pace(), Section: p.main.Data("current"), Part: p.game.Selected(), Fields: fieldsOnPage(),
		StartedS: p.progress.startedS, Shown: p.demo.shown,
	}
	if p.debrief.report != nil {
		s.Report = json.RawMessage(p.debrief.text)
	}
	return s.Text(game.Glance{
		Judged: s.Report != nil, Minutes: p.game.Call().Minutes, SavedMS: js.Global().Get("Date").Call("now").Float(),
	})
}

// takeUp puts the page where it was when the call was kept.
func (p *Panels) takeUp(kept *game.Save) {
	p.progress.startedS, p.demo.shown = kept.StartedS, kept.Shown
	if p.partInfo(kept.Part) != nil {
		p.game.Select(kept.Part)
	}
	section := kept.Section
	if kept.Report != nil {
		p.takeReport(string(kept.Report))
		section = "debrief"
	}
	fillFields(kept.Fields) // the debrief has one too
	p.Sync(p.nowMS)
	if to := dom.All("[data-show=" + dom.Quote(section) + "]:not([hidden])"); len(to) > 0 && p.main.Data("current") != section {
		p.show(section)
	}
	p.keeping.say(func() { p.sayBack(kept.Pace) })
	p.keeping.back = true
}

// sayBack tells that the call is where it was left.
func (p *Panels) sayBack(pace float64) {
	line := dom.El("div", dom.Attrs{"class": "kept", "data-kept": "back"})
	minute := wholeMinutes(p.game.Call().Minutes)
	if p.game.Call().Finished {
		line.Add(dom.El("p", nil, say.Text("kept.finished")))
	} else {
		line.Add(dom.El("p", nil, say.Text("kept.back", minute)))
		pace = max(pace, 1)
		line.Add(dom.Button(say.Text("kept.go-on", dom.Decimals(pace, 0)), dom.Attrs{"data-pace": dom.Decimals(pace, 0)}),
			dom.Button(say.Text("kept.anew"), dom.Attrs{"data-act": "start-anew"}))
	}
	line.Add(dom.Button(say.Text("close"), dom.Attrs{"data-act": "kept-close"}))
	dom.ByID("kept").Become(line)
}

// askAnew asks before a call is given up.
func (p *Panels) askAnew() {
	p.keeping.say(func() {
		dom.ByID("kept").Become(dom.El("div", dom.Attrs{"class": "kept"}, dom.El("p", nil, say.Text("kept.sure")),
			dom.Button(say.Text("kept.yes"), dom.Attrs{"data-act": "start-anew-yes", "class": "main"}),
			dom.Button(say.Text("kept.no"), dom.Attrs{"data-act": "kept-close"})))
	})
	dom.ByID("kept").Call("querySelector", "button").Call("focus")
}

// say puts a line on the page, or takes it away.
func (k *keeping) say(line func()) {
	k.back, k.line = false, line
	if line == nil {
		dom.ByID("kept").Become()
		return
	}
	line()
}

// closeKept takes the line away; a focus on it goes to the panels.
func (p *Panels) closeKept() {
	held := dom.ByID("kept").Call("contains", dom.Document.Get("activeElement")).Bool()
	p.keeping.say(nil)
	if held {
		dom.ByID("panels").Call("focus", map[string]any{"preventScroll": true})
	}
}

// startAnew gives the call up and opens it anew.
func (p *Panels) startAnew() {
	p.keeping.off = true
	dom.Forget(callSlots + p.keeping.slot)
	js.Global().Get("location").Call("reload")
}

// sayAside tells of a call that could not be brought back.
func (p *Panels) sayAside() {
	reason, _, found := strings.Cut(dom.Recall(asideSlots+p.keeping.slot), "\n")
	if !found {
		return
	}
	p.keeping.say(func() {
		dom.ByID("kept").Become(dom.El("div", dom.Attrs{"class": "kept", "data-kept": "aside"}, dom.El("p", nil, say.Text("aside.words")),
			dom.Button(say.Text("aside.save"), dom.Attrs{"data-act": "aside-save"}), dom.Button(say.Text("aside.forget"), dom.Attrs{"data-act": "aside-forget"}),
			dom.El("details", nil, dom.El("summary", nil, say.Text("aside.why")), dom.El("p", nil, reason))))
	})
}

// saveAside hands the call that was set aside over as a file: its recording, or
// what is left of it.
func (p *Panels) saveAside() {
	_, text, _ := strings.Cut(dom.Recall(asideSlots+p.keeping.slot), "\n")
	data, name := []byte(text), p.keeping.slot+".txt"
	if s, err := game.ReadSave(text); err == nil {
		data, name = s.Recording, p.keeping.slot+".msgp"
	}
	handOver(name, data)
}

// handOver gives the person a file of that name.
func handOver(name string, data []byte) {
	url := js.Global().Get("URL")
	at := url.Call("createObjectURL", js.Global().Get("Blob").New([]any{dom.Bytes(data)}))
	dom.El("a", dom.Attrs{"href": at.String(), "download": name}).Call("click")
	url.Call("revokeObjectURL", at)
}

func (p *Panels) forgetAside() {
	dom.Forget(asideSlots + p.keeping.slot)
	p.closeKept()
}

// finished is what stateOf says of a call that was judged.
const finished = "finished"

// stateOf says how far a call of the list has come, and with which seed it goes on.
func stateOf(id string) (words, query string) {
	query = "?call=" + id
	var latest *keptCall
	kept := keptCalls()
	for i := range kept {
		if k := &kept[i]; k.id == id && (latest == nil || latest.Judged && !k.Judged || latest.Judged == k.Judged && k.SavedMS > latest.SavedMS) {
			latest = k
		}
	}
	if latest == nil {
		return "", query
	}
	if query = latest.query(); latest.Judged {
		return finished, query
	}
	return say.Text("practice.in-progress", wholeMinutes(latest.Minutes)), query
}

// freeSeed is the first seed from the given one on that no kept call has.
func freeSeed(id string, seed uint64) uint64 {
	for KeptCall(id, seed) != "" {
		seed++
	}
	return seed
}

// keptFields are the fields whose content is kept.
const keptFields = "#work :is(input,select,textarea):not([data-unkept]), #charts select"

// fieldKey is what a field is kept under, "" for one that is not; boxes to tick
// share the name of their group.
func fieldKey(n dom.Node) (key string, box bool) {
	switch n.Get("type").String() {
	case "radio", "checkbox":
		return n.Get("name").String(), true
	}
	return n.Get("id").String(), false
}

// fieldsOnPage reads what the person has typed, ticked and chosen; of boxes, the
// values of those ticked, each with a line's end.
func fieldsOnPage() map[string]string {
	fields := map[string]string{}
	for _, n := range dom.All(keptFields) {
		switch key, box := fieldKey(n); {
		case key == "":
		case !box:
			fields[key] = n.Get("value").String()
		case n.Get("checked").Bool():
			fields[key] += n.Get("value").String() + "\n"
		}
	}
	return fields
}

// fillFields puts back what fieldsOnPage read, as if the person had done it.
func fillFields(fields map[string]string) {
	for _, n := range dom.All(keptFields) {
		key, box := fieldKey(n)
		want, known := fields[key]
		value := n.Get("value").String()
		switch {
		case !known:
			continue
		case box:
			tick := slices.Contains(strings.Split(want, "\n"), value)
			if tick == n.Get("checked").Bool() {
				continue
			}
			n.Value.Set("checked", tick)
		case value == want:
			continue
		default:
			n.Value.Set("value", want)
		}
		for _, event := range []string{"input", "change"} {
			n.Call("dispatchEvent", js.Global().Get("Event").New(event, map[string]any{"bubbles": true}))
		}
	}
}
