// Package bench is the place of open operation: one unit or two in step, all of which
// can be set while they run; the last hours gone through back and forth by living them
// again; and what would have been, had something been set otherwise at a moment. It
// knows neither the canvas nor the page.
package bench

import (
	"fmt"

	"brinebench/sim"
)

// MostUnits is how many units run in step at most.
const MostUnits = 2

// Act is one thing set on one unit.
type Act struct {
	Tick  int64   // ticks run before it
	Unit  int     // 0 or 1
	Knob  string  // see sim.Rig.Knobs
	Value float64 // SI
}

// Plan is all that a bench follows from: played again it gives the same bits.
type Plan struct {
	Units []string // what stands on the bench, one or two; see Opener
	Seed  uint64   // of the households' days
	Tick  int64    // how long it has run
	Acts  []Act    // their ticks never fall
}

// Opener puts a unit on the bench by its name. Errors are those of sim.OpenRig.
type Opener func(unit string, seed uint64) (*sim.Rig, error)

// Bench is one person's bench.
type Bench struct {
	plan  Plan // its Units and Seed; Tick and Acts are the run's
	clock func() float64
	fresh []*sim.Rig // the units at their start

	run   *run  // the one that is lived and shown
	trunk *run  // what was, living on beside a what-if while that goes on; nil otherwise
	home  *run  // what was, as it was left
	since int64 // tick at which that begins
	wrong error // see Trouble

	pacer
	views   [2 * MostUnits]sim.View // of the units, and of the same units as they were
	asWas   bool                    // the drawing shows what was
	alike   [2 * MostUnits]alike    // the setups of the same, on one scale
	changes int
}

// New sets a bench up for a plan, at its start: Frame lives it to the plan's tick.
// The clock returns monotonic seconds. An error names the unit or the act that is wrong.
func New(p Plan, open Opener, clock func() float64) (*Bench, error) {
	if n := len(p.Units); n < 1 || n > MostUnits {
		return nil, fmt.Errorf("units: %d, and the bench has room for one or two", n)
	}
	b := &Bench{plan: Plan{Units: p.Units, Seed: p.Seed}, clock: clock}
	var rigs []*sim.Rig
	for _, unit := range p.Units {
		r, err := open(unit, p.Seed)
		if err != nil {
			return nil, err
		}
		rigs = append(rigs, r)
	}
	for _, r := range rigs {
		b.fresh = append(b.fresh, r.Clone())
	}
	run, err := newRun(rigs, p.Acts)
	if err != nil {
		return nil, err
	}
	b.run = run
	b.want = p.Tick
	b.look()
	return b, nil
}

// Ready tells whether the bench has come to its plan's tick, and how far it is, 0..1.
func (b *Bench) Ready() (done float64, ready bool) {
	if b.There() {
		return 1, true
	}
	return float64(b.run.now.tick) / float64(b.want), false
}

// Plan returns all that the bench as it is now follows from.
func (b *Bench) Plan() Plan {
	p := b.plan
	p.Tick, p.Acts = b.run.now.tick, b.run.acts[:b.run.now.done]
	return p
}

// Units returns the names of the units on the bench. Read only.
func (b *Bench) Units() []string { return b.plan.Units }

// Unit returns a unit as it is at the moment shown. Read only.
func (b *Bench) Unit(i int) *sim.Rig { return b.run.now.rigs[i] }

// Was returns a unit as it was at that moment before something else was tried; nil
// where nothing is.
func (b *Bench) Was(i int) *sim.Rig {
	if b.trunk == nil {
		return nil
	}
	return b.trunk.now.rigs[i]
}

// Tick is the moment shown, EndTick the last that has been lived and FirstTick the
// earliest that can be gone back to.
func (b *Bench) Tick() int64 { return b.run.now.tick }

// EndTick: see Tick.
func (b *Bench) EndTick() int64 { return b.run.end }

// FirstTick: see Tick.
func (b *Bench) FirstTick() int64 { return b.run.kept[0].tick }

// Hash returns the hash of all units at the moment shown.
func (b *Bench) Hash() uint64 { return b.run.now.hash() }

// Trouble is what could not be set, as it had been, since something was set or another
// moment asked for; nil where all could.
func (b *Bench) Trouble() error { return b.wrong }

// Changes counts what the page has to show anew; it stays while only time passes.
func (b *Bench) Changes() int { return b.changes }

// Do sets something on a unit at the moment shown. At an earlier one than the last,
// that begins a what-if: what was lives on beside it as it did, and what was set later
// will be set again. An error names the knob, and nothing has changed.
func (b *Bench) Do(unit int, knob string, value float64) error {
	if unit < 0 || unit >= len(b.plan.Units) {
		return fmt.Errorf("unit: there is no unit %d", unit)
	}
	a := Act{Tick: b.run.now.tick, Unit: unit, Knob: knob, Value: value}
	back := b.run.now.tick < b.run.end
	r := b.run
	if back {
		r = b.run.branch()
	}
	if err := r.do(a); err != nil {
		return err
	}
	if back {
		if b.trunk == nil {
			b.home, b.trunk = b.run, b.run.until(b.run.end)
			b.since = a.Tick
		}
		b.since = min(b.since, a.Tick)
		b.run = r
	}
	b.stand()
	b.changes++
	b.look()
	return nil
}

// WhatIf tells whether a what-if goes on, and from which tick.
func (b *Bench) WhatIf() (since int64, on bool) { return b.since, b.trunk != nil }

// Branch begins a what-if at the moment shown, before anything is set.
func (b *Bench) Branch() {
	if b.trunk != nil {
		return
	}
	b.home, b.trunk, b.run = b.run, b.run.until(b.run.end), b.run.branch()
	b.since = b.run.now.tick
	b.stand()
	b.changes++
	b.look()
}

// EndWhatIf goes back to what was, as it was left, or keeps what was tried, up to the moment
// shown, in its place.
func (b *Bench) EndWhatIf(keep bool) {
	if b.trunk == nil {
		return
	}
	was := b.home
	b.home, b.trunk, b.asWas = nil, nil, false
	if keep {
		b.run.acts = b.run.acts[:b.run.now.done]
		b.run = b.run.branch() // what comes after the moment shown is let go
		b.stand()
	} else {
		b.run = was
		b.GoTo(b.run.end)
	}
	b.changes++
	b.look()
}

// Double puts a second unit on the bench that has lived as the first has.
func (b *Bench) Double() {
	if len(b.plan.Units) == MostUnits || b.trunk != nil {
		return
	}
	b.plan.Units = []string{b.plan.Units[0], b.plan.Units[0]}
	b.fresh = append(b.fresh, b.fresh[0])
	b.run.double()
	b.changes++
	b.look()
}

// Without takes a unit off a bench of two.
func (b *Bench) Without(unit int) {
	if len(b.plan.Units) < MostUnits || b.trunk != nil {
		return
	}
	b.plan.Units = []string{b.plan.Units[1-unit]}
	b.fresh = []*sim.Rig{b.fresh[1-unit]}
	b.run.drop(unit)
	b.changes++
	b.look()
}

// Picture is one unit to be drawn.
type Picture struct {
	Unit  int
	Was   bool // as it was, before something else was tried
	Setup *sim.Setup
	View  *sim.View
}

// Pictures returns what is drawn side by side, one or two: both units; or the only
// one as it is and as it was; or it alone. Two have one scale of hardness, so that the
// same colour is the same water.
func (b *Bench) Pictures() []Picture {
	n := len(b.plan.Units)
	if n == 1 && b.trunk != nil {
		return b.onOneScale([]Picture{b.picture(0, false), b.picture(0, true)})
	}
	list := make([]Picture, n)
	for i := range list {
		list[i] = b.picture(i, b.asWas)
	}
	return b.onOneScale(list)
}

// alike is a setup with the scale of hardness that two pictures share.
type alike struct {
	of   *sim.Setup
	most float64
	made *sim.Setup // the same pointer as long as nothing changes, or the art were made anew
}

func (b *Bench) onOneScale(list []Picture) []Picture {
	most := 0.0
	for i := range list {
		most = max(most, list[i].Setup.FeedHardnessMolM3)
	}
	for i := range list {
		p, a := &list[i], &b.alike[i]
		if p.Setup.FeedHardnessMolM3 == most {
			continue
		}
		if a.of != p.Setup || a.most != most {
			made := *p.Setup
			made.FeedHardnessMolM3 = most
			*a = alike{p.Setup, most, &made}
		}
		p.Setup = a.made
	}
	return list
}

// ShowWas has the drawing of two units show them as they were.
func (b *Bench) ShowWas(on bool) {
	b.asWas = on && b.trunk != nil
	b.changes++
}

// AsWas tells whether the drawing shows two units as they were.
func (b *Bench) AsWas() bool { return b.asWas }

func (b *Bench) picture(i int, was bool) Picture {
	if was {
		return Picture{i, true, b.trunk.now.rigs[i].Setup(), &b.views[MostUnits+i]}
	}
	return Picture{i, false, b.run.now.rigs[i].Setup(), &b.views[i]}
}

// View returns a unit at the moment shown, or as it was then. Read only.
func (b *Bench) View(i int, was bool) *sim.View { return b.picture(i, was && b.trunk != nil).View }

// look takes over what is to be seen.
func (b *Bench) look() {
	for i := range b.plan.Units {
		b.run.now.rigs[i].View(&b.views[i])
		if b.trunk != nil {
			b.trunk.now.rigs[i].View(&b.views[MostUnits+i])
		}
	}
}
