//go:build js

package bench

import (
	"math"
	"strconv"
	"strings"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// sides are the units that the controls set, the first being the one shown.
func (p *Page) sides() []int {
	switch {
	case p.side == "both" && len(p.Bench.Units()) > 1:
		return []int{0, 1}
	case p.side == "1" && len(p.Bench.Units()) > 1:
		return []int{1}
	}
	return []int{0}
}

// set sets a knob on the units chosen.
func (p *Page) set(id string, v float64) {
	if b := p.Bench; !b.There() && b.Pace() == 0 && !b.Seeking() {
		p.tell(say.Text("bench.not-yet"))
		p.changes++ // the slider goes back
		return
	}
	k, _ := sim.FindKnob(id)
	var told []string
	refused := false
	for _, unit := range p.sides() {
		if !k.Push && p.Bench.Unit(unit).Value(id) == v {
			continue
		}
		if err := p.Bench.Do(unit, id, v); err != nil {
			told, refused = append(told, p.ofUnit(unit, say.Text("bench.refused", say.Sim(k.Name), err.Error()))), true
			p.changes++ // the slider goes back
		} else if k.Push {
			told = append(told, p.ofUnit(unit, p.pushed(k, unit)))
		}
	}
	if text := strings.Join(told, " "); refused || text == "" {
		p.tell(text)
	} else {
		p.tellForNow(text)
	}
}

// ofUnit says beside two units of which something is told.
func (p *Page) ofUnit(unit int, text string) string {
	if len(p.Bench.Units()) < 2 {
		return text
	}
	return say.Text("bench.side."+strconv.Itoa(unit)) + ": " + text
}

// pushed tells what pressing a knob did: a controller that is dark or busy starts nothing.
func (p *Page) pushed(k *sim.Knob, unit int) string {
	v := p.Bench.View(unit, false)
	switch {
	case k.Part != sim.PartController:
	case !v.Face.Powered:
		return say.Text("bench.dark", say.Sim(k.Name))
	case k.ID == "start-regeneration" && v.Controller.Regenerating:
		return say.Text("bench.regenerates")
	case v.Controller.Moving:
		return say.Text("bench.moves", say.Sim(k.Name))
	}
	return say.Text("bench.done", say.Sim(k.Name))
}

// measure is how a knob's value is written.
type measure struct {
	factor, offset float64 // from SI
	unit           string
	decimals       int
}

// Lengths that reach beyond longM are measured in m or feet; bores that reach no further
// than jetM, those of jets, are in mm everywhere, as on the drawing.
const (
	longM = 3.0
	jetM  = 0.01
)

func (p *Page) measure(k *sim.Knob) measure {
	factor, name := p.look.Scale(k.Quantity)
	m := measure{factor: factor, unit: name, decimals: 2}
	switch k.Quantity {
	case sim.UnitHardness, sim.UnitPressure, sim.UnitLength, sim.UnitWarmth, sim.UnitFraction, sim.UnitContent:
		m.decimals = 1
	}
	switch {
	case k.Bore && (p.look.SI || k.High <= jetM):
		m = measure{factor: 1000, unit: "mm", decimals: 2}
	case k.Bore:
		m.decimals = 3
	case k.Quantity == sim.UnitLength && k.High > longM && p.look.SI:
		m = measure{factor: 1, unit: "m", decimals: 2}
	case k.Quantity == sim.UnitLength && k.High > longM:
		m = measure{factor: 1 / 0.3048, unit: say.Text("unit.foot"), decimals: 1}
	case k.ID == "start-time":
		m = measure{factor: 1.0 / 3600, unit: "h", decimals: 2}
	case k.Quantity == sim.UnitSpan:
		m = measure{factor: 1.0 / 60, unit: "min", decimals: 1}
	case k.Quantity == sim.UnitWarmth && !p.look.SI:
		m.offset = 32
	case k.Whole:
		m.decimals = 0
	}
	return m
}

func (m *measure) shown(si float64) string {
	x := si*m.factor + m.offset
	text := strconv.FormatFloat(x, 'f', m.decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// sliderSteps is how many places a slider has.
const sliderSteps = 400

// place is where a slider stands for a value, and valueAt the value of a place.
func place(k *sim.Knob, v float64) float64 {
	if k.Whole {
		return v
	}
	return math.Round(sliderSteps * (v - k.Low) / (k.High - k.Low))
}

func valueAt(k *sim.Knob, place float64) float64 {
	if k.Whole {
		return place
	}
	return short(k, k.Low+(k.High-k.Low)*place/sliderSteps)
}

// short rounds a value to six figures, so that a link stays short, within the range.
func short(k *sim.Knob, v float64) float64 {
	x, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return min(max(x, k.Low), k.High)
}

// slide takes what a slider is moved to; while it moves, no oftener than makes sense.
func (p *Page) slide(n dom.Node, atRest bool) {
	if !atRest && p.nowMS-p.setMS < sliderEveryMS {
		return
	}
	p.setMS = p.nowMS
	k, ok := sim.FindKnob(n.Data("knob"))
	if !ok {
		return
	}
	if at := n.Get("valueAsNumber").Float(); at != place(k, p.Bench.Unit(p.sides()[0]).Value(k.ID)) {
		p.set(k.ID, valueAt(k, at))
	}
}

// enter takes a number that was typed.
func (p *Page) enter(n dom.Node) {
	k, ok := sim.FindKnob(n.Data("number"))
	x := n.Get("valueAsNumber").Float()
	if !ok || math.IsNaN(x) {
		p.changes++
		return
	}
	m := p.measure(k)
	v := (x - m.offset) / m.factor
	if k.Whole {
		v = math.Round(v)
	}
	p.set(k.ID, short(k, v))
	if rounding := 1e-4 * (k.High - k.Low); v < k.Low-rounding || v > k.High+rounding {
		p.tell(say.Text("bench.limits", say.Sim(k.Name), m.shown(k.Low), m.shown(k.High)+" "+m.unit))
	}
	p.changes++
}

// syncKnobs makes the controls anew where what can be set has changed, and shows what
// is set.
func (p *Page) syncKnobs() {
	units := p.Bench.Units()
	unit := p.sides()[0]
	rig := p.Bench.Unit(unit)
	key := strings.Join(append(units, strconv.Itoa(unit), string(p.selected), string(p.look.Lang)), " ")
	if p.seen.knobs != key {
		p.seen.knobs = key
		p.fillSides()
		p.buildKnobs(rig)
	}
	for _, b := range dom.All("[data-side]") {
		b.Press(b.Data("side") == p.side)
	}
	for i := range p.controls {
		c := &p.controls[i]
		c.show(rig.Value(c.knob.ID), p.measure(c.knob))
	}
}

// fillSides offers the units that can be set.
func (p *Page) fillSides() {
	box := dom.ByID("set-side")
	box.Become()
	if len(p.Bench.Units()) < 2 {
		return
	}
	choice := dom.El("div", dom.Attrs{"class": "choice", "role": "group", "aria-label": say.Text("bench.sides")})
	for _, id := range []string{"0", "1", "both"} {
		choice.Add(dom.Button(say.Text("bench.side."+id), dom.Attrs{"data-side": id}))
	}
	box.Add(dom.El("p", dom.Attrs{"class": "none"}, say.Text("bench.sides")), choice)
}

// control is one knob on the page.
type control struct {
	knob           *sim.Knob
	row            dom.Node
	slider, number dom.Node // undefined in one of switches
	switches       []dom.Node
}

// show shows what the knob is set to.
func (c *control) show(v float64, m measure) {
	c.row.Flag("data-wrong", c.knob.Group == "faults" && v > 0)
	for _, b := range c.switches {
		b.Press(b.Data("value") == dom.Decimals(v, 0))
	}
	if c.slider.IsUndefined() {
		return
	}
	c.slider.Value.Set("value", place(c.knob, v))
	c.slider.SetAttr("aria-valuetext", m.shown(v)+" "+m.unit)
	c.number.Value.Set("value", m.shown(v))
}

// buildKnobs makes the controls of a unit: those of the part chosen first.
func (p *Page) buildKnobs(rig *sim.Rig) {
	search := dom.El("input", dom.Attrs{"type": "search", "id": "knob-search", "autocomplete": "off", "value": p.sought})
	box := dom.ByID("knobs")
	box.Become()
	p.controls = nil
	if p.selected != "" {
		box.Add(p.partKnobs(rig))
	}
	box.Add(dom.El("div", dom.Attrs{"class": "search"}, dom.El("label", dom.Attrs{"for": "knob-search"}, say.Text("bench.find")), search))
	for _, g := range sim.KnobGroups() {
		fold := dom.El("details", dom.Attrs{"class": "fold", "data-fold": string(g)}, dom.El("summary", nil, say.Text("bench.group."+string(g))))
		rows := dom.El("div", dom.Attrs{"class": "knobs"})
		for _, k := range rig.Knobs() {
			if k.Group == g {
				rows.Add(p.row(k, ""))
			}
		}
		fold.Add(rows)
		fold.Flag("open", g == "hands" || g == "water" || g == "house")
		box.Add(fold)
	}
	p.find(p.sought)
}

// partKnobs is a sheet of what can be set on the part chosen.
func (p *Page) partKnobs(rig *sim.Rig) dom.Node {
	name, what := string(p.selected), ""
	var heed []dom.Node
	for _, info := range rig.Setup().Parts {
		if info.ID != p.selected {
			continue
		}
		name, what = say.Sim(info.Name), say.Sim(info.What)
		if len(info.Cautions) > 0 {
			heed = []dom.Node{dom.Cautions(say.SimAll(info.Cautions)...)}
		}
	}
	sheet := dom.El("div", dom.Attrs{"class": "sheet"}, dom.El("h3", nil, name), dom.El("p", dom.Attrs{"class": "none"}, what),
		dom.Button(say.Text("close"), dom.Attrs{"class": "corner", "data-bench": "part-close"}), heed)
	rows := dom.El("div", dom.Attrs{"class": "knobs"})
	for _, k := range rig.Knobs() {
		if k.Part == p.selected {
			rows.Add(p.row(k, "of-part-"))
		}
	}
	sheet.Add(rows)
	return sheet
}

// row is one control.
func (p *Page) row(k *sim.Knob, prefix string) dom.Node {
	name := say.Sim(k.Name)
	c := control{knob: k, row: dom.El("div", dom.Attrs{"class": "knob", "data-of": k.ID, "data-name": strings.ToLower(name)})}
	switch {
	case k.Push:
		c.row.Add(dom.Button(name, dom.Attrs{"data-push": k.ID}))
	case k.ID == "bypass":
		c.places(name, "intent.bypass-service", "intent.bypass-bypass", "intent.bypass-shut")
	case k.Whole && k.High == 1:
		c.places(name, "bench.off", "bench.on")
	default:
		c.scale(name, prefix+"knob-"+k.ID, p.measure(k))
	}
	p.controls = append(p.controls, c)
	return c.row
}

// scale gives a control a slider and a number.
func (c *control) scale(name, id string, m measure) {
	k, low, high := c.knob, 0.0, float64(sliderSteps)
	if k.Whole {
		low, high = k.Low, k.High
	}
	c.slider = dom.El("input", dom.Attrs{"type": "range", "id": id, "data-knob": k.ID, "min": dom.Decimals(low, 0), "max": dom.Decimals(high, 0), "step": "1"})
	c.number = dom.El("input", dom.Attrs{"type": "number", "data-number": k.ID, "step": "any", "aria-label": strings.TrimSuffix(name+", "+m.unit, ", ")})
	c.row.Add(dom.El("label", dom.Attrs{"for": id}, name), c.slider, c.number,
		dom.El("span", dom.Attrs{"class": "unit"}, strings.TrimSuffix(m.unit, say.Text("unit.as-caco3"))))
}

// places gives a control that has few places a button for each.
func (c *control) places(name string, texts ...string) {
	choice := dom.El("div", dom.Attrs{"class": "choice", "role": "group", "aria-label": name})
	for i, id := range texts {
		b := dom.Button(say.Text(id), dom.Attrs{"data-switch": c.knob.ID, "data-value": strconv.Itoa(i)})
		c.switches = append(c.switches, b)
		choice.Add(b)
	}
	c.row.Add(dom.El("span", nil, name), choice)
}

// find shows the controls whose names hold a word.
func (p *Page) find(word string) {
	p.sought = word
	word = strings.ToLower(strings.TrimSpace(word))
	for _, fold := range dom.All("#knobs details") {
		if word != "" {
			fold.Flag("open", true)
		}
	}
	for _, row := range dom.All("#knobs details .knob") {
		row.Hide(!strings.Contains(row.Data("name"), word))
	}
	for _, fold := range dom.All("#knobs details") {
		fold.Hide(fold.Call("querySelector", ".knob:not([hidden])").IsNull())
	}
	if word != "" && len(dom.All("#knobs details:not([hidden])")) == 0 {
		p.tellForNow(say.Text("finder.nothing"))
	}
}
