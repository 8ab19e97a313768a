package bench

import (
	"errors"

	"brinebench/sim"
)

const (
	maxFrameS   = 0.25  // a longer frame (a hidden tab) does not make the units leap
	budgetS     = 0.008 // of each frame goes to the units …
	budgetShare = 0.5   // … or this share of a slow frame, whichever is more
	jumpS       = 0.1   // of a frame goes to a jump: nothing moves that could stutter
	seekTicks   = 6 * 3600 * ticksPerS
	atATime     = 16 // ticks between two looks at the clock
)

// pacer decides how far the units live in a frame.
type pacer struct {
	chosen  float64 // seconds of the units per second of the person; 0 stands still
	want    int64   // tick that is to be shown
	owedS   float64 // time of the units not yet asked for, less than a tick
	seeking bool    // running to the next event
	events  int     // when that began
	idleS   float64 // so long nothing happened in such a run, until TakeIdle; else 0
}

// Pace returns the pace chosen.
func (b *Bench) Pace() float64 { return b.chosen }

// SetPace chooses a pace and ends a run to the next event.
func (b *Bench) SetPace(pace float64) {
	b.chosen, b.seeking = pace, false
	b.want, b.owedS = b.run.now.tick, 0
	b.changes++
}

// Seek runs to the next event, and stands there; or gives up after some hours.
func (b *Bench) Seek() {
	b.chosen, b.seeking, b.events = 0, true, b.run.now.events()
	b.want = b.run.now.tick + seekTicks
	b.changes++
}

// Seeking tells whether a run to the next event is under way.
func (b *Bench) Seeking() bool { return b.seeking }

// GoTo shows another moment of those that have been lived, within the next frames;
// time stands there.
func (b *Bench) GoTo(tick int64) {
	b.chosen, b.seeking, b.owedS = 0, false, 0
	b.wrong = nil
	b.want = min(max(tick, b.FirstTick()), b.run.end)
	b.run.seek(b.want)
	b.changes++
}

// stand makes the moment shown the one that is wanted, whatever was.
func (b *Bench) stand() {
	b.want, b.seeking, b.wrong = b.run.now.tick, false, nil
}

// TakeIdle returns once for how long nothing happened in a run to the next event that found
// none; else 0.
func (b *Bench) TakeIdle() (s float64) {
	s, b.idleS = b.idleS, 0
	return s
}

// There tells whether the moment that was asked for is shown.
func (b *Bench) There() bool { return b.run.now.tick == b.want }

// Frame lets dtS seconds of real time pass.
func (b *Bench) Frame(dtS float64) {
	dtS = min(dtS, maxFrameS)
	if b.There() && b.settled() && b.chosen > 0 {
		b.owedS += dtS * b.chosen
		ticks := int64(b.owedS / sim.TickS)
		b.owedS -= float64(ticks) * sim.TickS
		b.want += ticks
	}
	if b.There() && b.settled() {
		return
	}
	budget := max(budgetS, budgetShare*dtS)
	if b.chosen == 0 {
		budget = max(budget, jumpS)
	}
	b.live(b.clock() + budget)
	b.look()
	if b.There() && b.chosen == 0 {
		b.changes++
	}
}

// live runs to the moment wanted, and what was after it, until the deadline.
func (b *Bench) live(deadline float64) {
	for n := 1; !b.There() || !b.settled(); n++ {
		if b.There() {
			_ = b.trunk.step() // what has been done before can be done again, and nothing comes after
		} else if err := b.run.step(); err != nil {
			b.wrong = errors.Join(b.wrong, err)
			b.changes++
		}
		if b.seeking && b.run.now.events() != b.events {
			b.want, b.seeking = b.run.now.tick, false
		}
		if b.There() && b.trunk != nil {
			b.trunk.seek(b.run.now.tick)
		}
		if n%atATime == 0 && b.clock() >= deadline {
			break
		}
	}
	if b.There() {
		if b.seeking {
			b.seeking, b.idleS = false, float64(seekTicks/ticksPerS)
		}
	} else if b.chosen > 0 { // the machine is too slow for the pace: time does not pile up
		b.want = b.run.now.tick
	}
}

// settled tells whether what was stands at the moment shown.
func (b *Bench) settled() bool { return b.trunk == nil || b.trunk.now.tick == b.run.now.tick }
