package expert

import (
	"math"
	"slices"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// Prove gives the unit back its water and shows that it softens: at once where
// nothing was done to it, else after a regeneration, or two where it may have taken
// more than one. It reports whether the house has soft water.
func (p *Expert) Prove(worked bool) bool {
	const regenerations = 2
	p.back()
	if !worked && !p.salty() && p.soft() {
		p.gone()
		return true
	}
	for range regenerations {
		p.makeBrine()
		if !p.draws() {
			return false
		}
		if !p.rinsed() {
			return false
		}
		p.drove = false
		if p.soft() {
			p.gone()
			return true
		}
		if len(p.unnamed(p.ids()[adviser.Lead(p.a.Belief())])) > 0 {
			return false // it speaks for another cause
		}
	}
	return false
}

// salty reports whether salt water may come from a house tap that is opened now.
func (p *Expert) salty() bool {
	p.a.Look(p.c.Ticks)
	return p.a.Salty() > saltRisk
}

// rinsed waits for the regeneration to end and reports whether the brine was rinsed
// out of the bed, as the drain shows it: until it does no tap is opened in the house.
// Where brine is left the bed is rinsed again.
func (p *Expert) rinsed() bool {
	const rinses, lastMinutes = 3, 3
	rinse := p.stop("fast-rinse")
	for range rinses {
		for p.away() && p.station() < rinse {
			p.wait(1)
		}
		p.settle()
		p.wait(p.c.Model().StationRemainingS(p.c.Plant)/60 - lastMinutes)
		p.brine = !p.fresh()
		p.through()
		if !p.brine {
			return true
		}
		p.goTo(rinse, "The drain still ran salt: the bed is rinsed once more before anybody draws from it.")
	}
	p.through()
	return false
}

// fresh reads whether the water that comes through the bed carries no more than the
// street's.
func (p *Expert) fresh() bool {
	const more = 0.1 // S/m: about half a gram of salt in a litre
	raw := p.test("conductivity-raw", "Conductivity, raw water: what the drain is held against.")
	drain := p.test("drain-conductivity", "Conductivity, drain water, as proof: the brine must be out of the bed before a house tap is opened.")
	return raw != nil && drain != nil && drain.Unit != instrument.Sighting && drain.Value < raw.Value+more
}

// soft reads the hardness at the house: at most 1 gpg, the limit of NSF/ANSI 44's
// capacity test (secondary source).
func (p *Expert) soft() bool {
	r := p.test("hardness-house", "Hardness, house tap, as proof: the family must get soft water.")
	return r != nil && r.Unit != instrument.Sighting && r.Value <= 1.0001*unit.GPG
}

// gone shows of whatever else the customer complained of that it is gone, where something
// was worked at.
func (p *Expert) gone() {
	if !p.worked {
		return
	}
	for _, c := range p.a.Complaints() {
		if proofs := c.Proofs(); len(proofs) > 0 {
			in, _ := instrument.Find(proofs[0].Test)
			p.test(in.ID, in.Name+", as proof: it is what the customer complained of.")
		}
	}
}

// makeBrine sees to it that there is brine to regenerate with: as high as the unit's
// plate asks, and strong.
func (p *Expert) makeBrine() {
	const enough, strong, longest = 0.6, 0.85, 10
	const overM = 0.1 // a hand's breadth
	cfg := p.c.Model().Config()
	need := cfg.Brine.AirCheckM + float64(enough*(cfg.BrineM-cfg.Brine.AirCheckM))
	r := p.test("brine-level", "Brine level, tape: is there enough for a regeneration?")
	switch {
	case r == nil:
	case r.Value < need && p.canDrive():
		p.goTo(p.stop("refill"), "Too little brine for a regeneration: water to the salt first.")
		p.through()
	case r.Value > cfg.BrineM+overM:
		p.Do(call.Act{Kind: call.Bail}, "More than one draw is meant to take: what is over would cost salt, and the time to rinse it out.")
	}
	for range longest {
		reason := "Brine strength, hydrometer: only strong brine regenerates."
		if p.away() {
			reason = "Brine strength, hydrometer: what the regeneration under way has to go on."
		}
		r := p.test("brine-strength", reason)
		if r == nil || r.Value >= strong || p.away() {
			return
		}
		p.wait(20)
	}
}

// disinfect has the draw take bleach through what was open in the tank. By then backwash has
// rinsed out what else may have been put in.
func (p *Expert) disinfect() {
	if p.handled {
		p.Do(call.Act{Kind: call.Disinfect}, "What carries drinking water was in the open: the draw takes the bleach through it, and the rinse takes it out.")
		p.handled = false
	}
}

// draws starts a regeneration, if none is under way that still has brine draw before
// it, and reports whether brine is drawn in it.
func (p *Expert) draws() bool {
	const least = 0.05 * unit.GPM
	if p.away() && p.station() > p.stop("brine") {
		p.through()
	}
	if !p.away() {
		p.Do(call.Act{Kind: call.StartRegen}, "The proof begins with a regeneration.")
	}
	p.toDraw()
	p.disinfect()
	p.wait(2)
	r := p.test("brine-draw", "Brine line flow, tape and watch, as proof: it must draw.")
	return r != nil && r.Unit != instrument.Sighting && r.Value > least
}

// toDraw waits for the brine draw of the regeneration under way.
func (p *Expert) toDraw() {
	const longestMinutes = 60
	p.settle()
	for i := 0; p.away() && p.station() != p.stop("brine") && i < longestMinutes; i++ {
		p.wait(1)
	}
}

// regenerate ends what has the unit want one more regeneration: a controller that counts
// water and has been driven round without brine counts from there, and the bed would run
// hard before the next night; what was handled is disinfected by a draw. A clock keeps its
// days whatever is done by hand.
func (p *Expert) regenerate() {
	reason := ""
	switch counts := p.c.Model().Config().Control.Kind == control.Demand; {
	case p.brine || !p.canDrive():
		return
	case p.handled:
		reason = "The draw takes the bleach through what was open in the tank."
	case counts && p.drove:
		reason = "The drum has been driven round without brine, and the controller counts from there: a whole regeneration makes its count true."
	default:
		return
	}
	p.makeBrine()
	p.Do(call.Act{Kind: call.StartRegen}, reason)
	p.toDraw()
	p.disinfect()
	p.through()
	p.drove = false
}

// Leave sets the clock and the salt right where they need it, tells the customer and
// hands the unit back.
func (p *Expert) Leave() {
	p.back()
	p.through()
	p.regenerate()
	if p.unplugs > 0 || p.c.Plant.Control.Unset {
		r := p.test("clock-read", "Controller's clock against a watch: the plug was out, it may have lost the time.")
		if r != nil && math.Abs(r.Value) > 600 || p.c.Plant.Control.Unset {
			p.Do(call.Act{Kind: call.Adjust, Part: plant.PartController}, "The clock does not show the time, and the unit would regenerate at the wrong hour: it is set by the watch.")
		}
	}
	if r := p.test("salt-look", "Salt, look into the tank: does it last for weeks?"); r != nil && (r.Text == "no salt" || r.Text == "salt under water only") {
		p.Do(call.Act{Kind: call.Replace, Part: plant.PartSalt}, "Salt for the weeks to come.")
	}
	topic := "other"
	for _, id := range p.named {
		if f, ok := fault.Find(id); ok && f.Where != plant.PartHouse && f.Where != plant.PartSupply {
			topic = "cause"
		}
	}
	if p.brine {
		p.Do(call.Act{Kind: call.Bypass, ID: "bypass"}, "Brine is left in the bed: the family gets raw water.")
	}
	p.Do(call.Act{Kind: call.Tell, ID: topic}, "The customer hears what it was.")
	if slices.ContainsFunc(p.a.Complaints(), func(c *instrument.Complaint) bool { return c.ID == "beads" || c.ID == "sand" }) {
		p.Do(call.Act{Kind: call.Tell, ID: "flush"}, "What is in the pipes still comes for a while.")
	}
	p.Do(call.Act{Kind: call.Finish}, "Mended, proven, set up.")
}
