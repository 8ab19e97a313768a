package sequence

import (
	"fmt"
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// Step is a position of a program that is being built: which one, and for how long.
type Step struct {
	Stop    string  // id of a position of the program that it is built from, not "service"
	Seconds float64 // 0 to MostStepS; of refills the controller's own time counts, see control.Settings.RefillS
}

// MostStepS is the longest that a position may be held, s.
const MostStepS = 4 * 3600

// Build makes a program of steps in their order, with the seats that base has at
// those positions. All faults come back, each naming its step.
func Build(base *valve.Program, steps []Step) (p valve.Program, errs []error) {
	p = *base
	p.ID, p.Name, p.Why = "built", "A program of one's own", "Built for practice."
	p.Stops = []valve.Stop{base.Stops[0]}
	if len(steps) == 0 {
		return p, []error{fmt.Errorf("steps: none")}
	}
	for i, x := range steps {
		stop, ok := find(base, x.Stop)
		switch {
		case !ok || x.Stop == "service":
			errs = append(errs, fmt.Errorf("steps[%d].stop: %q is no position that it can be built of", i, x.Stop))
			continue
		case !(x.Seconds >= 0 && x.Seconds <= MostStepS):
			errs = append(errs, fmt.Errorf("steps[%d].seconds: %v is outside 0 to %d", i, x.Seconds, MostStepS))
			continue
		}
		stop.Seconds, stop.AngleDeg = x.Seconds, 360*float64(i+1)/float64(len(steps)+1)
		p.Stops = append(p.Stops, stop)
	}
	if errs == nil {
		errs = p.Validate()
	}
	return p, errs
}

func find(p *valve.Program, id string) (valve.Stop, bool) {
	for _, s := range p.Stops {
		if s.ID == id {
			return s, true
		}
	}
	return valve.Stop{}, false
}

// Outcome is what a program made of a bed that had been run to 1 gpg.
type Outcome struct {
	RegainedEq   float64 // hardness taken up from the return to service until the water was at 1 gpg again, eq
	SaltKg       float64 // NaCl drawn out of the brine tank
	WaterM3      float64 // to the drain and into the brine tank, m³
	AwayS        float64 // time away from service
	ChlorideKgM3 float64 // greatest in the house's first water after the return, kg/m³
	FirstHardM3  float64 // of that first water, m³ above 1 gpg
	LostShare    float64 // resin carried off, of the bed
	BrineKg      float64 // NaCl dissolved in the brine tank a night later that the next regeneration can draw
	Unsolved     int     // steps whose network did not converge; 0
}

// EqPerKg is the salt efficiency, eq of hardness for each kg of NaCl; 0 without salt.
func (o *Outcome) EqPerKg() float64 {
	if o.SaltKg <= 0 {
		return 0
	}
	return o.RegainedEq / o.SaltKg
}

// How a bed is run down: with a bath tap, by stretches, two days at most; what the house
// gets in the first minutes after a return to service is judged apart.
const (
	stretchS = 120
	mostS    = 2 * unit.Day
	firstS   = 600
	nightS   = 8 * unit.Hour
)

// Live runs the bed of an installation to 1 gpg, regenerates it once by a program that
// takes the place of the installation's, and runs it to 1 gpg again. progress, if given,
// hears how far it has come, 0..1. Errors are those of plant.New.
func Live(cfg plant.Config, p *valve.Program, progress func(done float64)) (o Outcome, err error) {
	tell := func(step float64) {
		if progress != nil {
			progress(step / 3)
		}
	}
	cfg.Program = *p
	full, err := plant.New(cfg)
	if err != nil {
		return o, err
	}
	m := full.Coarse()
	s := m.Start(plant.Healthy())
	s.NoDraw = true
	toBreakthrough(m, s)
	tell(1)
	o.regenerate(m, s)
	tell(2)
	o.first(m, s)
	o.RegainedEq = toBreakthrough(m, s)
	tell(3)
	o.LostShare, o.Unsolved = s.Bed.Lost, s.Unsolved
	return o, nil
}

// toBreakthrough runs a bath tap until the water is at 1 gpg and returns the hardness
// taken up, eq.
func toBreakthrough(m *plant.Model, s *plant.State) (eq float64) {
	before := s.Ledger
	s.HouseTap = Bath
	for end := s.TimeS + mostS; s.TimeS < end; {
		m.Run(s, stretchS)
		m.Exchange(s)
		if m.Water(s, plant.ValveOut).Hardness() > softMolM3 {
			break
		}
	}
	s.HouseTap = 0
	in, out := s.Ledger.SupplyMol.Plus(-1, before.SupplyMol), s.Ledger.HouseMol.Plus(-1, before.HouseMol)
	return 2 * (in.Hardness() - out.Hardness())
}

// regenerate takes the unit through its program and a night.
func (o *Outcome) regenerate(m *plant.Model, s *plant.State) {
	m.Exchange(s)
	before, dissolved := s.Ledger, s.TimeS
	s.StartNow = true
	turn(m, s)
	for s.Control.Regenerating || s.Control.Moving {
		m.Run(s, 30)
	}
	m.Exchange(s)
	o.AwayS = s.TimeS - dissolved
	o.WaterM3 = s.Ledger.DrainM3 - before.DrainM3 + s.Ledger.RefilledM3 - before.RefilledM3
	o.SaltKg = float64((s.Ledger.TankOutMol.Anion() - before.TankOutMol.Anion()) * water.MolarMassNaCl)
	m.Run(s, nightS)
	m.Exchange(s)
	o.BrineKg = m.DrawableSaltKg(s)
}

// first is what the house gets first.
func (o *Outcome) first(m *plant.Model, s *plant.State) {
	hard := s.Ledger.HouseHardM3
	s.HouseTap = Bath
	for end := s.TimeS + firstS; s.TimeS < end; {
		m.Run(s, 10)
		o.ChlorideKgM3 = math.Max(o.ChlorideKgM3, s.ChlorideKgM3(m.PathWater(s, plant.House)))
	}
	m.Exchange(s)
	o.FirstHardM3 = s.Ledger.HouseHardM3 - hard
	s.HouseTap = 0
}
