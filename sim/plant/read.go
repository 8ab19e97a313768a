package plant

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// Flow returns the flow of a passage, m³/s, positive in the path's direction.
func (m *Model) Flow(s *State, p Path) float64 {
	r := pathLink[p]
	return float64(r.sign * s.Net.Q[r.link])
}

// PressurePa returns the gauge pressure of a node.
func (m *Model) PressurePa(s *State, n Node) float64 { return s.Net.P[n] }

// Water returns what flows or stands at a node, mol/m³.
func (m *Model) Water(s *State, n Node) water.Ions {
	src := m.sources(s)
	var c water.Ions
	for i, share := range s.Mixes[n] {
		c = c.Plus(share, src[i])
	}
	return c
}

// PathWater returns what flows in a passage, or stands at its start, mol/m³.
func (m *Model) PathWater(s *State, p Path) water.Ions {
	e := ends[pathLink[p].link]
	n := e.From
	if s.Net.Q[pathLink[p].link] < 0 {
		n = e.To
	}
	if n == tankLiquid || n == lineTop {
		n = int(BrinePickup)
	}
	if n >= int(NumNodes) {
		n = e.From
	}
	return m.Water(s, Node(n))
}

// Lift returns how far a seat is open, 0..1.
func (m *Model) Lift(s *State, seat valve.Seat) float64 {
	return m.cfg.Program.Lift(seat, s.Control.DrumDeg)
}

// HouseDrawM3S is what the taps of the house are set to draw, m³/s at
// household.ReferencePa, the technician's test tap included.
func (m *Model) HouseDrawM3S(s *State) float64 { return m.houseDraw(s) }

// BedLossPa is the pressure loss from bed top to bed bottom.
func (m *Model) BedLossPa(s *State) float64 { return s.Net.P[BedTop] - s.Net.P[BedBottom] }

// Fluidised reports whether the bed is lifted.
func (m *Model) Fluidised(s *State) bool { return s.TargetM > m.cfg.Bed.DepthM }

// Load returns the fraction of the exchange sites of each layer of cells, top to
// bottom, that calcium and magnesium hold, the mean of the parallel paths.
func (m *Model) Load(s *State, cell int) float64 {
	sum := 0.0
	for p := range s.Bed.Q {
		sum += s.Bed.Q[p][cell].Hardness()
	}
	return sum / (float64(len(s.Bed.Q)) * m.cfg.Bed.CapacityEqM3)
}

// CellWater returns the water between the beads of a layer, mean of the paths, mol/m³.
func (m *Model) CellWater(s *State, cell int) (c water.Ions) {
	for p := range s.Bed.C {
		c = c.Plus(1/float64(len(s.Bed.C)), s.Bed.C[p][cell])
	}
	return c
}

// Tank returns what can be seen and measured of the brine tank.
func (m *Model) Tank(s *State) TankReading {
	sp := &m.cfg.Brine
	return TankReading{
		LevelM: brine.LevelM(sp, &s.Tank), Pile: brine.SaltPile(sp, &s.Tank),
		BrineFraction: brine.MassFraction(&s.Tank), Saturation: brine.Saturation(sp, &s.Tank),
		FloatM: sp.FloatM - s.Cond.FloatLowM, AirCheckLift: brine.AirCheckLift(sp, &s.Tank),
	}
}

// TankReading is the brine tank as seen from outside; lengths in m above its floor.
type TankReading struct {
	LevelM        float64
	Pile          brine.Pile
	BrineFraction float64 // NaCl by mass
	Saturation    float64 // relative to saturation, 0..1
	FloatM        float64
	AirCheckLift  float64 // 0 seated .. 1 free
}

// StationRemainingS is the time left in the present station, s.
func (m *Model) StationRemainingS(s *State) float64 {
	return control.Remaining(&m.cfg.Program, &m.cfg.Control, &s.Control)
}

// StationSeconds is the programmed time of a station, s.
func (m *Model) StationSeconds(i int) float64 {
	return control.StationSeconds(&m.cfg.Program, &m.cfg.Control, i)
}

// DaysToRegen is the number of whole days until the next automatic regeneration.
func (m *Model) DaysToRegen(s *State) int {
	return control.DaysToRegen(&m.cfg.Control, &s.Control)
}

// AddSalt puts salt into the brine tank, kg, as much of it as fits.
func (m *Model) AddSalt(s *State, kg float64) {
	fitted := brine.AddSalt(&m.cfg.Brine, &s.Tank, kg)
	s.Ledger.SaltAddedMol += fitted / water.MolarMassNaCl
}

// Balance is the error of each book of the ledger, relative to what went through.
type Balance struct {
	Water, TankWater float64
	Salt             float64 // chloride: salt dissolved and fed against what left and what is held
	Na, K, Ca, Mg    float64
}

// Worst is the greatest of the errors.
func (b Balance) Worst() float64 {
	w := 0.0
	for _, e := range []float64{b.Water, b.TankWater, b.Salt, b.Na, b.K, b.Ca, b.Mg} {
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
		Water: relative(l.SupplyM3+l.DrawnM3-l.RefilledM3-l.HouseM3-l.DrainM3-l.RawTapM3, l.SupplyM3),
		TankWater: relative(now.Tank.WaterKg-start.Tank.WaterKg-l.TankInKg+l.TankOutKg+l.SpillKg,
			l.TankInKg+l.TankOutKg+start.Tank.WaterKg),
	}
	var ions [water.NumIons]float64
	chloride, through := 0.0, 0.0
	held, heldStart := m.held(now), m.held(start)
	for i := range ions {
		in, out := l.SupplyMol[i], l.HouseMol[i]+l.DrainMol[i]+l.RawTapMol[i]+l.SpillMol[i]
		if water.Ion(i) == water.Na {
			in += l.SaltAddedMol
		}
		e := in - out - (held[i] - heldStart[i])
		ions[i] = relative(e, in+heldStart[i])
		chloride += float64(water.Charge[i] * e)
		through += float64(water.Charge[i] * in)
	}
	b.Salt = relative(chloride, through)
	b.Na, b.K, b.Ca, b.Mg = ions[water.Na], ions[water.K], ions[water.Ca], ions[water.Mg]
	return b
}

// held is what the plant holds of each cation, mol, undissolved salt included.
func (m *Model) held(s *State) water.Ions {
	h := m.bed.Inventory(&s.Bed).Plus(1, s.Tank.Dissolved)
	h[water.Na] += s.Tank.SolidMol
	return h
}

func relative(err, of float64) float64 {
	if of == 0 {
		return err
	}
	return err / of
}

// SaltMissingKg is how much salt the tank holds less than it was set up with, kg.
func (m *Model) SaltMissingKg(s *State) float64 {
	return m.cfg.SaltKg - float64(s.Tank.SolidMol*water.MolarMassNaCl)
}
