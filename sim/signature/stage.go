package signature

import (
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

// Stage is a moment at which a technician reads instruments.
type Stage int

// The stages, in the order of the work: the unit as it is found, then a
// regeneration started by hand, whose backwash is cut short.
const (
	Service   Stage = iota // as found, the household drawing no water
	Backwash               // three minutes into it
	Draw                   // three minutes into brine draw
	SlowRinse              // a minute before that position ends
	FastRinse              // in its middle
	Refill                 // in its middle
	After                  // a minute after the return to service
	NumStages
)

// Stages names them.
var Stages = [NumStages]string{"service", "backwash", "brine draw", "slow rinse", "fast rinse", "refill", "after"}

func (s Stage) String() string { return Stages[s] }

// Show is what every instrument shows at one moment, in the order of instrument.All.
type Show []instrument.Reading

// Signature is what a unit shows at each stage.
type Signature [NumStages]Show

// Read reads all instruments of a unit, the samples after running the taps.
func Read(m *plant.Model, s *plant.State) Show {
	const runS = 60
	all := instrument.All()
	show := make(Show, len(all))
	running := s.Clone()
	running.HouseTap, running.RawTap = max(s.HouseTap, 0.35), max(s.RawTap, 0.5)
	m.Run(running, runS)
	for i := range all {
		at := s
		if all[i].RunHouseTap > 0 || all[i].RunRawTap > 0 {
			at = running
		}
		show[i] = all[i].Exact(m, at)
	}
	return show
}

// Of takes a unit as it is found, a well's tank filled, through a regeneration and
// reads it at every stage. What the controller believes sets the pace, as it does
// for the technician: a drum that does not turn is read where it stands.
func Of(m *plant.Model, s *plant.State) (sig Signature) {
	t := tour{m, s}
	t.fill()
	sig[Service] = Read(m, s)
	t.start()
	for stage := Backwash; stage < NumStages; stage++ {
		t.to(stage)
		sig[stage] = Read(m, s)
	}
	return sig
}

// Where is the position in which a unit stands at each stage of Of. The stages bear the
// names of the usual order; a program of another order is read where it has come to.
func Where(m *plant.Model, s *plant.State) (stops [NumStages]string) {
	t := tour{m, s}
	t.fill()
	stops[Service] = t.stop()
	t.start()
	for stage := Backwash; stage < NumStages; stage++ {
		t.to(stage)
		stops[stage] = t.stop()
	}
	return stops
}

// InDraw sends a unit as it is found on to brine draw, as one does to see whether
// it draws, and reads it there.
func InDraw(m *plant.Model, s *plant.State) Show {
	t := tour{m, s}
	t.start()
	t.to(Draw)
	return Read(m, s)
}

// Ahead sends a unit on to a position of the drum that lies ahead of the one it
// stands in, starting a regeneration if it must, and reads it there a minute after.
// It returns nil where the drum does not come to it.
func Ahead(m *plant.Model, s *plant.State, stop string) Show {
	const settleS = 60
	t := tour{m, s}
	if !t.away() {
		t.start()
	}
	if t.onTo(stop); t.stop() != stop {
		return nil
	}
	t.settle(settleS)
	return Read(m, s)
}

// tour is a technician's way through the regeneration of one unit.
type tour struct {
	m *plant.Model
	s *plant.State
}

// fill lets a well's pump fill its pressure tank, as one does before a gauge is read
// there: a tap runs until the pump starts, and is shut until it has stopped. Where
// water runs away all the time it does not stop for long.
func (t *tour) fill() {
	const mostS, stepS = 1800, 5
	if !t.m.Config().Site.FromWell {
		return
	}
	end := t.s.TimeS + mostS
	wait := func(running bool) {
		for t.s.Around.Well.Running == running && t.s.TimeS < end {
			t.m.Step(t.s, min(stepS, t.m.MaxStep(t.s)))
		}
	}
	t.s.RawTap = 0.5
	wait(false)
	t.s.RawTap = 0
	wait(true)
}

// start presses the button for a regeneration.
func (t *tour) start() {
	t.s.StartNow = true
	t.drive()
}

// to moves on to a stage from the one before.
func (t *tour) to(stage Stage) {
	const earlyS, lateS = 180, 60
	switch stage {
	case Backwash:
		t.settle(earlyS)
	case Draw:
		t.onTo("brine")
		t.settle(earlyS)
	case SlowRinse:
		t.settle(t.left() - lateS)
	case FastRinse, Refill:
		t.finish()
		t.settle(0.5 * t.left())
	case After:
		for range t.m.Config().Program.Stops {
			t.finish()
		}
		t.settle(lateS)
	}
}

// onTo sends the drum on to a position; one that does not go on, as without power,
// stays where it is.
func (t *tour) onTo(stop string) {
	for range t.m.Config().Program.Stops {
		if !t.away() || t.stop() == stop {
			return
		}
		t.s.AdvanceNow = true
		t.drive()
	}
}

// away reports whether the controller believes the drum away from service.
func (t *tour) away() bool { return t.s.Control.Regenerating }

// stop is the ID of the position that it believes the drum in.
func (t *tour) stop() string { return t.m.Config().Program.Stops[t.s.Control.Station].ID }

// left is the time left in that position, s.
func (t *tour) left() float64 { return t.m.StationRemainingS(t.s) }

// settle waits.
func (t *tour) settle(seconds float64) { t.m.Run(t.s, seconds) }

// finish waits for the end of the position and for the drum to come to the next.
func (t *tour) finish() {
	if t.away() {
		t.settle(t.left())
		t.drive()
	}
}

// drive waits until the motor, which is due to start, has stopped.
func (t *tour) drive() {
	for t.m.Step(t.s, 0.25); t.s.Control.Moving; {
		t.m.Step(t.s, t.m.MaxStep(t.s))
	}
}
