package call

import "slices"

// What belongs to a job besides finding and mending: lubricating, telling the
// customer, what it all costs, and help.

const (
	lubricateMinutes = 1
	tellMinutes      = 1
)

// What it takes to bail the brine tank out, by bucket or pump, and to measure out bleach and
// pour it into the well, minutes; common practice, no source.
const BailMinutes, DisinfectMinutes = 8, 3

// Lubricants that a van may carry. Petroleum grease swells EPDM: it is what a
// hand takes by mistake.
var Lubricants = []string{"silicone", "petroleum"}

func (c *Call) admitLubricant(a Act) error {
	p, ok := Part(a.Part)
	switch {
	case !ok:
		return refuse("part", "No part is named %q.", a.Part)
	case !p.Seals:
		return refuse("part", "%s: it has no seals to lubricate.", p.Name)
	case p.CanOpen && !c.IsOpen(a.Part):
		return refuse("part", "%s: take it out or open it first.", p.Name)
	case !slices.Contains(Lubricants, a.ID):
		return refuse("id", "No lubricant is named %q.", a.ID)
	}
	return nil
}

func tellLubricant(a Act) string {
	p, _ := Part(a.Part)
	if a.ID == Lubricants[0] {
		return p.Name + ": seals lubricated thinly with silicone."
	}
	return p.Name + ": seals greased with petroleum grease. NOTICE: It swells EPDM; the seals will stick and tear. Only silicone lubricant belongs on them."
}

// Topic is something that the customer should hear.
type Topic struct{ ID, Name, Text string }

// Topics are what a technician tells the customer before leaving; common
// practice, no source, but for the sodium, which is the exchange's arithmetic.
var Topics = []Topic{
	{"cause", "What was wrong", "Told the customer what was wrong and what was done about it."},
	{"heater", "Hard water left in the water heater", "Told the customer that the heater still holds hard water, and to use it up, or to have it drained with its power or gas off first and filled again before it is turned on: it scalds."},
	{"flush", "Beads or rust left in the pipes", "Told the customer to unscrew the strainers of the taps and let the water run until nothing more comes."},
	{"salt", "How to keep the salt", "Told the customer to keep the salt above the water, loose, and never to fill it to the brim."},
	{"sodium", "Sodium in the softened water", "Told the customer that softening adds 7.86 mg/L of sodium for each grain per gallon (46 mg/L for each 100 mg/L of hardness), and that a person on a sodium-restricted diet asks a doctor."},
	{"watch", "What to watch for", "Told the customer what to watch for in the next weeks, and whom to call."},
	{"other", "That it is not the softener", "Told the customer that the softener is sound, and where the complaint comes from."},
}

func topic(id string) *Topic {
	for i := range Topics {
		if Topics[i].ID == id {
			return &Topics[i]
		}
	}
	return nil
}

func admitTopic(id string) error {
	if topic(id) == nil {
		return refuse("id", "There is no topic %q.", id)
	}
	return nil
}

// LabourPerMinute and the prices of parts only rank what is done against what it
// is worth: invented for training, in no currency of any year.
const LabourPerMinute = 1.5

// Cost is what the call has cost so far: the minutes, and the new parts.
func (c *Call) Cost() float64 {
	sum := float64(LabourPerMinute * c.Minutes())
	for i := range c.Journal {
		e := &c.Journal[i]
		if e.Unsafe {
			continue
		}
		p, _ := Part(e.Action.Part)
		switch e.Action.Kind {
		case Replace:
			sum += p.Price
		case Adjust:
			sum += p.SetPrice
		}
	}
	return sum
}

// Rungs are the steps of help, each telling more than the one before: where to
// look, which function fails, which test shows it, and the cause.
var Rungs = []string{"area", "function", "test", "answer"}

// admitHint lets help be had step by step, each once.
func (c *Call) admitHint(id string) error {
	at := slices.Index(Rungs, id)
	switch {
	case at < 0:
		return refuse("id", "There is no help of the kind %q.", id)
	case at < c.Helped():
		return refuse("", "That help was given already: see the work log.")
	case at > c.Helped():
		return refuse("", "Take the help step by step.")
	}
	return nil
}

// Helped is how many steps of help were taken.
func (c *Call) Helped() (n int) {
	for i := range c.Journal {
		if c.Journal[i].Action.Kind == Hint {
			n++
		}
	}
	return n
}

func (c *Call) tellHelp(rung string) string {
	if c.Help == nil {
		return "Help."
	}
	return "Help: " + c.Help(rung)
}
