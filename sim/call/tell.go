package call

import (
	"fmt"
	"strings"

	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

// tell says in one sentence what an act did.
func (c *Call) tell(a Act) string {
	switch a.Kind {
	case StartRegen:
		return "Started a regeneration at the controller."
	case Advance:
		return "Sent the drum on to the next position."
	case Bypass:
		return choose(a.Value > 0, "Put the bypass to service little by little: the water comes slowly.", bypassTold[a.ID])
	case ShutOff:
		return choose(a.Value > 0, "Closed the supply shut-off.", "Opened the supply shut-off.")
	case Power:
		return choose(a.Value > 0, "Plugged the controller in.", "Unplugged the controller.")
	case HouseTap:
		return choose(a.Value > 0, "Opened a tap in the house.", "Closed the tap in the house.")
	case RawTap:
		return choose(a.Value > 0, "Opened the raw-water sample tap.", "Closed the raw-water sample tap.")
	case Test:
		in, _ := instrument.Find(a.ID)
		return in.Name + choose(strings.HasSuffix(in.Name, "?"), "", ".") // some ask a question
	case Open, Refit, Clean, Adjust, Replace:
		return c.tellWork(a)
	case Bail:
		return choose(c.Journal[c.entry].Needless, "Nothing taken out of the brine tank: no more stands in it than one refill leaves.", "Took out of the brine tank what stood above the level of one refill.")
	case Disinfect:
		return "Bleach poured into the brine well: the next brine draw takes it through what was open, and the rinse takes it out. Before the house drinks, nothing smells of bleach at the drain, and a chlorine strip shows no more than in the raw water."
	case Diagnose:
		return fmt.Sprintf("Named the cause: %s, %.0f %% sure.", VerdictName(a.ID), 100*a.Value)
	case Lubricate:
		return tellLubricant(a)
	case Plan:
		return tellPlan(a)
	case Conclude:
		return c.tellConclusion(a)
	case Tell:
		return topic(a.ID).Text
	case Hint:
		return c.tellHelp(a.ID)
	case Finish:
		return "Handed the unit back."
	}
	panic("call: no words for " + string(a.Kind))
}

// tellFilled says how the water came in where the valve had been off.
func (c *Call) tellFilled() string {
	e := &c.Journal[c.entry]
	switch {
	case !e.LetInSlowly():
		return "It rushes into the empty tank: the pipes knock."
	case c.model.Config().Program.Place("backwash") == e.Station:
		return "The tank fills from below, and the air hisses out at the drain."
	}
	return "The tank fills, and its air stays for the taps to let out."
}

// LetInSlowly reports whether a turn of the bypass let the water in little by little.
func (e *Entry) LetInSlowly() bool { return e.Action.Kind == Bypass && e.Action.Value > 0 }

var bypassTold = map[string]string{
	"service": "Put the bypass to service: water through the softener.",
	"bypass":  "Put the unit in bypass: water past the softener.",
	"shut":    "Shut the bypass: no water.",
}

func (c *Call) tellWork(a Act) string {
	p, _ := Part(a.Part)
	switch a.Kind {
	case Open:
		return p.Name + ": opened and looked at."
	case Refit:
		return p.Name + ": put back and tightened."
	case Clean:
		return p.Name + ": " + choose(a.Part == plant.PartSalt, "broken up and loosened.", "cleaned.")
	case Adjust:
		switch a.Part {
		case plant.PartHouse:
			return p.Name + ": " + choose(c.Journal[c.entry].Mended, "put right, and the customer told.", "there was nothing to put right.")
		case plant.PartRiser:
			return p.Name + ": a new seal fitted at its head."
		}
		return p.Name + ": set right."
	}
	switch a.Part {
	case plant.PartSalt:
		return p.Name + ": filled up."
	case plant.PartSeats:
		return p.Name + ": all eight replaced with new ones."
	}
	return p.Name + ": replaced with a new one."
}

func choose(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
