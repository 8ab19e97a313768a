// Package sequence is the practice of a control valve's cycle: what a setting of the
// eight seats would do to the house, the bed and the drain, and what a program of
// positions makes of a spent bed. Both are answered by the plant itself, so that a
// wrong answer is met by its consequence and not by a mark alone.
package sequence

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Setting tells of each seat, in the order of valve.Seat, whether it stands open.
type Setting [valve.NumSeats]bool

// Trial is what a unit did with its seats held in a setting for some minutes, while
// a bath tap ran in the house.
type Trial struct {
	Setting   Setting
	HouseM3S  float64 // mean flow of the tap, m³/s
	HardMolM3 float64 // greatest hardness of what it gave once the pipe had run clear, mol/m³; 0 where it gave nothing
	SaltKgM3  float64 // greatest chloride of it, kg/m³, likewise
	DrainM3S  float64 // mean flow to the drain, m³/s
	BedM3S    float64 // mean flow down through the bed, m³/s; negative: up
	Expansion float64 // greatest lift of the bed, of its settled depth
	LostShare float64 // resin carried off, of the bed
	DrawnM3   float64 // out of the brine tank, m³; negative: into it
	Unsolved  int     // steps whose network did not converge; 0
}

// trialS is how long a setting is tried, clearS how long before what a tap gives is
// held against it: so long it runs what stood in the pipes.
const (
	trialS = 600
	clearS = 60
)

// Bath is the opening of the house tap that runs meanwhile.
const Bath = 0.35

// At takes a unit to a position of its program, as a regeneration started on a spent
// bed does: s is left a moment after the drum has come to rest there, the controller
// unplugged, and the household drawing nothing. It panics where the program has no
// such position.
func At(m *plant.Model, s *plant.State, stop string) {
	s.NoDraw = true
	if stop != "service" {
		s.StartNow = true
		turn(m, s)
	}
	for m.Config().Program.Stops[s.Control.Station].ID != stop {
		if !s.Control.Regenerating && stop != "service" {
			panic("sequence: the program has no position " + stop)
		}
		m.Run(s, m.StationRemainingS(s)+1)
		turn(m, s)
	}
	s.Powered = false
	m.Run(s, 1)
}

// turn lets the drum come to rest.
func turn(m *plant.Model, s *plant.State) {
	m.Run(s, 1)
	for s.Control.Moving {
		m.Run(s, 1)
	}
}

// Try holds the seats of a unit that At has brought to a position in a setting, and
// tells what comes of it. s itself stays as it is.
func Try(m *plant.Model, s *plant.State, set Setting) Trial {
	const stepS = 5
	x := s.Clone()
	Hold(m, x, set)
	t := Trial{Setting: set}
	x.HouseTap = Bath
	before, lost := x.Ledger, x.Bed.Lost
	for end := x.TimeS + trialS; x.TimeS < end; {
		dt := min(stepS, m.MaxStep(x), end-x.TimeS)
		m.Step(x, dt)
		t.watch(m, x, dt, x.TimeS > end-trialS+clearS)
	}
	m.Exchange(x)
	l := &x.Ledger
	t.HouseM3S = (l.HouseM3 - before.HouseM3) / trialS
	t.DrainM3S = (l.DrainM3 - before.DrainM3) / trialS
	t.DrawnM3 = (l.DrawnM3 - before.DrawnM3) - (l.RefilledM3 - before.RefilledM3)
	t.LostShare = x.Bed.Lost - lost
	t.Unsolved = x.Unsolved - s.Unsolved
	return t
}

// Hold keeps each seat of a unit as the setting has it, wherever the drum stands.
func Hold(m *plant.Model, s *plant.State, set Setting) {
	c := s.Cond
	for seat, open := range set {
		c.SeatHeld[seat], c.SeatCap[seat] = 0, 0
		if open {
			c.SeatHeld[seat], c.SeatCap[seat] = 1, 1
		}
	}
	m.Suffer(s, c)
}

// watch takes down what shows at a moment.
func (t *Trial) watch(m *plant.Model, x *plant.State, dt float64, clear bool) {
	t.BedM3S += float64(m.Flow(x, plant.Bed)*dt) / trialS
	t.Expansion = max(t.Expansion, x.BedDepthM/m.RestDepthM(x)-1)
	const runs = 0.05 * unit.GPM
	if !clear || m.Flow(x, plant.House) < runs {
		return
	}
	w := m.PathWater(x, plant.House)
	t.HardMolM3 = math.Max(t.HardMolM3, w.Hardness())
	t.SaltKgM3 = math.Max(t.SaltKgM3, x.ChlorideKgM3(w))
}
