package sim

import (
	"math"

	"brinebench/sim/call"
	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// View copies the present state of the unit into v. It allocates only when v's
// list of opened parts has to grow.
func (s *Session) View(v *View) {
	viewUnit(s.model, s.call.Plant, v)
	v.Tick = s.call.Ticks
	v.TimeS = float64(float64(s.call.Ticks) * TickS)
	v.Opened = append(v.Opened[:0], s.call.Opened...)
	v.Dry, v.Emptied = s.call.Dry, s.call.Emptied
	v.Condition = s.visible()
}

// viewUnit copies what is to be seen of a unit.
func viewUnit(m *plant.Model, st *plant.State, v *View) {
	v.Controller = ControllerView{
		ClockS: st.Control.ClockS, Powered: st.Powered, Regenerating: st.Control.Regenerating,
		Moving: st.Control.Moving, Station: st.Control.Station, ElapsedS: st.Control.StationS,
		RemainingS: m.StationRemainingS(st), DaysToRegen: m.DaysToRegen(st),
		Alarm: st.Control.Alarm, DrawUnderWay: m.Happening(st).DrawUnderWay,
	}
	v.Face = Face{Powered: st.Lit(), ClockLost: st.Control.Unset}
	viewDemand(m, st, &v.Controller)
	v.DrumDeg = st.Control.DrumDeg
	for i := range v.SeatLift {
		v.SeatLift[i] = m.Lift(st, Seat(i))
	}
	for i := range v.Paths {
		w := waterOf(m.PathWater(st, Path(i)))
		w.Air = m.PathAir(st, Path(i))
		v.Paths[i] = PathView{FlowM3S: m.Flow(st, Path(i)), Water: w}
	}
	v.TankHead = waterOf(m.TankHeadWater(st))
	v.RiserHead = waterOf(m.SeenWater(st, plant.RiserTop))
	v.RiserHead.Air = v.Paths[plant.Riser].Water.Air
	for i := range v.PressurePa {
		v.PressurePa[i] = m.PressurePa(st, Node(i))
	}
	viewBed(m, st, &v.Bed)
	viewTank(m, st, &v.Tank)
	v.Bypass, v.ShutOff, v.HouseTap, v.RawTap = call.BypassNames[st.Bypass], st.ShutOff, st.HouseTap, st.RawTap
	v.BypassAjar = 0
	if st.Bypass == plant.BypassService {
		v.BypassAjar = st.Cond.BypassAjar
	}
	v.DrainStream = v.Paths[plant.Drain].FlowM3S
	v.MeterM3S = m.MeterM3S(st)
	v.HouseDrawM3S, v.HouseSetM3S = m.HouseholdM3S(st), m.HouseDrawM3S(st)
}

// viewDemand is what a demand controller shows of the capacity that is left, by
// its own settings and count.
func viewDemand(m *plant.Model, st *plant.State, c *ControllerView) {
	if m.Config().Control.Kind != control.Demand {
		return
	}
	p := m.Panel(st)
	c.Demand = true
	c.CapacityM3 = float64(unit.Kilograin*float64(p.CapacityKgr)) / p.HardnessMolM3
	c.RemainingM3 = math.Max(0, c.CapacityM3-st.Control.UsedM3)
}

func waterOf(c water.Ions) Water {
	return Water{HardnessMolM3: c.Hardness(), SaltMolM3: c.Anion()}
}

func viewBed(m *plant.Model, st *plant.State, b *BedView) {
	held := 0.0
	for i := range b.Load {
		w := m.CellWater(st, i)
		b.Load[i], b.Hardness[i], b.Salt[i] = m.Load(st, i), w.Hardness(), w.Anion()
		held += b.Load[i]
	}
	b.RemainingCap = 1 - held/BedCells
	b.DepthM, b.RestDepthM = st.BedDepthM, m.RestDepthM(st)
	b.Plenum = waterOf(st.Bed.Plenum)
	for i, c := range st.Bed.Freeboard {
		b.Freeboard[i] = waterOf(c)
	}
	b.VelocityMS = m.Flow(st, plant.Bed) / m.Config().Bed.AreaM2
	b.LossPa, b.Fluidised = m.BedLossPa(st), m.Fluidised(st)
}

func viewTank(m *plant.Model, st *plant.State, t *TankView) {
	r := m.Tank(st)
	*t = TankView{
		LevelM: r.LevelM, SaltTopM: r.Pile.TopM, SaltBottomM: r.Pile.BottomM, LooseSaltTopM: r.Pile.LooseTopM,
		BrineFraction: r.BrineFraction, Saturation: r.Saturation, FloatM: r.FloatM,
		FloatShut: st.Tank.FloatShut, AirCheckSeated: st.Tank.AirCheckSeated, AirCheckLift: r.AirCheckLift,
	}
}

// visible is the condition of the unit as far as opened parts show it; what is
// closed looks healthy.
func (s *Session) visible() plant.Condition {
	return fault.Shown(&s.call.Plant.Cond, s.call.Opened)
}
