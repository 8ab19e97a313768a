package expert

import (
	"fmt"
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// Mend puts right what was named and reports whether anything was done that concerns the unit. ok is
// false where a part, opened, does not look like it: then nothing was done to it.
func (p *Expert) Mend(ids []string) (worked, ok bool) {
	for _, id := range ids {
		f, ok := fault.Find(id)
		if !ok || len(f.Cures) == 0 {
			continue
		}
		if part(f.Where).CanOpen && !p.open(f.Where, fmt.Sprintf("Opened to put it right: %s.", f.Name)) {
			continue
		}
		if p.a.Present(id) < doubtful {
			return worked, false
		}
		done := p.Work(call.Kind(f.Cures[0]), f.Where, fmt.Sprintf("%s: this puts it right. %s", f.Name, f.Vain))
		worked = worked || done && (f.Where != plant.PartHouse || f.Fitted())
	}
	return worked, true
}

// Work makes a part safe, opens it if it must be open, and works on it. It reports
// whether that was done.
func (p *Expert) Work(kind call.Kind, id plant.Part, reason string) bool {
	if part(id).CanOpen && !p.open(id, reason) {
		return false
	}
	switch act := (call.Act{Kind: kind, Part: id}); {
	case p.c.Repipes(act):
		p.drain()
	case kind != call.Replace:
	case id == plant.PartController:
		p.unplug("Nothing is wired under power.")
	case id == plant.PartPlugIn:
		p.test("supply-meter", "Multimeter at the outlet first: a breaker that has tripped looks the same.")
		p.unplugs++ // it comes out of the outlet, and the clock has been without
	}
	done := p.Do(call.Act{Kind: kind, Part: id}, reason) != nil
	p.worked = p.worked || done
	return done
}

// doubtful is the belief below which what was named is not mended but looked for again.
const doubtful = 0.5

// open makes a part safe and opens it; false where it would not open.
func (p *Expert) open(id plant.Part, reason string) bool {
	info := part(id)
	if p.c.IsOpen(id) {
		return true
	}
	if info.Wet && !p.isolate() {
		return false
	}
	if info.Internal {
		p.unplug(handsOff)
	}
	return p.Do(call.Act{Kind: call.Open, Part: id}, reason) != nil
}

// isolate takes water, pressure and power from the unit; false where pressure stays.
func (p *Expert) isolate() bool {
	if p.isolated {
		return true
	}
	p.settle()
	reason := "Nothing is opened under pressure: first the water goes past the unit."
	if p.drains() {
		reason = "Nothing is opened under pressure: the water goes past the unit, and the drain, open in this position, lets the pressure off."
	}
	p.Do(call.Act{Kind: call.Bypass, ID: "bypass"}, reason)
	if !p.relieve() {
		return false
	}
	p.unplug(handsOff)
	p.isolated = true
	return true
}

// relieve lets the pressure off through the drain; where that does not do, through
// the taps, with the supply shut off. It reports whether the gauge showed zero.
func (p *Expert) relieve() bool {
	if p.canDrive() && !p.drains() {
		p.sendOn(call.Advance, "The next position lets the pressure off to the drain.")
		p.settle()
	}
	p.wait(0.5)
	if p.zero() {
		return true
	}
	p.drain()
	return p.zero()
}

// drains reports whether the position told lets water to the drain.
func (p *Expert) drains() bool {
	switch p.c.Model().Config().Program.Stops[p.station()].ID {
	case "backwash", "brine", "fast-rinse":
		return true
	}
	return false
}

// drain shuts off the supply and empties pipes and unit through the taps.
func (p *Expert) drain() {
	p.Do(call.Act{Kind: call.ShutOff, Value: 1}, "No more water comes.")
	if len(p.c.Opened) == 0 {
		p.Do(call.Act{Kind: call.Bypass, ID: "service"}, "So that the unit too runs off through the tap.")
	}
	if !p.brine && !p.salty() {
		p.Do(call.Act{Kind: call.HouseTap, Value: 1}, "The pressure runs off.")
	}
	p.Do(call.Act{Kind: call.RawTap, Value: 1}, "The pressure runs off.")
	p.wait(1)
}

// zero reads the gauge, twice if it must.
func (p *Expert) zero() bool {
	for range 2 {
		r := p.test("pressure-in", "Pressure, valve inlet: see zero on the gauge before anything is opened.")
		if r != nil && r.Value < 1.5*unit.PSI {
			return true
		}
		p.wait(1)
	}
	return false
}

const handsOff = "The motor must not turn the drum onto fingers."

func (p *Expert) unplug(reason string) {
	if p.powered() {
		p.settle()
		p.Do(call.Act{Kind: call.Power, Value: 0}, reason)
		p.unplugs++
	}
}

// back puts everything back and gives the unit water and power again.
func (p *Expert) back() {
	dry := slices.ContainsFunc(p.c.Opened, call.UnderValve)
	p.handled = p.handled || dry
	for _, id := range slices.Backward(slices.Clone(p.c.Opened)) { // what came out last goes in first
		if part(id).Seals {
			p.Do(call.Act{Kind: call.Lubricate, Part: id, ID: call.Lubricants[0]}, "Only silicone on seals.")
		}
		p.Do(call.Act{Kind: call.Refit, Part: id}, "Everything back in its place before the water comes.")
	}
	s := p.c.Plant
	if s.HouseTap > 0 {
		p.Do(call.Act{Kind: call.HouseTap}, "Taps as they were.")
	}
	if s.RawTap > 0 {
		p.Do(call.Act{Kind: call.RawTap}, "Taps as they were.")
	}
	if s.ShutOff {
		if dry && s.Bypass == plant.BypassService {
			p.Do(call.Act{Kind: call.Bypass, ID: "bypass"}, "The water comes back past the unit first.")
		}
		p.Do(call.Act{Kind: call.ShutOff}, "Water again.")
	}
	if !s.Powered {
		p.Do(call.Act{Kind: call.Power, Value: 1}, "Power again, with nothing open.")
	}
	p.isolated = false
	if s.Bypass != plant.BypassService {
		in, reason := call.Act{Kind: call.Bypass, ID: "service"}, "Water through the unit again."
		if dry {
			in.Value, reason = 1, "Water little by little, where there was air."
			if p.toBackwash() {
				reason = "Water from below, in backwash and little by little: the air goes out by the drain."
			}
		}
		p.Do(in, reason)
	}
	p.wait(0.5)
	p.settle()
}

// toBackwash drives the drum, with no water on the unit, to where the drain lets the air
// out; false where it does not turn.
func (p *Expert) toBackwash() bool {
	backwash := p.c.Model().Config().Program.Place("backwash")
	if backwash < 0 { // a program without one
		return false
	}
	for range 2 { // out of one cycle, and into the next
		p.settle()
		if p.away() && p.station() == backwash || !p.canDrive() {
			break
		}
		p.goTo(backwash, "To backwash before the water comes.")
	}
	return p.away() && p.station() == backwash
}

// Ready gives the unit water and power again if it has none.
func (p *Expert) Ready() {
	if p.isolated || !p.powered() || len(p.c.Opened) > 0 {
		p.back()
	}
}

// Look opens a part to see it; false where it would not open.
func (p *Expert) Look(id plant.Part) bool { return p.open(id, "To see it.") }

// Drive sends the drum on to the next position; false where it does not turn.
func (p *Expert) Drive() bool {
	p.Ready()
	p.settle()
	if !p.canDrive() || p.sendOn(call.Advance, "To the next position.") == nil {
		return false
	}
	p.settle()
	return true
}
