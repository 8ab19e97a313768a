package plant

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/resin"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// restM3S is the flow up to which the unit counts as at rest, m³/s: leaks of shut
// seats, not a drip.
const restM3S = 1e-7

// Step moves the plant on by dt seconds, 0 < dt ≤ MaxStep (shorter is always
// right). Flows and pressures are those of the start of the step, found anew
// where anything that they depend on has changed; they are booked, then bed,
// drum, clock and household move on, and when enough water has moved, bed and
// brine tank exchange.
func (m *Model) Step(s *State, dt float64) {
	m.solve(s, dt)
	m.book(s, dt)
	m.moveBed(s, dt)
	control.Step(&m.cfg.Program, &m.cfg.Control, &control.Wear{}, &s.Control,
		control.Inputs{Plugged: s.Powered, Mains: true, StartNow: s.StartNow, AdvanceNow: s.AdvanceNow}, dt)
	s.StartNow, s.AdvanceNow = false, false
	household.Advance(&m.cfg.House, &s.House, dt)
	s.TimeS += dt
	if m.exchangeDue(s) {
		m.Exchange(s)
	}
}

// solve finds flows and pressures for a step of dt when anything that they depend
// on has changed since last time.
func (m *Model) solve(s *State, dt float64) {
	const driftPa = 50 // of the cushion, before the network hears of it
	s.pace(dt)
	now := m.setting(s)
	drift := math.Abs(s.Net.P[cushion] - s.Cushion.Pa)
	if now == s.Solved && (drift <= driftPa || !s.Cushion.Follows) {
		return
	}
	s.Solved = now
	var laws [numLinks]hydraulic.Law
	m.laws(s, &laws)
	s.Net.P[Street], s.Net.P[tankLiquid], s.Net.P[cushion] = m.cfg.SupplyPa, s.Felt.Pa, s.Cushion.Pa
	s.Net.P[atmosphere] = 0
	before := s.Net.Q[linkBed]
	if r := m.net.Solve(laws[:], nil, &s.Net); r.Status != hydraulic.Solved {
		s.Unsolved++
	}
	if float64(before*s.Net.Q[linkBed]) < 0 {
		m.Exchange(s) // the bed turns round: what flowed the other way is done with first
	}
	s.trace()
	s.TargetM = m.bedTarget(s)
}

// bedTarget is the depth at which the bed would float in the present flow.
func (m *Model) bedTarget(s *State) float64 {
	rest := m.cfg.Bed.DepthM
	up := -s.Net.Q[linkBed] / m.cfg.Bed.AreaM2
	if up <= m.packing.MinimumFluidisation() {
		return rest
	}
	void := m.packing.VoidAt(up, m.cfg.TankDiameterM)
	return math.Min(rest*(1-m.cfg.Bed.Void)/(1-void), m.cfg.TankHeightM)
}

// moveBed lets the top of the bed follow its target: it cannot rise faster than
// the water that lifts it, nor fall faster than a dense suspension settles.
func (m *Model) moveBed(s *State, dt float64) {
	const settleMS = 0.004
	up := math.Max(0, -s.Net.Q[linkBed]/m.cfg.Bed.AreaM2)
	d := s.TargetM - s.BedDepthM
	s.BedDepthM += math.Max(math.Min(d, float64(up*dt)), -float64(settleMS*dt))
}

func (m *Model) exchangeDue(s *State) bool {
	moved := 0.0
	for sink := range s.Pending {
		for _, v := range s.Pending[sink] {
			moved += v
		}
	}
	flowing := moved > float64(restM3S*s.PendingS)
	return moved >= m.grain.m3 || s.PendingS >= m.grain.restS || (flowing && s.PendingS >= m.grain.flowS)
}

// book adds the flows of one step to the volumes waiting for the next exchange.
func (m *Model) book(s *State, dt float64) {
	for sink := range s.Rates {
		for src, rate := range s.Rates[sink] {
			s.Pending[sink][src] += float64(rate * dt)
		}
	}
	s.PendingS += dt
	q, l := s.Net.Q, &s.Ledger
	s.Cushion.Pa += float64(q[linkCushion]*dt) / cushionM3Pa
	l.SupplyM3 += float64(q[linkMains] * dt)
	l.HouseM3 += float64(q[linkHouse] * dt)
	l.DrainM3 += float64(q[linkDrainLine] * dt)
	l.RawTapM3 += float64(q[linkRawTap] * dt)
	l.DrawnM3 += float64(math.Max(0, q[linkAirCheck]) * dt)
	l.RefilledM3 += float64(math.Max(0, -q[linkAirCheck]) * dt)
}

// Exchange carries the waiting volumes through bed and brine tank. Step calls it
// as often as accuracy needs; calling it more often is harmless.
func (m *Model) Exchange(s *State) {
	if s.PendingS <= 0 {
		return
	}
	src := m.sources(s)
	p := m.ports(s, &src)
	s.TopOut, s.BottomOut = m.bed.March(&s.Bed, p, s.PendingS)
	src[fromTop], src[fromBottom] = s.TopOut, s.BottomOut
	m.stepTank(s, &src)
	s.settle(&src)
	s.Pending = [numSinks]mix{}
	s.PendingS = 0
}

// sources gives the composition of each source as it stands, mol/m³.
func (m *Model) sources(s *State) [numSources]water.Ions {
	return [numSources]water.Ions{
		fromRaw: m.cfg.Feed, fromTop: s.Bed.Freeboard, fromBottom: s.Bed.Plenum,
		fromTank:    brine.Composition(&m.cfg.Brine, &s.Tank),
		fromCushion: s.Cushion.Mol.Scale(1 / s.Cushion.m3()),
	}
}

func (m *Model) ports(s *State, src *[numSources]water.Ions) resin.Ports {
	p := resin.Ports{TempC: m.cfg.FeedTempC, TopOutM3: s.taken(fromTop), BottomOutM3: s.taken(fromBottom)}
	p.TopInM3, p.TopIn = s.Pending[toTop].blend(src)
	p.BottomInM3, p.BottomIn = s.Pending[toBottom].blend(src)
	// What is left open is rounding of the sums.
	gap := (p.TopInM3 - p.TopOutM3) - (p.BottomOutM3 - p.BottomInM3)
	if p.BottomOutM3+gap >= 0 {
		p.BottomOutM3 += gap
	} else {
		p.BottomInM3 -= gap
	}
	if lift := s.BedDepthM/m.cfg.Bed.DepthM - 1; lift > 0.02 {
		p.Remix = math.Min(remixPerS, float64(2*remixPerS*lift))
	}
	return p
}

// remixPerS is how fast neighbouring layers change places at 50 % expansion,
// 1/s; common practice, no source: a backwash mixes a bed in part only.
const remixPerS = 0.05

func (m *Model) stepTank(s *State, src *[numSources]water.Ions) {
	in := brine.Inputs{Bridge: s.Cond.SaltBridge, FloatLowM: s.Cond.FloatLowM, OutM3: s.taken(fromTank)}
	in.InM3, in.In = s.Pending[toTank].blend(src)
	f := brine.Step(&m.cfg.Brine, &s.Tank, s.PendingS, in)
	m.feel(s)
	l := &s.Ledger
	l.DryM3 += in.OutM3 - f.OutM3
	l.TankInKg += f.WaterInKg
	l.TankOutKg += f.WaterOutKg
	l.TankInMol = l.TankInMol.Plus(1, f.In)
	l.TankOutMol = l.TankOutMol.Plus(1, f.Out)
	l.SaltDissolvedMol += f.DissolvedMol
	l.SpillM3 += f.SpillM3
	l.SpillKg += f.WaterSpillKg
	l.SpillMol = l.SpillMol.Plus(1, f.Spill)
}

// settle books what reached the taps and the drain.
func (s *State) settle(src *[numSources]water.Ions) {
	l := &s.Ledger
	l.SupplyMol = l.SupplyMol.Plus(s.taken(fromRaw), src[fromRaw])
	house, c := s.Pending[toHouse].blend(src)
	l.HouseMol = l.HouseMol.Plus(house, c)
	if c.Hardness() > unit.GPG {
		l.HouseHardM3 += house
	}
	drain, c := s.Pending[toDrain].blend(src)
	l.DrainMol = l.DrainMol.Plus(drain, c)
	raw, c := s.Pending[toRawTap].blend(src)
	l.RawTapMol = l.RawTapMol.Plus(raw, c)
	taken, c := s.Pending[toCushion].blend(src)
	s.Cushion.Mol = s.Cushion.Mol.Plus(taken, c).Plus(-s.taken(fromCushion), src[fromCushion])
}

// taken is the volume drawn from one source since the last exchange, m³.
func (s *State) taken(source int) (m3 float64) {
	for sink := range s.Pending {
		m3 += s.Pending[sink][source]
	}
	return m3
}

// blend returns the total of the volumes in v and the composition of the blend.
func (v *mix) blend(src *[numSources]water.Ions) (m3 float64, c water.Ions) {
	for i := range v {
		m3 += v[i]
		c = c.Plus(v[i], src[i])
	}
	if m3 <= 0 {
		return 0, water.Ions{}
	}
	return m3, c.Scale(1 / m3)
}
