package instrument

import "brinebench/sim/plant"

// Complaint is something that customers tell when they call, before anybody asks.
type Complaint struct {
	ID, Name string
	Stray    float64 // how readily it is told where it is not so, beside where it is
	so       func(m *plant.Model, s, sound *plant.State) bool
}

// So reports whether a unit, as its history leaves it, gives reason to say so. sound is
// the unit without any fault after the same history.
func (c *Complaint) So(m *plant.Model, s, sound *plant.State) bool { return c.so(m, s, sound) }

// Complaints returns every complaint, in its fixed order. Read only.
func Complaints() []Complaint { return complaints }

// FindComplaint returns the complaint of that ID.
func FindComplaint(id string) (*Complaint, bool) {
	for i := range complaints {
		if complaints[i].ID == id {
			return &complaints[i], true
		}
	}
	return nil, false
}

// How readily something is told where it is not so: of what one remembers, of what lies
// before everybody's eyes, and of what is like nothing else there; from memory.
const loosely, seen, unmistakable = 0.15, 0.02, 0.003

// How much it takes for people to call: common practice, no source.
var complaints = []Complaint{
	{"hard", "the water is hard", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return noticedHard(s) }},
	{"soft", "the water is soft", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return !noticedHard(s) }},
	{"comes-and-goes", "it is hard at times, and soft at others", loosely, func(_ *plant.Model, s, _ *plant.State) bool {
		return hardEverywhere(s) && s.Log.Hard.Soft > 0
	}},
	{"salty", "the water tastes of salt", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return noticedSalt(s) }},
	{"weak", "there is little flow at the taps", loosely, func(m *plant.Model, s, _ *plant.State) bool { return m.WeakAtTaps(s) }},
	{"runs", "it is heard to regenerate", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return heardRunning(s) }},
	{"quiet", "no water is heard at night any more", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return !heardRunning(s) }},
	{"much-salt", "it uses much salt", loosely, func(_ *plant.Model, s, sound *plant.State) bool {
		return s.Ledger.SaltDissolvedMol > 1.5*sound.Ledger.SaltDissolvedMol
	}},
	{"little-salt", "the salt hardly goes down", loosely, func(_ *plant.Model, s, sound *plant.State) bool {
		return s.Ledger.SaltDissolvedMol < 0.6*sound.Ledger.SaltDissolvedMol
	}},
	{"much-water", "the water bill is high", loosely, func(_ *plant.Model, s, sound *plant.State) bool {
		return s.Ledger.SupplyM3 > 1.5*sound.Ledger.SupplyM3
	}},
	{"high-water", "the water in the brine tank is high", loosely, func(m *plant.Model, s, sound *plant.State) bool {
		return m.Tank(s).LevelM > m.Tank(sound).LevelM+0.1
	}},
	{"nobody-new", "there are no more people in the house than there were", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return s.Cond.MorePeople == 0 }},
	{"since-work", "it began when somebody had worked on it", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return madeByHands(&s.Cond) }},
	{"kitchen", "it is in the kitchen that it shows", loosely, func(_ *plant.Model, s, _ *plant.State) bool { return s.Cond.KitchenRaw > 0.5 }},
	{"dark", "there is no light on the controller", seen, func(_ *plant.Model, s, _ *plant.State) bool { return !s.Lit() }},
	{"beads", "there are amber beads in the strainers of the taps", unmistakable, func(_ *plant.Model, s, _ *plant.State) bool { return losesBeads(&s.Cond) }},
	{"sand", "there is sand in the strainers of the taps", seen, func(_ *plant.Model, s, _ *plant.State) bool {
		return losesBeads(&s.Cond) || s.Cond.BedCut > crumbling
	}},
}

// madeByHands reports whether something is wrong that comes of work and not of wear: a
// wrong part, a seal or a fitting that does not sit, a setting, a pipe or a valve left wrong.
func madeByHands(c *plant.Condition) bool {
	return c.InjectorScale != 1 || c.RefillScale != 1 || c.DrainCtlScale != 1 ||
		c.DrainCtlGone > 0 || c.DrainUpM > 0 || c.BrineAirM > 0 || c.RiserSealCv > 0 || c.DrumSlipDeg > 0 || c.FloatLowM > 0 || c.AirCheckHigh > 0 ||
		c.DaysSet != 1 || c.HardnessSet != 1 || c.CapacitySet != 1 || c.DoseSet != 1 || c.ClockOffS != 0 ||
		c.MeterWired < 1 || c.BypassAjar > 0 || c.LinesCrossed > 0
}
