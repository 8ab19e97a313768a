package plant

import (
	"math"

	"brinebench/sim/brine"
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
	m.remember(s, dt)
	m.moveBed(s, dt)
	m.fillLine(s, dt)
	m.drive(s, dt)
	day := s.House.Day
	house := m.household(&s.Cond)
	household.Advance(&house, &s.House, dt)
	if s.House.Day != day {
		m.newDay(s)
	}
	s.TimeS += dt
	if m.exchangeDue(s) {
		m.Exchange(s)
	}
}

// Run moves a unit on by so many seconds, in the longest steps that miss no event.
func (m *Model) Run(s *State, seconds float64) {
	for end := s.TimeS + seconds; s.TimeS < end; {
		m.Step(s, min(m.MaxStep(s), end-s.TimeS))
	}
}

// household is the house with those who have moved in.
func (m *Model) household(c *Condition) household.Spec {
	h := m.cfg.House
	h.People += int(math.Floor(c.MorePeople + 0.5))
	return h
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
	p := m.plumbing(&s.Cond)
	s.fit(p)
	s.Net.P[Street], s.Net.P[tankLiquid], s.Net.P[cushion] = now.SupplyPa, s.Felt.Pa, s.Cushion.Pa
	if s.Felt.Dry {
		s.Net.P[tankLiquid] = 0
	}
	s.Net.P[atmosphere] = 0
	before := s.Net.Q[linkBed]
	m.balance(s, p)
	if float64(before*s.Net.Q[linkBed]) < 0 {
		m.Exchange(s) // the bed turns round: what flowed the other way is done with first
	}
	s.TargetM = m.bedTarget(s)
}

// balance solves the network. Where the suction draws air, that changes the
// injector's laws and leaves the water at its discharge, so that flows and air are
// found in turn; the air of the last round is what is booked.
func (m *Model) balance(s *State, p *plumbing) {
	const rounds, tol = 30, 1e-6
	for round := 1; ; round++ {
		m.solveOnce(s, p)
		m.trace(s, p)
		now := s.drawnAir()
		if round == rounds || math.Abs(now.M3S-s.Air.M3S) <= float64(tol*math.Abs(s.Net.Q[linkNozzle])) {
			break
		}
		if s.Air.M3S > 0 && now.M3S > 0 {
			now.Share, now.M3S = 0.5*(now.Share+s.Air.Share), 0.5*(now.M3S+s.Air.M3S)
		}
		s.Air = now
	}
	s.settleRates(p)
}

// drawnAir is the air that the suction brings into the injector by the last solve.
func (s *State) drawnAir() Air {
	a := Air{
		Share: s.Mixes[Suction][fromAir],
		M3S:   float64(math.Max(0, s.Net.Q[linkDischarge]) * s.Mixes[Throat][fromAir]),
	}
	if a.M3S < noAirM3S {
		return Air{} // what seeps through shut seats is left to the books
	}
	return a
}

// noAirM3S is as little air as counts for none, m³/s.
const noAirM3S = 1e-9

func (m *Model) solveOnce(s *State, p *plumbing) {
	var laws [numLinks]hydraulic.Law
	m.laws(s, &laws)
	var demand []float64
	if s.Air.M3S > 0 {
		var taken [numNodes]float64
		taken[p.ends[linkDischarge].To] = s.Air.M3S
		demand = taken[:]
	}
	if r := p.net.Solve(laws[:len(p.ends)], demand, &s.Net); r.Status != hydraulic.Solved {
		s.Unsolved++
	}
}

// bedTarget is the depth at which the bed would float in the present flow.
func (m *Model) bedTarget(s *State) float64 {
	rest := m.bed.DepthM(&s.Bed)
	packing := &m.thermal(s).packing
	up := -s.Net.Q[linkBed] / m.cfg.Bed.AreaM2
	if up <= packing.MinimumFluidisation() {
		return rest
	}
	return math.Min(rest*(1+packing.Expansion(up, m.cfg.TankDiameterM)), m.cfg.TankHeightM)
}

// moveBed lets the top of the bed follow its target: it cannot rise faster than
// the water that lifts it, nor fall faster than a dense suspension settles.
func (m *Model) moveBed(s *State, dt float64) {
	const settleMS = 0.004
	up := math.Max(0, -s.Net.Q[linkBed]/m.cfg.Bed.AreaM2)
	d := s.TargetM - s.BedDepthM
	s.BedDepthM += math.Max(math.Min(d, float64(up*dt)), -float64(settleMS*dt))
	if s.BedDepthM >= m.cfg.TankHeightM {
		m.carryOff(s, up, dt)
	}
	const throughGap = 4e-5 // bed that a broken basket lets by with the water, by volume; common practice, no source
	s.LosingM3 += float64(throughGap * s.Cond.LowerDistGap * math.Max(0, s.Net.Q[linkRiser]) * dt)
}

// fillLine moves the boundary in the brine line between what came out of the tank and
// what came from the valve.
func (m *Model) fillLine(s *State, dt float64) {
	s.LineM3 = math.Min(math.Max(s.LineM3+float64(m.TankDraw(s)*dt), 0), m.lineM3())
}

// lineM3 is what the brine line holds, m³.
func (m *Model) lineM3() float64 {
	return float64(math.Pi / 4 * m.cfg.BrineBoreM * m.cfg.BrineBoreM * m.cfg.BrineLengthM)
}

// carryOff books the resin that an upflow takes along which would lift the bed
// above the roof of the tank: of the beads that come there, those that the slots of
// the upper distributor let by.
func (m *Model) carryOff(s *State, up, dt float64) {
	const throughSlots = 0.02 // common practice, no source: fines and broken beads
	wanted := 1 + m.thermal(s).packing.Expansion(up, m.cfg.TankDiameterM)
	has := m.cfg.TankHeightM / m.bed.DepthM(&s.Bed)
	if wanted > has {
		s.LosingM3 += float64(throughSlots * up * m.cfg.Bed.AreaM2 * (1/has - 1/wanted) * dt)
	}
}

func (m *Model) exchangeDue(s *State) bool {
	moved := 0.0
	for sink := range s.Pending {
		v := &s.Pending[sink]
		moved = moved + v[0] + v[1] + v[2] + v[3] + v[4] + v[5]
	}
	flowing := moved > float64(restM3S*s.PendingS)
	m3, seconds := m.moves(s)
	return moved >= m3 || s.Pending[toTank].sum()+s.taken(fromTank) >= m.tankMoves(s) ||
		s.PendingS >= m.grain.restS || (flowing && s.PendingS >= seconds)
}

// book adds the flows of one step to the volumes waiting for the next exchange.
func (m *Model) book(s *State, dt float64) {
	for sink := range s.Rates {
		s.Pending[sink].add(dt, &s.Rates[sink])
	}
	s.PendingS += dt
	if m.cfg.Site.FromWell {
		m.well.Step(&s.Around.Well, dt, math.Max(0, s.Net.Q[linkMains]))
	}
	q, l := s.Net.Q, &s.Ledger
	s.Cushion.Pa += float64(q[linkCushion]*dt) / cushionM3Pa
	s.breathe()
	l.SupplyM3 += float64(q[linkMains] * dt)
	l.HouseM3 += float64(q[linkHouse] * dt)
	l.DrainM3 += float64(q[linkDrainLine] * dt)
	l.RawTapM3 += float64(q[linkRawTap] * dt)
	l.AirOutM3 += float64(s.Air.M3S * dt)
	l.LeakM3 += float64(s.flow(linkAirLeak) * dt)
	l.DrawnM3 += float64(math.Max(0, q[linkAirCheck]) * dt)
	air := s.Rates[toTank][fromAir]
	l.RefilledM3 += float64((math.Max(0, -q[linkAirCheck]) - air) * dt)
	l.TankAirM3 += float64(air * dt)
}

// Exchange carries the waiting volumes through bed and brine tank. Step calls it
// as often as accuracy needs; calling it more often is harmless.
func (m *Model) Exchange(s *State) {
	if s.PendingS <= 0 {
		return
	}
	src, iron := m.sources(s), s.ironSources()
	p := m.ports(s, &src, &iron)
	s.TopOut, s.BottomOut = m.bed.March(&s.Bed, p, s.PendingS)
	src[fromTop], src[fromBottom] = s.TopOut, s.BottomOut
	iron[fromTop], iron[fromBottom] = s.Bed.Iron.TopOut, s.Bed.Iron.BottomOut
	m.stepTank(s, &src)
	m.weather(s, s.PendingS)
	s.settle(&src)
	s.settleIron(&iron)
	s.Pending = [numSinks]mix{}
	s.PendingS = 0
	m.shed(s)
}

// sources gives the composition of each source as it stands, mol/m³.
func (m *Model) sources(s *State) [numSources]water.Ions {
	tank := m.brineSpec(s)
	return [numSources]water.Ions{
		fromRaw: s.Around.Feed, fromTop: s.Bed.Freeboard[0], fromBottom: s.Bed.Plenum,
		fromTank:    brine.Composition(&tank, &s.Tank),
		fromCushion: s.Cushion.Mol.Scale(1 / (s.Cushion.m3() + s.taken(fromCushion))),
	}
}

// ports are what the bed meets of the waiting volumes. What leaves an end of the
// tank and comes back to it does not count; what goes from end to end outside the
// bed goes along with the bed's own flow.
func (m *Model) ports(s *State, src *[numSources]water.Ions, iron *[numSources]float64) resin.Ports {
	top, bottom := s.Pending[toTop], s.Pending[toBottom]
	p := resin.Ports{
		TempC:    s.Around.FeedC,
		TopOutM3: s.taken(fromTop) - top[fromTop], BottomOutM3: s.taken(fromBottom) - bottom[fromBottom],
	}
	past := bottom[fromTop] - top[fromBottom]
	top[fromTop], bottom[fromBottom] = 0, 0
	if bed := top.sum() - p.TopOutM3; past != 0 && float64(bed*past) >= 0 {
		p.TopOutM3 -= bottom[fromTop]
		p.BottomOutM3 -= top[fromBottom]
		p.PastM3, top[fromBottom], bottom[fromTop] = math.Abs(past), 0, 0
	}
	p.TopInM3, p.TopIn = top.blend(src)
	p.BottomInM3, p.BottomIn = bottom.blend(src)
	if p.TopInM3 > 0 {
		p.TopInIron = top.iron(iron) / p.TopInM3
	}
	if p.BottomInM3 > 0 {
		p.BottomInIron = bottom.iron(iron) / p.BottomInM3
	}
	p.TopOutM3, p.BottomOutM3 = math.Max(0, p.TopOutM3), math.Max(0, p.BottomOutM3)
	// What is left open is rounding of the sums.
	gap := (p.TopInM3 - p.TopOutM3) - (p.BottomOutM3 - p.BottomInM3)
	if p.BottomOutM3+gap >= 0 {
		p.BottomOutM3 += gap
	} else {
		p.BottomInM3 -= gap
	}
	p.PastM3 = math.Min(p.PastM3, math.Abs(p.TopInM3-p.TopOutM3))
	if lift := s.BedDepthM/m.bed.DepthM(&s.Bed) - 1; lift > 0.02 {
		p.Remix = math.Min(remixPerS, float64(2*remixPerS*lift))
	}
	return p
}

// remixPerS is how fast neighbouring layers change places at 50 % expansion,
// 1/s; common practice, no source: a backwash mixes a bed in part only.
const remixPerS = 0.05

func (m *Model) stepTank(s *State, src *[numSources]water.Ions) {
	in := brine.Inputs{
		Bridge: s.Cond.SaltBridge, FloatLowM: s.Cond.FloatLowM, OutM3: s.taken(fromTank),
		RainM3: float64(s.Cond.TankSeepM3S * s.PendingS), CrackM3: m.crackM3(s),
	}
	into := s.Pending[toTank]
	into[fromAir] = 0 // it bubbles up and is gone
	in.InM3, in.In = into.blend(src)
	sp := m.brineSpec(s)
	f := brine.Step(&sp, &s.Tank, s.PendingS, in)
	m.feel(s)
	l := &s.Ledger
	l.DryM3 += in.OutM3 - f.OutM3
	l.TankInKg += f.WaterInKg
	l.TankOutKg += f.WaterOutKg
	l.TankInMol = l.TankInMol.Plus(1, f.In)
	l.TankOutMol = l.TankOutMol.Plus(1, f.Out)
	l.SaltDissolvedMol += f.DissolvedMol
	l.RainKg += f.RainKg
	l.SpillM3 += f.SpillM3
	l.SpillKg += f.WaterSpillKg
	l.SpillMol = l.SpillMol.Plus(1, f.Spill)
}

// brineSpec is the brine tank as its faults leave it.
func (m *Model) brineSpec(s *State) brine.Spec {
	const mushSlows = 12 // the time of dissolution at the worst; common practice, no source
	sp := m.cfg.Brine
	sp.AirCheckM += float64(s.Cond.AirCheckHigh * (sp.FloatM - sp.AirCheckM))
	sp.TauS *= 1 + float64(mushSlows*s.Cond.SaltMush)
	sp.TempC = s.Around.TankC
	return sp
}

// crackM3 is what runs out of a crack at the floor since the last exchange, m³.
func (m *Model) crackM3(s *State) float64 {
	d := s.Cond.TankCrackM
	if d <= 0 {
		return 0
	}
	fall := float64(2 * unit.Gravity * brine.LevelM(&m.cfg.Brine, &s.Tank))
	return float64(holeCd * math.Pi / 4 * d * d * math.Sqrt(fall) * s.PendingS)
}

// SaltyMolM3 is 1 g/L of sodium, mol/m³: nobody takes that for drinking water.
const SaltyMolM3 = 43

// noticedM3 is how much hard water a family gets before it says so, two buckets; common
// practice, no source.
const noticedM3 = 0.02

// settle books what reached the taps and the drain.
func (s *State) settle(src *[numSources]water.Ions) {
	l := &s.Ledger
	l.SupplyMol = l.SupplyMol.Plus(s.taken(fromRaw), src[fromRaw])
	back, c := s.Pending[toStreet].blend(src)
	l.SupplyMol = l.SupplyMol.Plus(-back, c)
	floor, c := s.Pending[toFloor].blend(src)
	l.FloorM3 += floor
	l.FloorMol = l.FloorMol.Plus(floor, c)
	house, c := s.Pending[toHouse].blend(src)
	l.HouseMol = l.HouseMol.Plus(house, c)
	hard := 0.0
	if c.Hardness() > unit.GPG {
		hard = house
		l.HouseHardM3 += house
		if house > 0 && l.HouseHardM3 > noticedM3 && s.Log.HardFromS == 0 {
			s.Log.HardFromS = s.TimeS
		}
	}
	s.Log.Hard.draw(s.House.Day, house, hard, s.Log.HardFromS > 0)
	if c[water.Na] > SaltyMolM3 {
		l.HouseSaltyM3 += house
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

// sum is the total of the volumes in v.
func (v *mix) sum() (m3 float64) {
	for _, x := range v {
		m3 += x
	}
	return m3
}

// blend returns the total of the volumes in v and the composition of the blend.
func (v *mix) blend(src *[numSources]water.Ions) (m3 float64, c water.Ions) {
	var na, k, ca, mg float64 // arrays would be kept in memory
	for i, x := range v {
		from := &src[i]
		m3 += x
		na += float64(x * from[water.Na])
		k += float64(x * from[water.K])
		ca += float64(x * from[water.Ca])
		mg += float64(x * from[water.Mg])
	}
	if m3 <= 0 {
		return 0, water.Ions{}
	}
	return m3, water.Ions{na, k, ca, mg}.Scale(1 / m3)
}
