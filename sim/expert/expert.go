// Package expert plays a whole service call as an experienced technician would:
// the test that tells most per minute first, repair of what is found and nothing
// else, proof, and a second search where the proof fails. It sees what anybody sees
// at the unit: readings, the controller's face, what stands open. What is wrong with
// the unit it learns by these alone, with an adviser at its side.
package expert

import (
	"slices"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

// Run is a call that the expert has played.
type Run struct {
	Deeds   []adviser.Deed
	Reasons []string       // by deed, a sentence each
	Steps   []adviser.Step // by deed
}

// New sets an expert to a call that has just been opened. to moves the call on to a
// tick.
func New(c *call.Call, lib *adviser.Library, to func(tick int64)) *Expert {
	return &Expert{c: c, a: lib.Follow(), ids: lib.Candidates, to: to}
}

// Play plays the call from where it stands to its end.
func (p *Expert) Play() *Run {
	for range mostEpisodes {
		if p.Prove(p.findAndMend()) && !p.isMore() {
			break
		}
	}
	p.Leave()
	return &p.run
}

// Run is what was done so far.
func (p *Expert) Run() *Run { return &p.run }

// isMore looks round for what else may be wrong, by what is quickly tested. It reports
// whether there is something.
func (p *Expert) isMore() bool {
	const quickMinutes, most = 5, 6
	p.a.Doubt()
	for range most {
		p.a.Look(p.c.Ticks)
		list := p.options()
		for i := range list {
			in := &instrument.All()[i]
			if list[i].Minutes > quickMinutes || in.Where == plant.PartHouse && list[i].Gain < WorthBits[1] { // nobody is asked all over again for little
				list[i].Gain = 0
			}
		}
		if top := adviser.Best(list); top.Gain < WorthBits[0] || !p.take(top) {
			break
		}
	}
	belief := p.a.Belief()
	top := adviser.Lead(belief)
	return belief[top] > doubtful && len(p.unnamed(p.ids()[top])) > 0
}

// findAndMend searches, names and mends, and searches again where the part that was
// named turns out to be sound. It reports whether it mended anything. What hardly
// anything speaks for is named only where nothing has been named yet.
func (p *Expert) findAndMend() (worked bool) {
	const mostTries, plausible = 4, 0.1
	for try := range mostTries {
		p.Search()
		p.see()
		before := slices.Clone(p.named)
		found, belief := p.unnamedLead()
		if belief < plausible && len(before) > 0 {
			break
		}
		done, ok := p.Mend(p.name(found, belief))
		worked = worked || done
		if ok || try == mostTries-1 {
			break
		}
		p.named = before
	}
	return worked
}

// mostEpisodes is how often it begins to search again when the proof fails.
const mostEpisodes = call.MaxCauses

// Expert is one at work on one call.
type Expert struct {
	c   *call.Call
	a   *adviser.Adviser
	ids func() []string // of the candidates
	to  func(tick int64)
	run Run

	drove    bool     // it has driven the drum on from service, and no whole regeneration has followed
	brine    bool     // the last rinse left brine in the bed
	wentHome bool     // it has driven the drum back to service before opening anything, which it does once
	worked   bool     // something was worked at
	handled  bool     // what stands in the tank was out, and has not been disinfected since
	isolated bool     // without water and pressure, unplugged
	unplugs  int      // how often it pulled the plug
	named    []string // causes named so far
}

// Do carries out an act and waits for its end. It returns nil where the act was not
// done.
func (p *Expert) Do(a call.Act, reason string) *call.Entry {
	d, n := adviser.Deed{Tick: p.c.Ticks, Act: a}, len(p.c.Journal)
	if p.c.Do(a) != nil {
		return nil
	}
	if p.c.Busy {
		p.to(p.c.BusyUntil)
	}
	e := p.c.Journal[n]
	p.run.Deeds, p.run.Reasons = append(p.run.Deeds, d), append(p.run.Reasons, reason)
	p.run.Steps = append(p.run.Steps, p.a.Follow(d, &e))
	if e.Unsafe {
		return nil
	}
	return &e
}

// test makes a test and returns its reading; nil where it gave none.
func (p *Expert) test(id, reason string) *call.Reading {
	if e := p.Do(call.Act{Kind: call.Test, ID: id}, reason); e != nil {
		return e.Reading
	}
	return nil
}

// wait lets time pass.
func (p *Expert) wait(minutes float64) {
	p.to(p.c.Ticks + int64(minutes*60/call.TickS))
}

// What the controller's face shows.
func (p *Expert) away() bool { return p.c.Plant.Control.Regenerating }

func (p *Expert) station() int { return p.c.Plant.Control.Station }

func (p *Expert) moving() bool { return p.c.Plant.Control.Moving }

func (p *Expert) powered() bool { return p.c.Plant.Powered }

// stop returns the place of a position in the program.
func (p *Expert) stop(id string) int {
	i := p.c.Model().Config().Program.Place(id)
	if i < 0 {
		panic("expert: no position " + id)
	}
	return i
}

// canDrive reports whether the drum may be sent on: the controller is under power
// and waits for nothing.
func (p *Expert) canDrive() bool { return p.c.Plant.Lit() && !p.moving() && !p.isolated }

// settle waits for the drum to come to rest.
func (p *Expert) settle() {
	const longestMinutes = 4
	p.wait(call.TickS / 60) // a button that was pressed takes a moment
	for i := 0; p.powered() && p.moving() && i < 4*longestMinutes; i++ {
		p.wait(0.25)
	}
}

// sendOn presses a button that sends the drum on by hand, and keeps in mind where that was
// from service.
func (p *Expert) sendOn(kind call.Kind, reason string) *call.Entry {
	p.drove = p.drove || !p.away()
	return p.Do(call.Act{Kind: kind}, reason)
}

// goTo sends the drum on to a position ahead and gives it time to show.
func (p *Expert) goTo(stop int, reason string) {
	kind := call.Advance
	if !p.away() {
		kind = call.StartRegen
	}
	for range p.c.Model().Config().Program.Stops {
		if p.sendOn(kind, reason) == nil {
			break
		}
		kind = call.Advance
		p.settle()
		if p.station() == stop || !p.away() {
			break
		}
	}
	p.wait(1)
}

// through waits for a regeneration to end.
func (p *Expert) through() {
	const longestMinutes = 300
	for i := 0; (p.away() || p.moving()) && p.powered() && i < longestMinutes; i++ {
		p.wait(1)
	}
	p.wait(1)
}

// part describes a part.
func part(id plant.Part) *call.PartInfo {
	info, ok := call.Part(id)
	if !ok {
		panic("expert: no part " + string(id))
	}
	return info
}
