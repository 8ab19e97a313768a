package call

import (
	"fmt"
	"slices"

	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/record"
)

// Refusal is the error of an act that cannot be begun as things stand.
type Refusal struct {
	Field string // of the Act; "" where no field is wrong but the moment is
	Why   string // a sentence for the trainee
}

func (r *Refusal) Error() string {
	if r.Field == "" {
		return r.Why
	}
	return r.Field + ": " + r.Why
}

func refuse(field, format string, args ...any) error {
	return &Refusal{field, fmt.Sprintf(format, args...)}
}

// admit checks that an act can be begun and tells what it costs, in minutes.
func (c *Call) admit(a Act) (minutes float64, err error) {
	if why := record.BadText(a.Text); why != "" {
		return 0, refuse("text", "The text has %s.", why)
	}
	switch a.Kind {
	case StartRegen, Advance:
		return c.admitDrive(a.Kind)
	case Bypass:
		return c.admitBypass(a)
	case ShutOff, Power:
		return 0.25, within(a.Value, "value")
	case HouseTap, RawTap:
		return 0.25, within(a.Value, "value")
	case Test:
		in, ok := instrument.Find(a.ID)
		if !ok || in.NeedsOpening() {
			return 0, refuse("id", "No test is named %q.", a.ID)
		}
		return in.Minutes, nil
	case Open, Refit, Clean, Adjust, Replace:
		return c.admitWork(a)
	case Lubricate:
		return lubricateMinutes, c.admitLubricant(a)
	case Bail:
		return BailMinutes, nil
	case Disinfect:
		return DisinfectMinutes, nil
	case Plan:
		return 0, c.admitPlan(a)
	case Conclude:
		return 0, c.admitConclusion(a)
	case Diagnose:
		if err := admitVerdict(a.ID); err != nil {
			return 0, err
		}
		return 1, within(a.Value, "value")
	case Tell:
		return tellMinutes, admitTopic(a.ID)
	case Hint:
		return 0, c.admitHint(a.ID)
	case Finish:
		return 1, c.admitFinish()
	}
	return 0, refuse("kind", "%q is no act.", a.Kind)
}

// What it takes to turn the bypass, and to let water in through it little by little,
// minutes; common practice, no source.
const turnMinutes, slowlyMinutes = 0.5, 3

func (c *Call) admitBypass(a Act) (float64, error) {
	switch {
	case !slices.Contains(BypassNames, a.ID):
		return 0, refuse("id", "The bypass has no position %q.", a.ID)
	case a.Value == 0:
		return turnMinutes, nil
	case a.ID != BypassNames[plant.BypassService]:
		return 0, refuse("value", "Only to service is the bypass turned little by little.")
	case c.Plant.Bypass == plant.BypassService:
		return 0, refuse("", "The bypass is in service already.")
	}
	return slowlyMinutes, within(a.Value, "value")
}

func within(v float64, field string) error {
	if !(v >= 0 && v <= 1) {
		return refuse(field, "%v is outside 0 to 1.", v)
	}
	return nil
}

func (c *Call) admitDrive(k Kind) (float64, error) {
	switch {
	case !c.Plant.Powered:
		return 0, refuse("", "The controller is unplugged: its motor does not turn.")
	case !c.Plant.Lit():
		return 0, refuse("", "The controller's face is dark: it starts nothing.")
	case c.Plant.Control.Moving:
		return 0, refuse("", "The drum is on its way.")
	case k == StartRegen && c.Plant.Control.Regenerating:
		return 0, refuse("", "It is regenerating already: it is sent on to the next position.")
	}
	return 0, nil
}

func (c *Call) admitWork(a Act) (float64, error) {
	p, ok := Part(a.Part)
	if !ok {
		return 0, refuse("part", "No part is named %q.", a.Part)
	}
	open := c.IsOpen(a.Part)
	switch {
	case a.Kind == Open && !p.CanOpen, a.Kind == Clean && !p.CanClean, a.Kind == Adjust && !p.CanSet, a.Kind == Replace && !p.CanSwap:
		return 0, refuse("part", "%s: this is not done to it.", p.Name)
	case a.Kind == Open && open:
		return 0, refuse("part", "%s: open already.", p.Name)
	case a.Kind == Refit && !open:
		return 0, refuse("part", "%s: in its place.", p.Name)
	case (a.Kind == Clean || a.Kind == Adjust || a.Kind == Replace) && p.CanOpen && !open:
		return 0, refuse("part", "%s: take it out or open it first.", p.Name)
	}
	switch a.Kind {
	case Open:
		open, _ := OpenMinutes(p, c.Opened)
		return open, nil
	case Refit:
		_, refit := OpenMinutes(p, c.Opened)
		return refit, nil
	case Clean:
		return p.Minutes.Clean, nil
	case Adjust:
		return p.Minutes.Adjust, nil
	}
	return ReplaceMinutes(p, c.Opened), nil
}

// ReplaceMinutes is what it takes to fit a new part while others are open: for a riser the
// tank is emptied, unless its foot is out already.
func ReplaceMinutes(p *PartInfo, opened []plant.Part) float64 {
	if p.ID == plant.PartRiser && slices.Contains(opened, plant.PartLowerDist) {
		return p.Minutes.Replace - emptyMinutes
	}
	return p.Minutes.Replace
}

// underValve is what stands under the valve, with its pipes off: to have it off and on
// again takes so many of the minutes for each; common practice, no source.
var underValve = []plant.Part{plant.PartBed, plant.PartUpperDist, plant.PartRiser, plant.PartLowerDist}

const (
	valveOffMinutes, valveOnMinutes = 20, 15
	emptyMinutes                    = 80 // the resin out and in again; common practice, no source
	leastMinutes                    = 2
)

// UnderValve reports whether the valve has to be off the tank for a part to be opened.
func UnderValve(id plant.Part) bool { return slices.Contains(underValve, id) }

// OpenMinutes is what it takes to open a part, and to put it back, while others are open: a
// valve that is off already is not taken off again, nor put back for one part of several.
func OpenMinutes(p *PartInfo, opened []plant.Part) (open, refit float64) {
	open, refit = p.Minutes.Open, p.Minutes.Refit
	if UnderValve(p.ID) && slices.ContainsFunc(opened, func(id plant.Part) bool { return id != p.ID && UnderValve(id) }) {
		open, refit = open-valveOffMinutes, refit-valveOnMinutes
	}
	return max(open, min(leastMinutes, p.Minutes.Open)), max(refit, min(leastMinutes, p.Minutes.Refit))
}

func (c *Call) admitFinish() error {
	if len(c.Opened) > 0 {
		return refuse("", "A part is still open: put it back first.")
	}
	return nil
}
