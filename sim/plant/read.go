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
	return float64(r.sign * s.flow(r.link))
}

// PressurePa returns the gauge pressure of a node.
func (m *Model) PressurePa(s *State, n Node) float64 { return s.Net.P[n] }

// Water returns what flows or stands at a node, mol/m³: the water itself, air left
// out. A pipe that holds nothing else is wet with raw water.
func (m *Model) Water(s *State, n Node) water.Ions {
	src := m.sources(s)
	wet := 1 - s.Mixes[n][fromAir]
	if wet <= 0 {
		return src[fromRaw]
	}
	var c water.Ions
	for i, share := range s.Mixes[n] {
		c = c.Plus(share/wet, src[i])
	}
	return c
}

// PathWater returns what flows in a passage, or stands at its start since it came to
// rest, mol/m³; of the brine line, what fills most of it.
func (m *Model) PathWater(s *State, p Path) water.Ions {
	if p == BrineLine {
		if s.LineM3 > 0.5*m.lineM3() {
			return m.sources(s)[fromTank]
		}
		return m.SeenWater(s, ValveBrine)
	}
	return m.SeenWater(s, m.pathNode(s, p))
}

// SeenWater is Water, and where all has come to rest what stands there since, mol/m³.
func (m *Model) SeenWater(s *State, n Node) water.Ions {
	if s.Still[n] {
		return s.Stood[n]
	}
	return m.Water(s, n)
}

// TankHeadWater is the water in the valve's port to the top of the tank, mol/m³: what runs
// into the tank there, else what is above the bed.
func (m *Model) TankHeadWater(s *State) water.Ions {
	into, src := s.Rates[toTop], m.sources(s)
	into[fromAir] = 0 // it has left the water
	if m3s, c := into.blend(&src); m3s > restM3S {
		return c
	}
	return m.Water(s, BedTop)
}

// PathAir returns the share of air in it: where the unit stands below the
// atmosphere, air comes in through taps and drain. What seeps in through shut
// ports does not count, for it takes hours to fill a pipe.
func (m *Model) PathAir(s *State, p Path) float64 {
	if q := s.Net.Q[pathLink[p].link]; q < restM3S && q > -restM3S {
		return 0
	}
	return s.Mixes[m.pathNode(s, p)][fromAir]
}

// pathNode is the node that a passage takes its water from. What stands in it stays as it
// is while a leak goes now this way, now that.
func (m *Model) pathNode(s *State, p Path) Node {
	e := m.plumbing(&s.Cond).ends[pathLink[p].link]
	n := e.From
	if s.Net.Q[pathLink[p].link] < -restM3S {
		n = e.To
	}
	if n == lineTop {
		n = int(BrinePickup)
	}
	if n >= int(NumNodes) {
		n = e.From
	}
	return Node(n)
}

// Lift returns how far a seat is open, 0..1.
func (m *Model) Lift(s *State, seat valve.Seat) float64 {
	c := &s.Cond
	lobe := m.cfg.Program.Lift(seat, s.Control.DrumDeg-c.DrumSlipDeg)
	return math.Max(c.SeatHeld[seat], math.Min(c.SeatCap[seat], lobe))
}

// HouseDrawM3S is what the taps of the house are set to draw, m³/s at
// household.ReferencePa, the technician's test tap included.
func (m *Model) HouseDrawM3S(s *State) float64 { return m.houseDraw(s) }

// HouseholdM3S is what the household itself draws, m³/s: its share of what flows to the
// house, by how far the taps are open. The rest runs from the technician's test tap.
func (m *Model) HouseholdM3S(s *State) float64 {
	flow, all := m.Flow(s, House), m.houseDraw(s)
	if all <= 0 {
		return flow
	}
	return float64(flow * (1 - float64(s.HouseTap*bathTapM3S)/all))
}

// BedLossPa is the pressure loss from bed top to bed bottom.
func (m *Model) BedLossPa(s *State) float64 { return s.Net.P[BedTop] - s.Net.P[BedBottom] }

// RestDepthM is the settled depth of the bed, m.
func (m *Model) RestDepthM(s *State) float64 { return m.bed.DepthM(&s.Bed) }

// Fluidised reports whether the bed is lifted.
func (m *Model) Fluidised(s *State) bool { return s.TargetM > m.bed.DepthM(&s.Bed) }

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
	spec := m.brineSpec(s)
	sp := &spec
	return TankReading{
		LevelM: brine.LevelM(sp, &s.Tank), Pile: brine.SaltPile(sp, &s.Tank),
		BrineFraction: brine.MassFraction(&s.Tank), Saturation: brine.Saturation(sp, &s.Tank),
		FloatM: sp.FloatM - s.Cond.FloatLowM, AirCheckLift: s.Felt.Lift,
	}
}

// DrawableSaltKg is the salt dissolved above the air check, kg: what a draw can have.
func (m *Model) DrawableSaltKg(s *State) float64 {
	spec := m.brineSpec(s)
	share := brine.DrawableM3(&spec, &s.Tank) / brine.VolumeM3(&spec, &s.Tank)
	return float64(s.Tank.Dissolved.Anion() * water.MolarMassNaCl * share)
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
	set := m.settings(&s.Cond)
	return control.Remaining(&m.cfg.Program, &set, &s.Control)
}

// StationSeconds is the programmed time of a station, s.
func (m *Model) StationSeconds(i int) float64 {
	return control.StationSeconds(&m.cfg.Program, &m.cfg.Control, i)
}

// DaysToRegen is the number of whole days until the next automatic regeneration.
func (m *Model) DaysToRegen(s *State) int {
	set := m.settings(&s.Cond)
	return control.DaysToRegen(&set, &s.Control)
}
