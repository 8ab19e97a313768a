package sim

import (
	"fmt"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
)

// Wear is what can go wrong with a part, and how a unit shows it.
type Wear struct {
	ID, Name string
	Where    Part
	Prior    float64   // relative frequency among service calls
	Seen     string    // what opening, looking at or trying the part shows; "" where that shows nothing
	Work     []string  // what puts it right: "clean", "adjust", "replace"; none: nothing at the unit does
	Vain     string    // what is often done and does not help
	Shows    []Showing // the readings that tell it, in the order in which a technician takes them; none until ShowWear has run, and where none moves
}

// Showing is one reading of a worn unit beside the sound one's.
type Showing struct {
	Stage     string // one of signature.Stages, by the position that the unit stood in
	Test      string // name of the instrument
	Unit      Unit
	Sound     float64
	Worn      float64
	SoundSeen string // where it is a sighting, or nothing could be measured
	WornSeen  string
	AnyTime   bool // it shows the same at any stage
	Alike     bool // it is told because it does not differ: another reading does
}

// How units are compared: after so many days in the house, by readings that are clearly
// apart. Common practice, no source.
const (
	wearDays   = 5
	wearSigmas = 3
)

// Wear lists what can go wrong with the unit, in the order of the catalogue.
func (c *Cycle) Wear() []Wear { return wearOf(&c.cfg) }

func wearOf(cfg *plant.Config) (list []Wear) {
	for _, f := range fault.Catalogue() {
		if !f.CanBe(cfg) {
			continue
		}
		w := Wear{ID: f.ID, Name: f.Name, Where: f.Where, Prior: f.Prior, Seen: f.Seen, Vain: f.Vain}
		for _, x := range f.Cures {
			w.Work = append(w.Work, string(x))
		}
		list = append(list, w)
	}
	return list
}

// ShowWear lives with each fault, half grown or whole, for some days and through a
// regeneration on the unit of a scenario, beside the sound unit, and reads all
// instruments on the way: about a second. progress, if given, hears how far it has
// come, 0..1. Errors name file and field.
func ShowWear(name string, scenarioJSON []byte, progress func(done float64)) ([]Wear, error) {
	f, err := scenario.Decode(name, scenarioJSON)
	if err != nil {
		return nil, err
	}
	m, err := plant.New(f.Config())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f.HistoryDays = wearDays
	l := signature.MakeSmall(f, m, progress)
	healthy := signature.In(m.Config(), plant.Healthy())
	stops := signature.Where(m.Coarse(), signature.NewPast(f, m).Live(&healthy))
	list := wearOf(m.Config())
	for u := range list { // the library has the same faults in the same order, and the sound unit last
		for _, t := range tells(l, u) {
			list[u].Shows = append(list[u].Shows, Showing{
				Stage: stageAt(t.Stage, stops[t.Stage]), Test: t.in.Name, Unit: t.in.Quantity, Sound: t.Sound.Value, Worn: t.Faulty.Value,
				SoundSeen: t.Sound.Seen, WornSeen: t.Faulty.Seen, AnyTime: t.in.Fixed, Alike: t.alike,
			})
		}
	}
	return list, nil
}

// stageAt names a stage by the position that the unit stands in: a program of another
// order than the usual one is not where its name says.
func stageAt(stage signature.Stage, stop string) string {
	switch {
	case stage == signature.Service || stage == signature.After:
		return stage.String()
	case stop == "brine" && stage != signature.SlowRinse:
		return signature.Draw.String()
	case stop == "brine":
		return stage.String()
	case stop == "fast-rinse":
		return signature.FastRinse.String()
	}
	return stop
}
