package game

import "brinebench/sim"

// Do carries out an act of the person. The error says why it cannot be begun.
func (g *Game) Do(a sim.Action) error {
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
	Label  string
	Action sim.Action
	Now    func(v *sim.View) bool // whether it is so already; nil for a push button
}

// Control is a group of intents of one part.
type Control struct {
	Part    sim.Part
	Label   string
	Note    string // what a newcomer has to know of it; "" for most
	Intents []Intent
}

// Controls are all the handles of the unit that a hand can turn or press.
var Controls = []Control{
	{sim.PartController, "Controller", "", []Intent{
		{"start-regeneration", "Start regeneration", sim.Action{Kind: sim.ActStartRegen}, nil},
		{"advance", "Advance to next position", sim.Action{Kind: sim.ActAdvance}, nil},
	}},
	{sim.PartMotor, "Power", "", []Intent{
		{"plug", "Plugged in", set(sim.ActPower, 1), func(v *sim.View) bool { return v.Controller.Powered }},
		{"unplug", "Unplugged", set(sim.ActPower, 0), func(v *sim.View) bool { return !v.Controller.Powered }},
	}},
	{sim.PartBypass, "Bypass", "In bypass the house keeps its water, and the valve its pressure until something lets it off: the drain, for instance.", []Intent{bypass("service", "Service"), bypass("bypass", "Bypass"), bypass("shut", "Shut")}},
	{sim.PartShutOff, "Supply shut-off", "", []Intent{
		{"supply-open", "Open", set(sim.ActShutOff, 0), func(v *sim.View) bool { return !v.ShutOff }},
		{"supply-shut", "Closed", set(sim.ActShutOff, 1), func(v *sim.View) bool { return v.ShutOff }},
	}},
	{sim.PartHouseTap, "House tap", "", taps("house-tap", sim.ActHouseTap, func(v *sim.View) float64 { return v.HouseTap })},
	{sim.PartRawTap, "Raw-water sample tap", "", taps("raw-tap", sim.ActRawTap, func(v *sim.View) float64 { return v.RawTap })},
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

func bypass(position, label string) Intent {
	return Intent{
		"bypass-" + position, label,
		sim.Action{Kind: sim.ActBypass, ID: position},
		func(v *sim.View) bool { return v.Bypass == position },
	}
}

func taps(id string, kind sim.ActionKind, opening func(*sim.View) float64) []Intent {
	near := func(at float64) func(*sim.View) bool {
		return func(v *sim.View) bool { return opening(v) > at-0.25 && opening(v) <= at+0.25 }
	}
	return []Intent{
		{id + "-shut", "Shut", set(kind, 0), near(0)},
		{id + "-half", "Half open", set(kind, 0.5), near(0.5)},
		{id + "-open", "Open", set(kind, 1), near(1)},
	}
}
