package plant

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/water"
)

// Ledger books what crosses the plant's border, from the start.
type Ledger struct {
	SupplyM3, HouseM3, DrainM3, RawTapM3 float64 // water, m³, by the flows of the links
	DrawnM3, RefilledM3                  float64 // out of and into the brine tank, m³
	TankAirM3                            float64 // air that came into the brine tank with the refill, and bubbled out, m³
	SupplyMol, HouseMol, DrainMol        water.Ions
	RawTapMol                            water.Ions // cations, mol
	TankInMol, TankOutMol                water.Ions // into and out of the brine tank, mol
	TankInKg, TankOutKg                  float64    // water into and out of the brine tank, kg
	LeakM3, AirOutM3                     float64    // in through a hole in the brine line (air or, out, water: negative), and air that left the water in the tank's head, m³
	FloorM3                              float64    // water out of the hole, m³
	FloorMol                             water.Ions // with it, mol
	RainKg                               float64    // water from outside into the brine tank, kg
	BedMol                               water.Ions // cations that the bed has taken up, less those it has lost, when it was worn, cleaned or renewed, mol
	SpillM3, SpillKg                     float64    // liquid and its water that ran over the tank's wall or out of a crack, m³ and kg
	SpillMol                             water.Ions // with it, mol
	BailedKg                             float64    // water taken out of the brine tank by hand, kg
	BailedMol                            water.Ions // with it, mol
	Iron                                 IronBook
	SaltAddedMol                         float64 // NaCl put into the tank after the start, less what ran out of it as a fault has it, mol
	SaltDissolvedMol                     float64 // NaCl that went into solution, mol
	MeteredM3                            float64 // water that the controller has counted, m³
	HouseHardM3                          float64 // water to the house above 1 gpg, m³
	HouseSaltyM3                         float64 // water to the house with more salt than anybody takes for drinking water, m³
	DryM3                                float64 // draw asked of an empty tank, m³ (air)
}

// Balance is the error of each book of the ledger, relative to what went through.
type Balance struct {
	Water, TankWater float64
	Salt             float64 // chloride: salt dissolved and fed against what left and what is held
	Na, K, Ca, Mg    float64
	Fe               float64 // dissolved, held on the resin, as rust and as mud
}

// Worst is the greatest of the errors.
func (b Balance) Worst() float64 {
	w := 0.0
	for _, e := range []float64{b.Water, b.TankWater, b.Salt, b.Na, b.K, b.Ca, b.Mg, b.Fe} {
		w = math.Max(w, math.Abs(e))
	}
	return w
}

// Audit closes the books between a start and the present state of one run.
func (m *Model) Audit(start, now *State) Balance {
	now = now.Clone()
	m.Exchange(now)
	l := &now.Ledger
	b := Balance{
		Water: relative(l.SupplyM3+l.DrawnM3-l.RefilledM3-l.TankAirM3-l.HouseM3-l.DrainM3-l.RawTapM3+l.LeakM3-l.AirOutM3-
			(now.Cushion.m3()-start.Cushion.m3()), max(l.SupplyM3, 1e-3)),
		TankWater: relative(now.Tank.WaterKg-start.Tank.WaterKg-l.TankInKg-l.RainKg+l.TankOutKg+l.SpillKg+l.BailedKg,
			l.TankInKg+l.TankOutKg+start.Tank.WaterKg),
	}
	var ions [water.NumIons]float64
	chloride, through := 0.0, 0.0
	held, heldStart := m.held(now), m.held(start)
	for i := range ions {
		in, out := l.SupplyMol[i], l.HouseMol[i]+l.DrainMol[i]+l.RawTapMol[i]+l.SpillMol[i]+l.BailedMol[i]+l.FloorMol[i]-l.BedMol[i]
		if water.Ion(i) == water.Na {
			in += l.SaltAddedMol
		}
		e := in - out - (held[i] - heldStart[i])
		ions[i] = relative(e, in+heldStart[i])
		chloride += float64(water.Charge[i] * e)
		through += float64(water.Charge[i] * in)
	}
	b.Salt = relative(chloride, max(through, 1))
	b.Na, b.K, b.Ca, b.Mg = ions[water.Na], ions[water.K], ions[water.Ca], ions[water.Mg]
	b.Fe = m.ironError(start, now)
	return b
}

// held is what the plant holds of each cation, mol, undissolved salt included.
func (m *Model) held(s *State) water.Ions {
	h := m.bed.Inventory(&s.Bed).Plus(1, s.Tank.Dissolved).Plus(1, s.Cushion.Mol)
	h[water.Na] += s.Tank.SolidMol
	return h
}

func relative(err, of float64) float64 {
	if of == 0 {
		return err
	}
	return err / of
}

// AddSalt puts salt into the brine tank, kg, as much of it as fits.
func (m *Model) AddSalt(s *State, kg float64) {
	fitted := brine.AddSalt(&m.cfg.Brine, &s.Tank, kg)
	s.Ledger.SaltAddedMol += fitted / water.MolarMassNaCl
	m.feel(s)
}

// Bail takes out of the brine tank by hand what stands above the level that a sound
// unit's refill ends at, and reports whether it was worth a bucket.
func (m *Model) Bail(s *State) bool {
	const worthM = 0.01
	m.Exchange(s)
	if m.Tank(s).LevelM < m.cfg.BrineM+worthM {
		return false
	}
	kg, mol := brine.Bail(&m.cfg.Brine, &s.Tank, m.cfg.BrineM, s.Cond.FloatLowM)
	s.Ledger.BailedKg += kg
	s.Ledger.BailedMol = s.Ledger.BailedMol.Plus(1, mol)
	m.feel(s) // the float is free again
	return true
}

// SaltMissingKg is how much salt the tank holds less than it was set up with, kg.
func (m *Model) SaltMissingKg(s *State) float64 {
	return m.cfg.SaltKg - float64(s.Tank.SolidMol*water.MolarMassNaCl)
}
