package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// Do carries out an act of the person. A test that is asked for while something is
// under way waits until that is done: see Next. The error says why an act cannot be
// begun.
func (g *Game) Do(a sim.Action) error {
	if a.Kind == sim.ActTest && g.Busy() {
		journal := g.Call().Journal
		if doing := journal[len(journal)-1].Action; doing.Kind != sim.ActTest || doing.ID != a.ID { // pressing twice asks for it once
			g.next = a
			g.changes++
		}
		return nil
	}
	return g.begin(a)
}

// Next returns the ID of the test that waits until what is under way is done, "" for
// none.
func (g *Game) Next() string { return g.next.ID }

// goOn begins the test that waited.
func (g *Game) goOn() {
	if a := g.next; a.ID != "" {
		g.next = sim.Action{}
		if err := g.begin(a); err != nil {
			g.notify(NoticeEvent, say.Text("refused", say.Sim(sim.Why(err))))
		}
	}
}

func (g *Game) begin(a sim.Action) error {
	if err := g.session.Do(a); err != nil {
		return err
	}
	g.charts.mark(g.cur.TimeS, a)
	g.stopSeek()
	g.refresh()
	g.noticeChanges()
	g.beginBusy()
	return nil
}

// Intent is something the person can want of the unit, in the words of the page.
type Intent struct {
	ID     string // stable, for the page
	Action sim.Action
	Now    func(v *sim.View) bool // whether it is so already; nil for a push button
}

// Label is what the page calls it.
func (i *Intent) Label() string { return say.Text("intent." + i.ID) }

// Control is a group of intents of one part.
type Control struct {
	Part    sim.Part
	Note    string // id of what a newcomer has to know of it; "" for most
	Intents []Intent
}

// Label is what the page calls it.
func (c *Control) Label() string { return say.Text("control." + string(c.Part)) }

// Controls are all the handles of the unit that a hand can turn or press.
var Controls = []Control{
	{sim.PartController, "", []Intent{
		{"start-regeneration", sim.Action{Kind: sim.ActStartRegen}, nil},
		{"advance", sim.Action{Kind: sim.ActAdvance}, nil},
	}},
	{sim.PartPlugIn, "control.plug-in-supply.note", []Intent{
		{"plug", set(sim.ActPower, 1), func(v *sim.View) bool { return v.Controller.Powered }},
		{"unplug", set(sim.ActPower, 0), func(v *sim.View) bool { return !v.Controller.Powered }},
	}},
	{sim.PartBypass, "control.bypass.note", []Intent{
		bypass("service"), bypass("bypass"), bypass("shut"),
		{"bypass-slowly", sim.Action{Kind: sim.ActBypass, ID: "service", Value: 1}, nil},
	}},
	{sim.PartShutOff, "", []Intent{
		{"supply-open", set(sim.ActShutOff, 0), func(v *sim.View) bool { return !v.ShutOff }},
		{"supply-shut", set(sim.ActShutOff, 1), func(v *sim.View) bool { return v.ShutOff }},
	}},
	{sim.PartHouseTap, "", taps("house-tap", sim.ActHouseTap, func(v *sim.View) float64 { return v.HouseTap })},
	{sim.PartRawTap, "", taps("raw-tap", sim.ActRawTap, func(v *sim.View) float64 { return v.RawTap })},
}

// ControlOf returns the control of a part, nil when it has none.
func ControlOf(p sim.Part) *Control {
	for i := range Controls {
		if Controls[i].Part == p {
			return &Controls[i]
		}
	}
	return nil
}

func set(kind sim.ActionKind, value float64) sim.Action {
	return sim.Action{Kind: kind, Value: value}
}

func bypass(position string) Intent {
	return Intent{
		"bypass-" + position,
		sim.Action{Kind: sim.ActBypass, ID: position},
		func(v *sim.View) bool { return v.Bypass == position },
	}
}

func taps(id string, kind sim.ActionKind, opening func(*sim.View) float64) []Intent {
	near := func(at float64) func(*sim.View) bool {
		return func(v *sim.View) bool { return opening(v) > at-0.25 && opening(v) <= at+0.25 }
	}
	return []Intent{
		{id + "-shut", set(kind, 0), near(0)},
		{id + "-half", set(kind, 0.5), near(0.5)},
		{id + "-open", set(kind, 1), near(1)},
	}
}
