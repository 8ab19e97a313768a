// Package plant puts the models of valve, pipes, bed, brine tank, controller and
// household together into one softener installation: a constant Model, a plain
// State, and the order of a step. It keeps the ledger of water, salt and ions.
package plant

import (
	"errors"
	"fmt"
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/resin"
)

// Density and bulk of the resin: common practice, no source.
const wetBeadKgM3 = 1250

// Model is the constant part of a plant. It is safe to share.
type Model struct {
	cfg       Config
	plumbings [numPlumbings]*plumbing
	bed       *resin.Model
	thermals  [warmestC - coldestC + 1]*thermal
	well      hydraulic.Well // of a site that has one
	grain     grain
}

// New prepares a plant. The error names every field that is out of range.
func New(cfg Config) (*Model, error) {
	var errs []error
	bed, err := resin.NewModel(cfg.Bed)
	errs = append(errs, err)
	plumbings, err := newPlumbings(cfg.Program.InjectorDischargesBelow)
	errs = append(errs, err)
	errs = append(errs, cfg.check()...)
	errs = append(errs, cfg.Brine.Validate()...)
	errs = append(errs, cfg.Control.Validate()...)
	errs = append(errs, cfg.Program.Validate()...)
	errs = append(errs, cfg.House.Validate()...)
	errs = append(errs, cfg.Site.Validate()...)
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	m := &Model{cfg: cfg, plumbings: plumbings, bed: bed, well: newWell(&cfg.Site.Well)}
	for i := range m.thermals {
		m.thermals[i] = newThermal(&m.cfg, float64(coldestC+i))
	}
	m.grain = grain{
		m3:        2 * bed.MaxVolume(), // moves capacity by less than 0.1 % against 1
		serviceM3: 8 * bed.MaxVolume(), tankM3: 2 * bed.MaxVolume(),
		flowS: 10, serviceS: 10, restS: 60, stepS: 4, driveS: 0.25, liftS: 1, wellS: 2,
	}
	return m, nil
}

func (c *Config) check() []error {
	var errs []error
	within := func(name string, v, lo, hi float64) {
		if !(v >= lo && v <= hi) {
			errs = append(errs, fmt.Errorf("plant: %s is %v, must lie within %v to %v", name, v, lo, hi))
		}
	}
	for i, v := range c.Feed {
		within(fmt.Sprintf("Feed[%d]", i), v, 0, 200)
	}
	within("SupplyPa", c.SupplyPa, 0, 1.1e6)
	within("BlendCv", c.BlendCv, 0, 12)
	within("SupplyLossB", c.SupplyLossB, 0, 1e15)
	within("DrainRiseM", c.DrainRiseM, -5, 10)
	within("DrainLengthM", c.DrainLengthM, 0.1, 100)
	within("DrainBoreM", c.DrainBoreM, 0.003, 0.1)
	within("HouseRiseM", c.HouseRiseM, -5, 20)
	within("BrineLiftM", c.BrineLiftM, -2, 5)
	within("BrineLengthM", c.BrineLengthM, 0.1, 30)
	within("BrineBoreM", c.BrineBoreM, 0.002, 0.05)
	within("TankDiameterM", c.TankDiameterM, 0.1, 1)
	within("TankHeightM", c.TankHeightM, 0.3, 3)
	within("RiserBoreM", c.RiserBoreM, 0.01, 0.1)
	within("NozzleM", c.NozzleM, 2e-4, 1e-2)
	within("ThroatM", c.ThroatM, 4e-4, 2e-2)
	within("DrainM3S", c.DrainM3S, 1e-6, 1e-2)
	within("RefillM3S", c.RefillM3S, 1e-6, 1e-3)
	within("SaltKg", c.SaltKg, 0, 500)
	within("BrineM", c.BrineM, 0, 2)
	if c.ThroatM <= c.NozzleM {
		errs = append(errs, fmt.Errorf("plant: ThroatM is %v, must be wider than NozzleM %v", c.ThroatM, c.NozzleM))
	}
	if c.TankHeightM < c.Bed.DepthM {
		errs = append(errs, fmt.Errorf("plant: TankHeightM is %v, less than the bed's %v", c.TankHeightM, c.Bed.DepthM))
	}
	return errs
}

// grain is how long bed and brine tank may stand still in the books, and how long
// a step may be.
type grain struct {
	m3        float64 // most water that moves between two exchanges while there is brine in the bed, m³
	serviceM3 float64 // the same in service, whose dilute water moves the beads' content little, m³
	tankM3    float64 // the same through the brine line at any time, m³
	flowS     float64 // longest time between two exchanges while water flows in a regeneration, s
	serviceS  float64 // the same in service, s
	restS     float64 // the same at rest, s
	stepS     float64 // longest step in a regeneration, s
	driveS    float64 // the same while the drum turns, s
	liftS     float64 // the same while the bed rises or settles, s
	wellS     float64 // how long the pressure of a well in use is taken to stand, s
}

// moves is the most water that may move between two exchanges now, m³, and the
// longest time that may go by while it flows, s. Dilute water moves the beads'
// content little.
func (m *Model) moves(s *State) (m3, seconds float64) {
	const dilute, coarser = 5, 4 // times the raw water; times m3
	thin := float64(dilute * s.Around.Feed.Anion())
	switch {
	case s.Bed.Freeboard[resin.Layers-1].Anion() > thin || s.Bed.Plenum.Anion() > thin:
		return m.grain.m3, m.grain.flowS
	case s.Control.Regenerating || s.Control.Moving:
		return coarser * m.grain.m3, m.grain.flowS
	}
	return m.grain.serviceM3, m.grain.serviceS
}

// tankMoves is the most liquid that may move through the brine line between two exchanges
// now, m³. Less and less moves as the level comes near to where ball or float shuts, for
// the ball throttles what it lets by: the level at which a draw ends is read for days.
func (m *Model) tankMoves(s *State) float64 {
	const share, least = 0.5, 0.05 // of what is left, and of the grain: no level is followed for ever
	sp, falls := m.brineSpec(s), s.Net.Q[linkAirCheck] > 0
	left := brine.ToLatchM3(&sp, &s.Tank, falls, s.Cond.FloatLowM)
	return math.Min(m.grain.tankM3, math.Max(share*left, least*m.grain.tankM3))
}

// Coarse returns the same plant in coarser grains: as exact in its books, several
// times quicker, and more smeared in its fronts. It is for units that nobody
// watches but whose readings are wanted.
func (m *Model) Coarse() *Model {
	c := *m
	c.grain.m3 *= 4
	c.grain.serviceM3 *= 4
	c.grain.tankM3 *= 4
	c.grain.flowS *= 2
	c.grain.serviceS *= 2
	c.grain.restS *= 20
	c.grain.stepS *= 2.5
	c.grain.driveS *= 4
	return &c
}

// Shadow returns Coarse's plant with a well in coarser grains: for the many units that
// live through a call beside the one that is serviced. A pump runs for a minute and more.
func (m *Model) Shadow() *Model {
	c := m.Coarse()
	c.grain.wellS, c.well.Swift = 15, true
	return c
}

// Swift returns the same plant in the coarsest grains that still give every
// reading within the noise of its instrument (sim/signature's tests hold it to
// that), for the many units of a library that live for days. Its family draws the
// water of each stretch of blockS seconds in one go.
func (m *Model) Swift(blockS float64) *Model {
	s := *m
	s.grain = grain{
		m3:        48 * m.bed.MaxVolume(),
		serviceM3: 400 * m.bed.MaxVolume(), tankM3: 3 * m.bed.MaxVolume(),
		flowS: 60, serviceS: 3600, restS: 4 * 3600, stepS: 60, driveS: 4, liftS: 5, wellS: 60,
	}
	s.cfg.House.BlockS, s.well.Swift = blockS, true
	return &s
}

// Config returns what the model was made from.
func (m *Model) Config() *Config { return &m.cfg }

// Start returns the state of a unit that was regenerated just before, in the
// given condition, in service and at rest.
func (m *Model) Start(cond Condition) *State {
	healthy := Healthy()
	healthy.SaltLeft = cond.SaltLeft
	s := &State{
		Cond: healthy, Powered: true,
		Control:   m.cfg.Calendar,
		House:     household.Start(&m.cfg.House, m.cfg.Calendar.Day, m.cfg.Calendar.ClockS),
		Bed:       m.bed.Fresh(m.cfg.Feed),
		Tank:      brine.New(&m.cfg.Brine, float64(m.cfg.SaltKg*cond.SaltLeft), m.cfg.BrineM),
		Net:       hydraulic.State{Q: make([]float64, numLinks), P: make([]float64, numNodes)},
		BedDepthM: m.cfg.Bed.DepthM, TargetM: m.cfg.Bed.DepthM,
	}
	s.Control.Powered = true
	s.Bed.Fill(m.cfg.Feed, 0) // as a fast rinse leaves it
	m.settleIn(s)
	for i := range s.Mixes {
		s.Mixes[i][fromRaw] = 1
	}
	s.TopOut, s.BottomOut = s.Bed.Freeboard[0], s.Bed.Plenum
	s.Cushion = Cushion{Pa: m.cfg.SupplyPa, PaceS: 0.25}
	s.Cushion.Mol = m.cfg.Feed.Scale(s.Cushion.m3())
	m.Suffer(s, cond)
	s.Ledger = Ledger{}
	m.solve(s, 0.25)
	// What has come through the shut seats by then stands in the pipes, and at the drain
	// the end of a fast rinse.
	s.Still = [numNodes]bool{}
	for _, n := range []Node{DrainManifold, DrainLine} {
		s.Still[n], s.Stood[n] = true, s.BottomOut
	}
	return s
}

// nextChange is the time until the controller does something by itself, s.
func (m *Model) nextChange(s *State) float64 {
	set, wear := m.settings(&s.Cond), s.Cond.wear()
	return control.NextChange(&m.cfg.Program, &set, &wear, &s.Control)
}

// MaxStep returns the longest step, s, that keeps the accuracy of the model and
// misses no event, for runs that nobody watches.
func (m *Model) MaxStep(s *State) float64 {
	if s.Control.Moving || s.StartNow || s.AdvanceNow {
		return m.grain.driveS
	}
	step := math.Min(m.grain.restS, m.nextChange(s))
	if !s.NoDraw {
		step = math.Min(step, household.NextChange(&s.House))
	}
	if s.Control.Regenerating {
		step = math.Min(step, m.grain.stepS)
	}
	if m.cfg.Site.FromWell && s.Net.Q[linkMains] > restM3S {
		step = math.Min(step, m.grain.wellS)
	}
	if s.BedDepthM != s.TargetM || s.BedDepthM >= m.cfg.TankHeightM {
		step = math.Min(step, m.grain.liftS)
	}
	if q := math.Abs(s.Net.Q[linkBed]); q > 1e-9 {
		m3, _ := m.moves(s)
		step = math.Min(step, m3/q)
	}
	if q := math.Abs(s.Net.Q[linkAirCheck]); q > restM3S {
		step = math.Min(step, m.tankMoves(s)/q)
	}
	return math.Max(step, 0.05)
}
