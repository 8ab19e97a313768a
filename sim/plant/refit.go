package plant

import (
	"math"

	"brinebench/sim/household"
)

// Refit puts a unit that has run on the model was onto m: other parts, other water,
// another house, while all that the unit holds stays as it is. A bed of another size
// is filled with resin and water as the old one held them, cell by cell; what that
// adds or takes away is booked. The household lives its day anew where its people
// have changed.
func (m *Model) Refit(s *State, was *Model) {
	was.Exchange(s)
	had, hadIron := was.bed.Inventory(&s.Bed), was.bed.IronMol(&s.Bed)
	s.Ledger.BedMol = s.Ledger.BedMol.Plus(1, m.bed.Inventory(&s.Bed)).Plus(-1, had)
	s.Ledger.Iron.Bed += m.bed.IronMol(&s.Bed) - hadIron
	grown := m.bed.DepthM(&s.Bed) / was.bed.DepthM(&s.Bed)
	s.BedDepthM = math.Min(float64(s.BedDepthM*grown), m.cfg.TankHeightM)
	s.TargetM = math.Min(float64(s.TargetM*grown), m.cfg.TankHeightM)
	if m.cfg.House.People != was.cfg.House.People {
		m.LiveAnew(s)
	}
	if set := &m.cfg.Control; set.EveryDays > 0 && set.EveryDays != was.cfg.Control.EveryDays {
		s.Control.Skip = max(0, min(s.Control.Skip, set.EveryDays-1-s.Control.DaysSince))
	}
	if m.cfg.Site.FromWell && s.Around.Well.WaterM3 == 0 {
		s.Around.Well.WaterM3 = m.well.WaterM3(m.well.CutOutPa)
	}
	s.Solved = setting{} // no unit is at 0 °C: the next step solves the network
	m.newDay(s)
	m.feel(s)
}

// LiveAnew makes the household's draws of the present day by those who live there now.
func (m *Model) LiveAnew(s *State) {
	h := m.household(&s.Cond)
	s.House = household.Start(&h, s.House.Day, s.House.TimeS)
}

// SpendBed brings the bed into equilibrium with the raw water, as a bed is that was
// never regenerated; FreshenBed makes it new. What that changes is booked.
func (m *Model) SpendBed(s *State) { m.fillBed(s, true) }

// FreshenBed: see SpendBed.
func (m *Model) FreshenBed(s *State) { m.fillBed(s, false) }

func (m *Model) fillBed(s *State, spent bool) {
	m.Exchange(s)
	had, hadIron := m.bed.Inventory(&s.Bed), m.bed.IronMol(&s.Bed)
	lost, cut := s.Bed.Lost, s.Bed.Cut
	if spent {
		m.bed.Equilibrate(&s.Bed, s.Around.Feed)
	} else {
		s.Bed = m.bed.Fresh(s.Around.Feed)
	}
	if cut > 0 {
		m.bed.Chlorinate(&s.Bed, m.chlorineFor(1-cut), chlorineC)
	}
	s.Bed.Lost = lost
	if s.Cond.BedRust > 0 {
		m.bed.Foul(&s.Bed, s.Cond.BedRust)
	}
	s.Ledger.BedMol = s.Ledger.BedMol.Plus(1, m.bed.Inventory(&s.Bed)).Plus(-1, had)
	s.Ledger.Iron.Bed += m.bed.IronMol(&s.Bed) - hadIron
}
