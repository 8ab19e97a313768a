package debrief

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinebench/sim/call"
	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// proof asks whether the unit was mended, regenerated and shown to soften, and
// how it was left.
func (c *Case) proof(r *Result) Item {
	it := Item{Name: "Proof and set-up", Max: maxProof}
	var told []string
	mended := len(fault.Mendable(c.Call.Plant.Cond)) == 0
	points := []point{
		{4, mended, "Nothing is left that work on the call can put right.", "Something is still wrong."},
		c.worked(r),
	}
	points = append(points, c.complaints()...)
	left := 3.0
	const each = 0.75 // of it for what is asked only of who had such a part open
	if again, slowly := c.filled(); again {
		left -= each
		filled := point{each, slowly, "The water was let back in slowly, in backwash.", "The water was not let back in slowly, in backwash: the air goes to the house's taps, and beads with it."}
		if c.Model.Config().Program.Place("backwash") < 0 {
			filled = point{each, slowly, "The water was let back in slowly.", "The water was not let back in slowly: it hammers the pipes and throws beads into the valve."}
		}
		points = append(points, filled)
	}
	if handled, clean := c.disinfected(); handled {
		left -= each
		points = append(points, point{each, clean, "What had been open was disinfected, and rinsed.", "What had been open in the tank was not disinfected with bleach in the brine well and a regeneration: it carries drinking water."})
	}
	if greased, dry := c.greased(); greased {
		left -= each
		points = append(points, point{each, len(dry) == 0, "Seals went in with silicone.", strings.Join(dry, " ")})
	}
	missing := c.leftWrong()
	if mended || len(missing) > 0 { // who leaves what was wrong has left nothing as it should be
		points = append(points, point{left, len(missing) == 0 && mended, "It was left in service with brine for the next regeneration.", strings.Join(append([]string{"It was not left as it should be."}, missing...), " ")})
	}
	for _, p := range append(points,
		point{1, c.told(), "The customer heard what it was.", "The customer was not told what it was."},
	) {
		told = append(told, p.no)
		if p.done {
			it.Got += p.points
			told[len(told)-1] = p.yes
		}
	}
	it.Reason = strings.Join(told, " ")
	return it
}

// point is one thing to be proven.
type point struct {
	points  float64
	done    bool
	yes, no string
}

// worked is the proof that the repair does what it should; where there was nothing to
// mend, the proof is to have left the unit as it was.
func (c *Case) worked(r *Result) point {
	if c.nothingAtTheUnit() {
		return point{2, len(r.Unneeded) == 0 && lastRead(c.entries) >= 0, "The unit was tested and left as it is.", "The unit needed no work: it was to be tested and left as it is."}
	}
	return point{2, c.drawnSince(c.mendedAt()), "A test showed it drawing brine after the repair.", "No test showed it drawing brine after the repair."}
}

// complaints are the proofs that the customer will notice: soft water, and of what else
// was complained of that it is gone. Where nothing else was, soft water counts for all.
func (c *Case) complaints() []point {
	const soft, gone = 3, 2
	at := c.mendedAt()
	points := []point{{soft, c.provenSoft(at), "A test showed soft water at the house.", "No test showed soft water at the house after the repair."}}
	for _, id := range c.File.Says {
		complaint, _ := instrument.FindComplaint(id)
		if proofs := complaint.Proofs(); len(proofs) > 0 && !c.nothingToMend() {
			points = append(points, point{gone, c.shown(proofs, at), fmt.Sprintf("The complaint %q is shown to be gone.", complaint.Name), fmt.Sprintf("The complaint %q is not shown to be gone.", complaint.Name)})
		}
	}
	others := points[1:]
	if len(others) == 0 {
		points[0].points += gone
	}
	for i := range others {
		others[i].points /= float64(len(others))
	}
	return points
}

// nothingAtTheUnit reports whether all that was to be put right, if anything, lay in the
// house or its pipes.
func (c *Case) nothingAtTheUnit() bool {
	for _, f := range fault.Mendable(c.File.Condition()) {
		if f.Where != plant.PartHouse || f.Fitted() {
			return false
		}
	}
	return true
}

// nothingToMend reports whether the unit had nothing that work on it puts right, and
// nothing was put right.
func (c *Case) nothingToMend() bool {
	return len(fault.Mendable(c.File.Condition())) == 0 && c.mendedAt() == 0
}

// shown reports whether one of the proofs was read after a tick, and where it takes a
// regeneration, after one.
func (c *Case) shown(proofs []instrument.Proof, tick int64) bool {
	return slices.ContainsFunc(proofs, func(p instrument.Proof) bool {
		in, _ := instrument.Find(p.Test)
		from := tick
		if p.Regenerated {
			from = c.regeneratedAt(tick, true)
		}
		return c.readSince(from, func(r *call.Reading) bool {
			return r.Instrument == p.Test && r.Unit == in.Quantity && p.Shows(c.Model, r.Value, r.Text)
		})
	})
}

// mendedAt is the tick at which the last repair that took something wrong away was
// done; 0 when none did. Setting the controller leaves what was proved before as it is.
func (c *Case) mendedAt() int64 {
	at, cond := int64(0), c.File.Condition()
	for _, e := range c.entries {
		if c.mends(e, &cond) && !(e.Action.Kind == call.Adjust && e.Action.Part == plant.PartController) {
			at = e.EndTick
		}
	}
	return at
}

// mends reports whether a deed took something wrong away from a unit in the given
// condition, and books it there.
func (c *Case) mends(e *call.Entry, cond *plant.Condition) bool {
	was := *cond
	if e.Mended {
		fault.Do(cond, e.Action.Part, fault.Work(e.Action.Kind))
	}
	return *cond != was
}

// drawnSince reports whether a reading of the brine line after a tick shows a
// draw, by tape and watch or by looking; even at 15 psi a sound unit draws more. Or the
// recorder told of one that began since, or the level was lower at a later reading.
func (c *Case) drawnSince(tick int64) bool {
	return c.recordedSince(tick) || c.fallenSince(tick) || c.readSince(tick, func(r *call.Reading) bool {
		return r.Instrument == "brine-draw" && r.Value > 0.05*unit.GPM || r.Instrument == "line-look" && r.Text == instrument.DrawnClear
	})
}

// fallenSince reports whether the tape in the brine tank showed less than before since a
// tick, by more than an inch: it was drawn, and not taken out by hand.
func (c *Case) fallenSince(tick int64) bool {
	const fallM = 0.0254
	high := 0.0
	for _, e := range c.entries {
		switch r := e.Reading; {
		case e.Tick < tick || e.Unsafe:
		case e.Action.Kind == call.Bail:
			high = 0
		case r != nil && r.Instrument == "brine-level" && r.Unit != instrument.Sighting:
			if high = max(high, r.Value); high-r.Value > fallM {
				return true
			}
		}
	}
	return false
}

// recordedSince reports whether the level recorder was read, back in service, after a
// regeneration whose draw was still to come at a tick.
func (c *Case) recordedSince(tick int64) bool {
	return c.readSince(c.regeneratedAt(tick, false), func(r *call.Reading) bool {
		return r.Instrument == "draw-watch" && r.Value > unit.Minute
	})
}

// regeneratedAt is the tick of the first deed back in service after a regeneration whose
// brine draw was still to come at a tick, or, if that will do, under way; where there is
// none, it is past every deed.
func (c *Case) regeneratedAt(tick int64, underWay bool) int64 {
	last := c.Model.Config().Program.Place("brine")
	if !underWay {
		last--
	}
	ahead := false
	for _, e := range c.entries {
		switch starts := e.Action.Kind == call.StartRegen; {
		case e.Tick < tick || e.Unsafe:
		case ahead && e.Station == 0 && !starts:
			return e.Tick
		default:
			ahead = ahead || starts || e.Station > 0 && e.Station <= last
		}
	}
	return math.MaxInt64
}

// provenSoft reports whether the house was shown to have soft water after a tick:
// at most 1 gpg, the limit of NSF/ANSI 44's capacity test (secondary source).
func (c *Case) provenSoft(tick int64) bool {
	return c.readSince(tick, func(r *call.Reading) bool {
		return r.Instrument == "hardness-house" && r.Unit != instrument.Sighting && r.Value <= 1.0001*unit.GPG
	})
}

func (c *Case) readSince(tick int64, shows func(*call.Reading) bool) bool {
	for _, e := range c.entries {
		if e.Reading != nil && e.Tick >= tick && shows(e.Reading) {
			return true
		}
	}
	return false
}

// filled reports whether water was let in again after the valve had been off the tank, and
// whether each time as it should: little by little, in backwash.
func (c *Case) filled() (again, slowly bool) {
	backwash := c.Model.Config().Program.Place("backwash")
	slowly = true
	for _, e := range c.entries {
		if e.Filled {
			again, slowly = true, slowly && e.LetInSlowly() && (e.Station == backwash || backwash < 0)
		}
	}
	return again, slowly
}

// disinfected reports whether what stands in the tank was in somebody's hands, and whether
// what was put back was disinfected: bleach in the brine well, and a draw that took it along.
func (c *Case) disinfected() (handled, clean bool) {
	back, bleach := int64(0), int64(-1)
	for _, e := range c.entries {
		switch {
		case e.Unsafe:
		case e.Action.Kind == call.Refit && call.UnderValve(e.Action.Part):
			handled, back = true, e.EndTick
		case e.Action.Kind == call.Disinfect:
			bleach = e.EndTick
		}
	}
	return handled, bleach >= 0 && c.regeneratedAt(max(back, bleach), true) < math.MaxInt64
}

// leftWrong lists what keeps a household from being left alone with the unit.
func (c *Case) leftWrong() (list []string) {
	s, cfg := c.Call.Plant, c.Model.Config()
	charge := cfg.BrineM - cfg.Brine.AirCheckM // what a sound unit has above the air check
	for _, x := range []struct {
		wrong bool
		says  string
	}{
		{len(c.Call.Opened) > 0, "A part is open."},
		{s.Bypass != plant.BypassService, "Its bypass is not in service."},
		{s.ShutOff, "The supply is shut off."},
		{s.HouseTap > 0 || s.RawTap > 0, "A tap runs."},
		{!s.Powered, "The controller is unplugged."},
		{s.Control.Regenerating, "A regeneration is under way."},
		{!c.clockRight(), "Its clock does not show the time."},
		{c.Model.Tank(s).LevelM < cfg.Brine.AirCheckM+float64(0.6*charge), "There is too little brine for the next regeneration."},
		{c.countsFromNothing(), "The drum was driven round without brine: the controller counts from there, and the bed is as it was."},
	} {
		if x.wrong {
			list = append(list, x.says)
		}
	}
	return list
}

// greased reports whether parts with seals were put back, and names those whose seals went in
// without silicone the last time.
func (c *Case) greased() (some bool, dry []string) {
	for i := range call.Parts() {
		p := &call.Parts()[i]
		without, silicone := false, false
		for _, e := range c.entries {
			switch a := e.Action; {
			case e.Unsafe || a.Part != p.ID || !p.Seals:
			case a.Kind == call.Open:
				silicone = false
			case a.Kind == call.Lubricate:
				silicone = a.ID == call.Lubricants[0]
			case a.Kind == call.Refit:
				some, without = true, !silicone
			}
		}
		if without {
			dry = append(dry, fmt.Sprintf("%s: its seals went in without silicone.", p.Name))
		}
	}
	return some, dry
}

// countsFromNothing reports whether a controller that counts water was set back by a
// regeneration that ended during the call, while none of them drew half a charge of brine. A
// clock keeps its days whatever is done by hand.
func (c *Case) countsFromNothing() bool {
	const half = 0.5
	s, was, cfg := c.Call.Plant, c.Found, c.Model.Config()
	charge := float64(cfg.RefillM3S * cfg.Control.RefillS)
	return cfg.Control.Kind == control.Demand && s.Log.Last != was.Log.Last &&
		s.Ledger.DrawnM3-was.Ledger.DrawnM3 < float64(half*charge) && s.Control.UsedM3 < float64(half*was.Control.UsedM3)
}

// clockRight reports whether the controller knows the time, to the quarter of an
// hour that nobody minds.
func (c *Case) clockRight() bool {
	const nearlyS = 900
	off := c.Model.ClockFastS(c.Call.Plant)
	return !c.Call.Plant.Control.Unset && off < nearlyS && off > -nearlyS
}

// told reports whether the customer was told what had been wrong, or that it was
// not the softener.
func (c *Case) told() bool {
	return slices.ContainsFunc(c.entries, func(e *call.Entry) bool {
		return e.Action.Kind == call.Tell && (e.Action.ID == "cause" || e.Action.ID == "other")
	})
}
