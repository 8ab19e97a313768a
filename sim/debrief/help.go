package debrief

import (
	"fmt"
	"slices"
	"strings"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
)

// HelpPoints is what each step of help takes off the score, in the order of
// call.Rungs: the less is left to find, the dearer.
var HelpPoints = []float64{2, 4, 8, 30}

// Help says what a step of help tells of a unit in its present condition; m is of
// the file's plant.
func Help(f *scenario.File, m *plant.Model, cond plant.Condition, rung string) string {
	wrong := fault.Wrong(cond)
	if len(wrong) == 0 {
		return soundHelp[rung]
	}
	if rung == "test" {
		return tellingTest(f, m, cond)
	}
	var told []string
	for _, w := range wrong {
		told = append(told, helpOn(w, rung))
	}
	slices.Sort(told)
	return strings.Join(slices.Compact(told), " ")
}

// soundHelp is for a unit that has nothing wrong with it.
var soundHelp = map[string]string{
	"area":     "Look at what the unit delivers before you look for what is broken.",
	"function": "It softens, draws, rinses and refills as it should.",
	"test":     "Measure the hardness at the house tap and at the raw-water tap.",
	"answer":   "Nothing is wrong with the unit.",
}

func helpOn(w *fault.Fault, rung string) string {
	switch p, _ := call.Part(w.Where); rung {
	case "area":
		return "Look at " + placeOf(w.Where).area + "."
	case "function":
		return placeOf(w.Where).function
	default:
		return fmt.Sprintf("The cause: %s (%s).", w.Name, p.Name)
	}
}

// tellingTest names the test that tells most of all that is wrong.
func tellingTest(f *scenario.File, m *plant.Model, cond plant.Condition) string {
	in, stage := telling(f, m, cond)
	when := ""
	if !in.Fixed {
		when = " in " + stage.String()
	}
	return fmt.Sprintf("The reading that tells most%s: %s.", when, in.Name)
}

// telling is the test, without opening anything if one will do, whose reading
// differs most from the sound unit's, and when.
func telling(f *scenario.File, m *plant.Model, cond plant.Condition) (*instrument.Instrument, signature.Stage) {
	past, coarse := signature.NewPast(f, m), m.Coarse()
	l := signature.Library{}
	for _, c := range []plant.Condition{cond, plant.Healthy()} {
		u := signature.In(m.Config(), c)
		l.Units = append(l.Units, u)
		l.Signatures = append(l.Signatures, signature.Of(coarse, past.Live(&u)))
	}
	if moves := l.Moves(0, 1); len(moves) > 0 {
		return &instrument.All()[moves[0].In], moves[0].Stage
	}
	in, _ := instrument.Find("hardness-house")
	return in, signature.Service
}

// place is where on the unit a part belongs, and what it is there for.
type place struct{ area, function string }

func placeOf(p plant.Part) place {
	switch p {
	case plant.PartInjector, plant.PartScreen, plant.PartBrineLine, plant.PartAirCheck:
		return place{"the way of the brine, from the tank to the injector", "Brine is not drawn as it should be."}
	case plant.PartRefillCtl, plant.PartBrineTank, plant.PartSalt, plant.PartFloat:
		return place{"the brine tank and what fills it", "Brine is not made as it should be."}
	case plant.PartDrainCtl, plant.PartDrainLine, plant.PartAirGap:
		return place{"the way to the drain", "Waste water does not leave as it should."}
	case plant.PartController, plant.PartMeter:
		return place{"what decides on a regeneration", "Regenerations do not come when they should, or not the right ones."}
	case plant.PartPlugIn, plant.PartMotor, plant.PartDrum:
		return place{"the drive", "The drum does not stand where the controller believes."}
	case plant.PartBed, plant.PartRiser, plant.PartUpperDist, plant.PartLowerDist:
		return place{"the resin tank", "The bed does not exchange, or not all the water goes through it."}
	case plant.PartSeats, plant.PartValve:
		return place{"the seats of the control valve", "A passage does not open or close as it should."}
	}
	return place{"the house and its pipes, not the unit itself", "The unit does what it can with what the house gives it and asks of it."}
}

// chargeHelp takes the price of help from what was to be found: cause, evidence,
// economy.
func (c *Case) chargeHelp(r *Result) {
	owed := 0.0
	for _, points := range HelpPoints[:c.Call.Helped()] {
		owed += points
	}
	r.charge(owed, []int{0, 1, 2}, fmt.Sprintf("for help (steps taken: %d)", c.Call.Helped()))
}
