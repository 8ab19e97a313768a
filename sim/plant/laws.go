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
	seatLeakCv    = 2e-7 // what a sound shut seat or check still lets by
	valveLeakCv   = 2e-6 // the same of bypass and shut-off: more, so that they keep a shut unit under pressure
	bypassCv      = 12
	shutOffCv     = 14
	lowerDistCv   = 9
	screenCv      = 0.6
	refillOpenCv  = 0.8 // refill control lifted free by the draw
	refillCv      = 0.3 // below its rated flow
	airCheckCv    = 0.9
	drainCtlCv    = 0.6    // below its rated flow: it regulates from about 14 psi at 2.2 gpm
	bathTapM3S    = 3.2e-4 // the test tap wide open at household.ReferencePa
	sampleTapM3S  = 1.3e-4
	riserBoreM    = 0.027
	plasticRoughM = 1.5e-6
)

// seatCv is the flow coefficient of each seat wide open.
var seatCv = [valve.NumSeats]float64{
	valve.Inlet: 6, valve.Outlet: 6, valve.Pass: 5, valve.Upflow: 4,
	valve.Backwash: 3, valve.Rinse: 3, valve.Motive: 0.9, valve.Brine: 0.9,
}

// fixLaws sets the laws, or the parts of laws, that nothing changes.
func (m *Model) fixLaws() {
	c, l := &m.cfg, &m.fixed
	rise := func(up float64) float64 { return float64(-m.rho * unit.Gravity * up) }
	shut := hydraulic.CvB(seatLeakCv, m.rho)
	l[linkHouse] = hydraulic.Law{Kind: hydraulic.Check, BR: shut, RisePa: rise(c.HouseRiseM)}
	l[linkRawTap] = hydraulic.Law{Kind: hydraulic.Check, BR: shut}
	l[linkBed] = m.packing.BedLaw(c.Bed.DepthM, c.Bed.AreaM2)
	l[linkRiser] = hydraulic.PipeLaw(c.TankHeightM, riserBoreM, plasticRoughM, 1.5, m.rho, m.mu)
	l[linkRiser].B += hydraulic.CvB(lowerDistCv, m.rho)
	l[linkDrainCtl] = hydraulic.Law{Kind: hydraulic.Regulator}
	l[linkDrainLine] = hydraulic.PipeLaw(c.DrainLengthM, c.DrainBoreM, plasticRoughM, 4, m.rho, m.mu)
	l[linkDrainLine].RisePa = rise(c.DrainRiseM)
	l[linkDrainLine].BR = shut // the air gap: nothing comes back
	l[linkRefill] = hydraulic.Law{Kind: hydraulic.Regulator, BR: hydraulic.CvB(refillOpenCv, m.rho)}
	l[linkLine] = hydraulic.PipeLaw(c.BrineLengthM, c.BrineBoreM, plasticRoughM, 3, m.rho, m.mu)
	l[linkAirCheck] = hydraulic.Law{Kind: hydraulic.Check}
}

// cushionM3Pa is how much water the unit takes up per pascal: 0.1 L at 60 psi.
// Common practice, no source: a fibreglass tank swells, and a little air stays.
const cushionM3Pa = 2.5e-10

// cushionRestM3 is the water in the cushion at no pressure; it keeps the content
// above nothing under any vacuum.
const cushionRestM3 = 3e5 * cushionM3Pa

// m3 is the water in the cushion.
func (c *Cushion) m3() float64 { return cushionRestM3 + float64(cushionM3Pa*c.Pa) }

// Pressure differences between the unit and its cushion: from the greater on the
// cushion follows, to the lesser. In between it stands still, so that not every
// tap that is opened has to be solved twice.
const (
	stirPa = 100e3
	calmPa = 3e3
)

// stillSlope is the slope of the cushion's link while it stands still, Pa·s/m³.
const stillSlope = 1e18

// pace tells how the cushion takes the next step, of dt: it follows the unit where
// that is cut off from the street or has changed its pressure much. Its link is
// then implicit in time, as soft as the step is long.
func (s *State) pace(dt float64) {
	c := &s.Cushion
	gap := math.Abs(s.Net.P[BedTop] - c.Pa)
	c.Follows = s.ShutOff || s.Bypass != BypassService || gap > stirPa || (c.Follows && gap > calmPa)
	if c.Follows && (dt > c.PaceS || (gap > calmPa && dt < 0.25*c.PaceS)) {
		c.PaceS = dt
	}
}

// slope is that of the cushion's link, Pa·s/m³.
func (c *Cushion) slope() float64 {
	if c.Follows {
		return c.PaceS / cushionM3Pa
	}
	return stillSlope
}

func (m *Model) setting(s *State) setting {
	return setting{
		DrumDeg: s.Control.DrumDeg, Cond: s.Cond, Bypass: s.Bypass, ShutOff: s.ShutOff, HoseOff: s.HoseOff,
		DrawM3S: m.houseDraw(s), RawTap: s.RawTap, Felt: s.Felt, CushionSlope: s.Cushion.slope(),
	}
}

// laws fills out with the loss law of every link in the present state.
func (m *Model) laws(s *State, out *[numLinks]hydraulic.Law) {
	*out = m.fixed
	for i := range valve.NumSeats {
		cv := float64(seatCv[i]*m.cfg.Program.Lift(i, s.Control.DrumDeg)) + seatLeakCv
		if i == valve.Pass {
			cv += s.Cond.PassLeakCv
		}
		out[i].B = hydraulic.CvB(cv, m.rho)
	}
	m.houseLaws(s, out)
	m.injectorLaws(s, out)
	m.brineLaws(s, out)
	out[linkDrainCtl].SetM3S = float64(m.cfg.DrainM3S * s.Cond.DrainCtlOpen)
	out[linkDrainCtl].B = hydraulic.PluggedB(hydraulic.CvB(drainCtlCv, m.rho), s.Cond.DrainCtlOpen)
	out[linkDrainCtl].BR = out[linkDrainCtl].B
	out[linkDrainLine].B += plugB(m.cfg.DrainBoreM, s.Cond.DrainLineOpen, m.rho)
	if s.HoseOff {
		out[linkDrainLine] = hydraulic.Law{
			Kind: hydraulic.Check, B: hydraulic.MinorB(1, m.cfg.DrainBoreM, m.rho), BR: hydraulic.CvB(seatLeakCv, m.rho),
		}
	}
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

func (m *Model) houseLaws(s *State, out *[numLinks]hydraulic.Law) {
	open := func(cv float64, yes bool) float64 {
		if yes {
			return hydraulic.CvB(cv, m.rho)
		}
		return hydraulic.CvB(valveLeakCv, m.rho)
	}
	out[linkMains].B = m.cfg.SupplyLossB + open(shutOffCv, !s.ShutOff)
	through := s.Bypass == BypassService
	out[linkBypassIn].B = open(bypassCv, through)
	out[linkBypassOut].B = open(bypassCv, through)
	out[linkBypassCross].B = open(bypassCv, s.Bypass == BypassBypass)
	if s.Cond.BypassLeakCv > 0 && through {
		out[linkBypassCross].B = hydraulic.CvB(valveLeakCv+s.Cond.BypassLeakCv, m.rho)
	}
	out[linkHouse].B = m.tapB(m.houseDraw(s))
	out[linkRawTap].B = m.tapB(float64(s.RawTap * sampleTapM3S))
}

// houseDraw is the nominal draw of all open taps, m³/s at household.ReferencePa.
func (m *Model) houseDraw(s *State) float64 {
	draw := float64(s.HouseTap * bathTapM3S)
	if !s.NoDraw {
		draw += household.FlowAt(&m.cfg.House, &s.House)
	}
	return draw
}

// tapB is the loss of taps that give the nominal flow at the reference pressure.
func (m *Model) tapB(nominalM3S float64) float64 {
	shut := hydraulic.CvB(seatLeakCv, m.rho)
	if nominalM3S <= 0 {
		return shut
	}
	return math.Min(shut, household.ReferencePa/float64(nominalM3S*nominalM3S))
}

func (m *Model) injectorLaws(s *State, out *[numLinks]hydraulic.Law) {
	inj := hydraulic.NewInjector(m.cfg.NozzleM, m.cfg.ThroatM, s.Cond.NozzleOpen, s.Cond.ThroatOpen, 0, m.rho)
	out[linkNozzle], out[linkSuction], out[linkDischarge] = inj.Laws(m.vapour)
	out[linkScreen].B = hydraulic.PluggedB(hydraulic.CvB(screenCv, m.rho), s.Cond.ScreenOpen)
}

func (m *Model) brineLaws(s *State, out *[numLinks]hydraulic.Law) {
	rho := s.Felt.RhoKgM3
	out[linkRefill].SetM3S = float64(m.cfg.RefillM3S * s.Cond.RefillOpen)
	out[linkRefill].B = hydraulic.PluggedB(hydraulic.CvB(refillCv, m.rho), s.Cond.RefillOpen)
	out[linkLine].RisePa = float64(rho * unit.Gravity * m.cfg.BrineLiftM)
	out[linkLine].B += plugB(m.cfg.BrineBoreM, s.Cond.BrineLineOpen, m.rho)
	check := &out[linkAirCheck]
	check.B = hydraulic.CvB(seatLeakCv+float64(airCheckCv*s.Felt.Lift), rho)
	check.BR = hydraulic.CvB(airCheckCv, rho)
	if s.Felt.FloatShut {
		check.BR = hydraulic.CvB(seatLeakCv, rho)
	}
}

// feel takes over the state of the brine tank when it has moved by more than the
// pipes would notice.
func (m *Model) feel(s *State) {
	const tolPa, tolKgM3, tolLift = 2, 0.05, 0.01
	sp, was := &m.cfg.Brine, &s.Felt
	rho := brine.Density(sp, &s.Tank)
	now := Felt{
		Pa: float64(float64(rho*unit.Gravity) * brine.LevelM(sp, &s.Tank)), RhoKgM3: rho,
		Lift: brine.AirCheckLift(sp, &s.Tank), Seated: s.Tank.AirCheckSeated, FloatShut: s.Tank.FloatShut,
	}
	if now.Seated != was.Seated || now.FloatShut != was.FloatShut || math.Abs(now.Pa-was.Pa) > tolPa ||
		math.Abs(rho-was.RhoKgM3) > tolKgM3 || math.Abs(now.Lift-was.Lift) > tolLift {
		s.Felt = now
	}
}
