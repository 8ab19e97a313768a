package plant

import (
	"math"

	"brinebench/sim/repro"
	"brinebench/sim/resin"
	"brinebench/sim/water"
)

// Suffer puts the unit into another condition: what a fault or a repair changes
// besides the figures themselves is the resin, which is taken away, fouled, worn,
// cleaned or renewed, and salt that has run out. What that adds to or takes from the
// tanks is booked.
func (m *Model) Suffer(s *State, c Condition) {
	m.Exchange(s)
	had, hadIron := m.bed.Inventory(&s.Bed), m.bed.IronMol(&s.Bed)
	was := s.Cond
	if c.BedLost < was.BedLost || c.BedCut < was.BedCut {
		s.Bed = m.bed.Fresh(s.Around.Feed)
		s.BedDepthM, s.TargetM = m.cfg.Bed.DepthM, m.cfg.Bed.DepthM
		was.BedLost, was.BedCut, was.BedRust = 0, 0, 0
	}
	if c.BedRust < was.BedRust {
		m.cleanBed(s)
	}
	if c.BedLost > was.BedLost {
		m.bed.Lose(&s.Bed, 1-(1-c.BedLost)/(1-was.BedLost))
	}
	if c.BedRust > was.BedRust {
		m.bed.Foul(&s.Bed, 1-(1-c.BedRust)/(1-was.BedRust))
	}
	if c.BedCut > was.BedCut {
		m.oxidise(&s.Bed, (1-c.BedCut)/(1-was.BedCut))
	}
	if c.SaltLeft < was.SaltLeft {
		m.runOut(s, c.SaltLeft)
	}
	s.Cond = c
	if c.SaltBridge != was.SaltBridge {
		m.stepTank(s, &[numSources]water.Ions{}) // what hung falls at once
	}
	if d := m.bed.DepthM(&s.Bed); s.TargetM <= m.cfg.Bed.DepthM {
		s.BedDepthM, s.TargetM = math.Min(s.BedDepthM, d), d
	}
	s.Ledger.BedMol = s.Ledger.BedMol.Plus(1, m.bed.Inventory(&s.Bed)).Plus(-1, had)
	s.Ledger.Iron.Bed += m.bed.IronMol(&s.Bed) - hadIron
	if c.ClockOffS != was.ClockOffS || c.DriftSPerDay < was.DriftSPerDay {
		s.setClock(c.ClockOffS)
	}
	m.newDay(s)
	m.feel(s)
}

// runOut takes what salt there is above a share of what the tank was set up with.
func (m *Model) runOut(s *State, share float64) {
	t := &s.Tank
	over := t.SolidMol - float64(m.cfg.SaltKg*share)/water.MolarMassNaCl
	if over <= 0 {
		return
	}
	t.HangingMol = math.Max(0, t.HangingMol-over)
	t.SolidMol -= over
	s.Ledger.SaltAddedMol -= over
}

// oxidise cuts cross-links of a bed down to a share of them. That takes chlorine years:
// what the lost sites held was washed out long ago, and does not stand in the water now.
func (m *Model) oxidise(b *resin.State, left float64) {
	between, iron := b.C, b.Iron.Water
	m.bed.Chlorinate(b, m.chlorineFor(left), chlorineC)
	b.C, b.Iron.Water = between, iron
}

// chlorineC is the temperature that doses of chlorine are reckoned at, °C.
const chlorineC = 20

// chlorineFor is the free chlorine that leaves the share left of the cross-links
// there are, mol.
func (m *Model) chlorineFor(left float64) float64 {
	const ln2 = 0.6931471805599453
	return float64(-repro.Log(left) / ln2 * resin.HalfDose * m.cfg.Bed.AreaM2 * m.cfg.Bed.DepthM)
}

// cleanBed lets a resin cleaner stand in the bed, as often as it takes.
func (m *Model) cleanBed(s *State) {
	const dose, soakS, times = 2 / 0.0283, 1800, 40 // mol per m³ of bed: see resin.Clean
	acid := float64(dose * m.cfg.Bed.AreaM2 * m.cfg.Bed.DepthM)
	for range times {
		m.bed.Clean(&s.Bed, acid, soakS)
	}
}

// shed takes off the bed what a too strong backwash has carried away.
func (m *Model) shed(s *State) {
	const worthwhile = 1e-3 // of the bed
	bed := float64(m.cfg.Bed.AreaM2 * m.bed.DepthM(&s.Bed))
	share := s.LosingM3 / bed
	if share < worthwhile {
		return
	}
	s.LosingM3 = 0
	if s.Bed.Lost > mostLost {
		return // what is left lies below the reach of the flow
	}
	gone, iron := m.bed.Lose(&s.Bed, math.Min(share, 0.1))
	s.Ledger.BedMol = s.Ledger.BedMol.Plus(-1, gone)
	s.Ledger.Iron.Bed -= iron
}

// mostLost is the share of a bed that a backwash can carry off.
const mostLost = 0.9

// LostShare is the share of the resin that is gone, 0..1.
func (m *Model) LostShare(s *State) float64 { return s.Bed.Lost }

// Losing reports whether the backwash carries resin to the drain.
func (m *Model) Losing(s *State) bool {
	return s.BedDepthM >= m.cfg.TankHeightM && m.Flow(s, Drain) > restM3S && s.LosingM3 > 0
}

// Empty takes the resin out of the tank and fills it in again, mixed.
func (m *Model) Empty(s *State) {
	m.Exchange(s)
	resin.Stir(&s.Bed)
}
