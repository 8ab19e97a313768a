package plant

import (
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Flow coefficients of the fittings, US gpm at 1 psi: common practice, no source.
// They are sizes of our own that together lose less than 15 psi at rated service flow, as the standard
// for softeners allows (NSF/ANSI 44, secondary source).
const (
	seatLeakCv     = 2e-7 // what a sound shut seat or check still lets by
	valveLeakCv    = 2e-6 // the same of bypass and shut-off: more, so that they keep a shut unit under pressure
	bypassCv       = 12
	shutOffCv      = 14
	lowerDistCv    = 9
	upperDistCv    = 9
	screenCv       = 0.6
	refillOpenCv   = 0.8 // refill control lifted free by the draw
	refillCv       = 0.3 // below its rated flow
	airCheckCv     = 0.9
	drainCtlPerGPM = 0.273  // drain control's Cv below its rated flow, to the gpm of that: it regulates from about 13 psi on
	drainBareCv    = 3      // of its holder without a flow control
	bathTapM3S     = 3.2e-4 // the test tap wide open at household.ReferencePa
	sampleTapM3S   = 1.3e-4
	plasticRoughM  = 1.5e-6
	holeCd         = 0.62 // of a hole in a thin wall
)

// seatCv is the flow coefficient of each seat wide open.
var seatCv = [valve.NumSeats]float64{
	valve.Inlet: 6, valve.Outlet: 6, valve.Pass: 5, valve.Upflow: 4,
	valve.Backwash: 3, valve.Rinse: 3, valve.Motive: 0.9, valve.Brine: 0.9,
}

// fixLaws sets the laws, or the parts of laws, that nothing but temperature changes.
func (t *thermal) fixLaws(c *Config) {
	l := &t.fixed
	rise := func(up float64) float64 { return float64(-t.rho * unit.Gravity * up) }
	shut := hydraulic.CvB(seatLeakCv, t.rho)
	l[linkHouse] = hydraulic.Law{Kind: hydraulic.Check, BR: shut, RisePa: rise(c.HouseRiseM)}
	l[linkRawTap] = hydraulic.Law{Kind: hydraulic.Check, BR: shut}
	l[linkBed] = t.packing.BedLaw(c.Bed.DepthM, c.Bed.AreaM2)
	l[linkRiser] = hydraulic.PipeLaw(c.TankHeightM, c.RiserBoreM, plasticRoughM, 1.5, t.rho, t.mu)
	l[linkDrainCtl] = hydraulic.Law{Kind: hydraulic.Regulator}
	l[linkDrainLine] = hydraulic.PipeLaw(c.DrainLengthM, c.DrainBoreM, plasticRoughM, 4, t.rho, t.mu)
	l[linkDrainLine].RisePa = rise(c.DrainRiseM)
	l[linkDrainLine].BR = shut // the air gap: nothing comes back
	l[linkRefill] = hydraulic.Law{Kind: hydraulic.Regulator, BR: hydraulic.CvB(refillOpenCv, t.rho)}
	l[linkLine] = hydraulic.PipeLaw(c.BrineLengthM, c.BrineBoreM, plasticRoughM, 3, t.rho, t.mu)
	l[linkAirCheck] = hydraulic.Law{Kind: hydraulic.Check}
}

// setting is all that the laws depend on in the present state.
func (m *Model) setting(s *State) setting {
	return setting{
		DrumDeg: s.Control.DrumDeg, Cond: s.Cond, Bypass: s.Bypass, ShutOff: s.ShutOff, HoseOff: s.HoseOff, Aired: s.Aired,
		DrawM3S: m.houseDraw(s), RawTap: s.RawTap, Felt: s.Felt, CushionSlope: s.Cushion.slope(),
		FeedC: s.Around.FeedC, SupplyPa: m.supplyPa(s), Frost: s.Around.frost(),
		Bed: bedding{DepthM: m.bed.DepthM(&s.Bed), Void: m.bed.Void(&s.Bed)},
	}
}

// laws fills out with the loss law of every link in the present state.
func (m *Model) laws(s *State, out *[numLinks]hydraulic.Law) {
	t := m.thermal(s)
	*out = t.fixed
	for i := range valve.NumSeats {
		cv := float64(seatCv[i]*m.Lift(s, i)) + seatLeakCv + s.Cond.SeatLeakCv[i]
		out[i].B = hydraulic.CvB(cv, t.rho)
	}
	m.houseLaws(s, t, out)
	m.injectorLaws(s, t, out)
	m.brineLaws(s, t, out)
	m.drainLaws(s, t, out)
	m.bedLaws(s, t, out)
	out[linkCushion] = hydraulic.Law{A: s.Cushion.slope()}
}

// plugB is the loss of a blockage that leaves a fraction open of a bore free: a
// sharp-edged opening whose jet contracts to 0.62 of it and is lost.
func plugB(boreM, open, rho float64) float64 {
	if open >= 1 {
		return 0
	}
	k := 1/float64(0.62*open) - 1
	return hydraulic.MinorB(k*k, boreM, rho)
}

func (m *Model) houseLaws(s *State, t *thermal, out *[numLinks]hydraulic.Law) {
	open := func(cv, part float64) float64 {
		return hydraulic.CvB(float64(cv*part)+valveLeakCv, t.rho)
	}
	through, across := 0.0, 0.0
	switch s.Bypass {
	case BypassService:
		through, across = 1-s.Cond.BypassAjar, s.Cond.BypassAjar
	case BypassBypass:
		across = 1
	}
	main := 1.0
	if s.ShutOff {
		main = 0
	}
	out[linkMains].B = m.cfg.SupplyLossB + open(shutOffCv, main)
	out[linkBypassIn].B = open(bypassCv, through)
	out[linkBypassOut].B = open(bypassCv, through)
	out[linkBypassCross].B = open(bypassCv, across)
	if leak := s.Cond.BypassLeakCv + m.cfg.BlendCv; leak > 0 && s.Bypass == BypassService {
		out[linkBypassCross].B = hydraulic.CvB(float64(bypassCv*across)+valveLeakCv+leak, t.rho)
	}
	out[linkHouse].B = t.tapB(m.houseDraw(s))
	out[linkRawTap].B = t.tapB(float64(s.RawTap * sampleTapM3S))
}

// houseDraw is the nominal draw of all open taps, m³/s at household.ReferencePa.
func (m *Model) houseDraw(s *State) float64 {
	draw := float64(s.HouseTap*bathTapM3S) + s.Cond.LeakM3S
	if !s.NoDraw {
		draw += household.FlowAt(&m.cfg.House, &s.House)
	}
	return draw
}

// tapB is the loss of taps that give the nominal flow at the reference pressure.
func (t *thermal) tapB(nominalM3S float64) float64 {
	shut := hydraulic.CvB(seatLeakCv, t.rho)
	if nominalM3S <= 0 {
		return shut
	}
	return math.Min(shut, household.ReferencePa/float64(nominalM3S*nominalM3S))
}

func (m *Model) injectorLaws(s *State, t *thermal, out *[numLinks]hydraulic.Law) {
	c := &s.Cond
	inj := hydraulic.NewInjector(m.cfg.NozzleM*c.InjectorScale, m.cfg.ThroatM*c.InjectorScale,
		c.NozzleOpen*(1+c.NozzleWear), c.ThroatOpen, c.ThroatWear, t.rho)
	if s.Air.Share > 0 {
		inj = inj.Carrying(hydraulic.Stream{
			LiquidM3S: 1 - s.Air.Share, AirM3S: s.Air.Share, LiquidKgM3: s.Felt.RhoKgM3, AirKgM3: t.air,
		}, 0, t.rho)
	}
	out[linkNozzle], out[linkSuction], out[linkDischarge] = inj.Laws(t.suction)
	out[linkScreen].B = hydraulic.PluggedB(hydraulic.CvB(screenCv, t.rho), c.ScreenOpen)
}

func (m *Model) brineLaws(s *State, t *thermal, out *[numLinks]hydraulic.Law) {
	c, rho := &s.Cond, s.Felt.RhoKgM3
	out[linkRefill].SetM3S = float64(m.cfg.RefillM3S * c.RefillScale * c.RefillOpen)
	out[linkRefill].B = hydraulic.PluggedB(hydraulic.CvB(float64(refillCv*c.RefillScale), t.rho), c.RefillOpen)
	out[linkLine].RisePa = float64(rho * unit.Gravity * m.cfg.BrineLiftM)
	free := float64(c.BrineLineOpen * (1 - math.Max(c.BrineIce, s.Solved.Frost.Brine)))
	out[linkLine].B += plugB(m.cfg.BrineBoreM, free, t.rho)

	foot := float64(airCheckCv * (1 - float64(mushStops*c.SaltMush)))
	check := &out[linkAirCheck]
	check.B = hydraulic.CvB(seatLeakCv+float64(foot*s.Felt.Lift*(1-c.AirCheckShut)), rho)
	check.BR = hydraulic.CvB(foot, rho)
	if s.Felt.FloatShut {
		check.BR = hydraulic.CvB(seatLeakCv, rho)
	}
	if s.Felt.Dry {
		check.B *= t.air / rho
		out[linkLine].RisePa *= t.air / rho
	}
	if s.Aired { // what stands in the line falls to the level in the tank
		out[linkLine].RisePa = math.Min(out[linkLine].RisePa, s.Felt.Pa)
	}
	m.airLeakLaw(s, t, &out[linkAirLeak])
}

// airLeakLaw is that of a hole in the brine line. With the brine seat shut the air
// that comes in lets the column fall once, and then all stands still; that once is
// left out.
func (m *Model) airLeakLaw(s *State, t *thermal, out *hydraulic.Law) {
	if s.Cond.BrineAirM <= 0 {
		out.B = hydraulic.CvB(seatLeakCv, t.rho)
		return
	}
	*out = hydraulic.LeakLaw(holeCd, s.Cond.BrineAirM, t.rho, t.air)
	if m.Lift(s, valve.Brine) < 0.01 {
		out.B = hydraulic.CvB(seatLeakCv, t.rho)
	}
}

// mushStops is how far salt mush closes the foot of the well at its worst; common
// practice, no source.
const mushStops = 0.985

func (m *Model) drainLaws(s *State, t *thermal, out *[numLinks]hydraulic.Law) {
	c, ctl, line := &s.Cond, &out[linkDrainCtl], &out[linkDrainLine]
	if c.DrainCtlGone > 0.5 {
		*ctl = hydraulic.Law{B: hydraulic.CvB(drainBareCv, t.rho)}
	} else {
		ctl.SetM3S = float64(m.cfg.DrainM3S * c.DrainCtlScale * c.DrainCtlOpen)
		ctl.B = hydraulic.PluggedB(hydraulic.CvB(float64(drainCtlPerGPM*m.cfg.DrainM3S/unit.GPM*c.DrainCtlScale), t.rho), c.DrainCtlOpen)
		ctl.BR = ctl.B
	}
	if s.HoseOff {
		*line = hydraulic.Law{
			Kind: hydraulic.Check, B: hydraulic.MinorB(1, m.cfg.DrainBoreM, t.rho), BR: hydraulic.CvB(seatLeakCv, t.rho),
		}
		return
	}
	free := float64(c.DrainLineOpen * (1 - math.Max(c.DrainIce, s.Solved.Frost.Drain)))
	line.B += plugB(m.cfg.DrainBoreM, free, t.rho)
	line.RisePa -= float64(t.rho * unit.Gravity * c.DrainUpM)
	if s.Aired { // it runs empty instead of pulling
		line.RisePa = math.Min(line.RisePa, 0)
	}
}

// bedLaws are those of the bed, of what leads past it, and of what it stands on.
func (m *Model) bedLaws(s *State, t *thermal, out *[numLinks]hydraulic.Law) {
	c := &s.Cond
	out[linkRiser].B += hydraulic.PluggedB(hydraulic.CvB(lowerDistCv, t.rho), c.LowerDistOpen)
	if s.Bed.Cut > 0 || s.Bed.Lost > 0 {
		p := t.packing
		p.Void = m.bed.Void(&s.Bed)
		out[linkBed] = p.BedLaw(m.bed.DepthM(&s.Bed), m.cfg.Bed.AreaM2)
	}
	basket := hydraulic.CvB(upperDistCv, t.rho) // clean, it takes no more than the bed's law has
	out[linkBed].BasketB = hydraulic.PluggedB(basket, c.UpperDistOpen) - basket
	out[linkRiserSeal].B = hydraulic.CvB(seatLeakCv+c.RiserSealCv, t.rho)
	out[linkRiserCrack].B = hydraulic.CvB(seatLeakCv+c.RiserCrackCv, t.rho)
	// A channel carries its share of the flow at the loss of the bed beside it; a
	// backwash closes it while the bed floats.
	shut := hydraulic.CvB(seatLeakCv, t.rho)
	channel := hydraulic.Law{Kind: hydraulic.Check, B: shut, BR: shut}
	if c.BedChannel > 0 {
		x := (1 - c.BedChannel) / c.BedChannel
		channel.A, channel.B = float64(x*out[linkBed].A), float64(x*x*(out[linkBed].B+out[linkBed].BasketB))
	}
	out[linkChannel] = channel
}

// feel takes over the state of the brine tank when it has moved by more than the
// pipes would notice.
func (m *Model) feel(s *State) {
	const tolPa, tolKgM3, tolLift = 25, 0.2, 0.02
	spec, was := m.brineSpec(s), &s.Felt
	sp := &spec
	rho := brine.Density(sp, &s.Tank)
	level := brine.LevelM(sp, &s.Tank)
	now := Felt{
		Pa: float64(float64(rho*unit.Gravity) * level), RhoKgM3: rho,
		Lift: brine.AirCheckLift(sp, &s.Tank), Seated: s.Tank.AirCheckSeated,
		FloatShut: (s.Tank.FloatShut && s.Cond.FloatLoose <= 0.5) || s.Cond.FloatStuck > 0.5,
	}
	if s.Cond.AirCheckOpen > 0.5 {
		now.Lift, now.Seated = 1, false
		now.Dry = level < footM || (was.Dry && level < 2*footM)
	}
	if now.Seated != was.Seated || now.FloatShut != was.FloatShut || now.Dry != was.Dry || math.Abs(now.Pa-was.Pa) > tolPa ||
		math.Abs(rho-was.RhoKgM3) > tolKgM3 || math.Abs(now.Lift-was.Lift) > tolLift {
		s.Felt = now
	}
}

// footM is how high above the floor the open foot of the brine line ends, m.
const footM = 0.01
