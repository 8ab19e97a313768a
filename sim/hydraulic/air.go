package hydraulic

import (
	"math"

	"brinebench/sim/repro"
)

const (
	airGasJKgK   = 287.05 // J/(kg·K), dry air, ISO 2533
	zeroCelsiusK = 273.15
	criticalPart = 0.528 // least pressure behind a throttle, as part of that before it, that makes more air flow
	littleAir    = 1e-9  // void fraction that counts as none
)

// Phase tells what a passage carries.
type Phase uint8

// The phases.
const (
	Liquid Phase = iota
	Mixture
	Air
)

// String returns the phase as a report writes it.
func (p Phase) String() string { return [...]string{"liquid", "mixture", "air"}[p] }

// AirKgM3 returns the density of air at a gauge pressure above −AtmospherePa.
func AirKgM3(pa, celsius float64) float64 {
	return (pa + AtmospherePa) / (airGasJKgK * (celsius + zeroCelsiusK))
}

// Stream is what flows past one place: a liquid and air, of one speed, each as
// volume at the pressure of the place, not negative.
type Stream struct {
	LiquidM3S, AirM3S   float64
	LiquidKgM3, AirKgM3 float64
}

// Void returns the part of the volume that is air, 0 at rest.
func (s Stream) Void() float64 {
	total := s.LiquidM3S + s.AirM3S
	if total <= 0 {
		return 0
	}
	return s.AirM3S / total
}

// Phase returns what the stream is.
func (s Stream) Phase() Phase {
	switch void := s.Void(); {
	case void <= littleAir:
		return Liquid
	case void >= 1-littleAir:
		return Air
	}
	return Mixture
}

// KgM3 returns the density of the mixture, that of the liquid at rest.
func (s Stream) KgM3() float64 {
	void := s.Void()
	return float64((1-void)*s.LiquidKgM3) + float64(void*s.AirKgM3)
}

// At returns the stream where the pressure is another, the air at the same
// temperature as the liquid around it. Gauge pressures above −AtmospherePa.
func (s Stream) At(fromPa, toPa float64) Stream {
	part := (fromPa + AtmospherePa) / (toPa + AtmospherePa)
	s.AirM3S *= part
	s.AirKgM3 /= part
	return s
}

// Join returns two streams together, both at the pressure of the place.
func (s Stream) Join(o Stream) Stream {
	liquid, air := s.LiquidM3S+o.LiquidM3S, s.AirM3S+o.AirM3S
	if liquid > 0 {
		s.LiquidKgM3 = (float64(s.LiquidM3S*s.LiquidKgM3) + float64(o.LiquidM3S*o.LiquidKgM3)) / liquid
	}
	if s.AirM3S <= 0 {
		s.AirKgM3 = o.AirKgM3
	}
	s.LiquidM3S, s.AirM3S = liquid, air
	return s
}

// Carrying returns a quadratic law, or one with such parts, for a stream in place
// of a liquid of density rhoKgM3: its inertial losses follow the density, and so
// does RisePa, the column in the passage.
func (l Law) Carrying(s Stream, rhoKgM3 float64) Law {
	part := s.KgM3() / rhoKgM3
	l.B *= part
	l.BR *= part
	l.RisePa *= part
	return l
}

// LeakLaw returns the law of a leak from the air (at 0 Pa, From) into a suction
// line: in passes air, out passes liquid. The area is that of a hole of diameterM
// with discharge coefficient cd, both above 0.
func LeakLaw(cd, diameterM, liquidKgM3, airKgM3 float64) Law {
	return Law{Kind: Check, B: OrificeB(cd, diameterM, airKgM3), BR: OrificeB(cd, diameterM, liquidKgM3)}
}

// Carrying returns the injector's coefficients when its suction carries a stream,
// given at the throat's pressure, and its nozzle motiveM3S of liquid of the
// injector's own density rhoKgM3: light fluid costs little in the annulus, brings
// little momentum, and makes the mixture in the throat lighter. The volumes are
// those at the throat: what air gives up in volume on the way to the drain is
// left out, which suits small parts of air; AirJet has it.
func (c Injector) Carrying(suction Stream, motiveM3S, rhoKgM3 float64) Injector {
	drawn := suction.KgM3() / rhoKgM3
	mixed := suction.Join(Stream{LiquidM3S: max(motiveM3S, 0), LiquidKgM3: rhoKgM3}).KgM3() / rhoKgM3
	c.SuctionB *= drawn
	c.SuctionGain *= drawn
	c.ThroatB *= mixed
	return c
}

// AirJet is a jet pump whose suction draws air alone, as past an air check that
// stands open over an empty well. One-dimensional, isothermal, homogeneous in the
// throat: Cunningham, J. Fluids Eng. 96 (1974) 203, from memory. The air's own
// momentum, small beside the jet's, is left out. Without air it is the pump of
// Injector.
type AirJet struct {
	Losses           JetLosses
	NozzleM, ThroatM float64 // diameters, m, NozzleM below ThroatM
	LiquidKgM3       float64
	Celsius          float64
	VapourPa         float64 // of the liquid, gauge
}

// AirDrawn is the working point of an AirJet.
type AirDrawn struct {
	ThroatPa  float64 // pressure at the throat's entry, gauge
	MotiveM3S float64 // liquid through the nozzle
	AirKgS    float64 // air drawn; 0 where the discharge presses liquid back
	Void      float64 // part of air in the throat's entry
	Phase     Phase   // of the suction: Air, or Liquid where it is pressed back
}

// Draw finds the working point between a motive pressure, air at sourcePa behind a
// passage that loses wayB·Q² of the pump's liquid, and a discharge pressure; gauge
// pressures, the motive above the discharge. What the throat regains rises with
// its own pressure, so that the point is bracketed between vapour pressure and
// that of the source.
func (j AirJet) Draw(motivePa, sourcePa, wayB, dischargePa float64) AirDrawn {
	low, high := max(j.VapourPa, 1-AtmospherePa), min(sourcePa, motivePa)
	short := func(pa float64) bool {
		d := j.at(pa, motivePa, sourcePa, wayB)
		return j.regained(d) < dischargePa
	}
	if short(high) { // not even without air: pressed back
		d := j.at(high, motivePa, high, wayB)
		d.Phase = Liquid
		return d
	}
	if !short(low) { // cavitates, the rest is lost
		return j.at(low, motivePa, sourcePa, wayB)
	}
	for range 60 {
		mid := (low + high) / 2
		if short(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return j.at(high, motivePa, sourcePa, wayB)
}

// at is the state with a given pressure at the throat's entry.
func (j AirJet) at(throatPa, motivePa, sourcePa, wayB float64) AirDrawn {
	c := JetPump(j.Losses, j.NozzleM, j.ThroatM, 1, 1, j.LiquidKgM3)
	d := AirDrawn{ThroatPa: throatPa, Phase: Air}
	d.MotiveM3S = math.Sqrt(max(motivePa-throatPa, 0) / c.NozzleB)
	// Isothermal flow through a quadratic loss: (P₁² − P₂²)/2RT = (B/ρ)·m².
	up := sourcePa + AtmospherePa
	down := max(throatPa+AtmospherePa, criticalPart*up)
	rt := airGasJKgK * (j.Celsius + zeroCelsiusK)
	d.AirKgS = math.Sqrt(max(float64(up*up)-float64(down*down), 0) / (2 * rt) * j.LiquidKgM3 / (wayB + c.SuctionB))
	volume := d.AirKgS / AirKgM3(throatPa, j.Celsius)
	d.Void = Stream{LiquidM3S: d.MotiveM3S, AirM3S: volume}.Void()
	return d
}

// regained is the discharge pressure that a state reaches, gauge: momentum over
// the mixing tube, then energy over the diffuser with the air's isothermal work.
func (j AirJet) regained(d AirDrawn) float64 {
	c := JetPump(j.Losses, j.NozzleM, j.ThroatM, 1, 1, j.LiquidKgM3)
	entry := d.ThroatPa + AtmospherePa
	air := d.AirKgS / AirKgM3(d.ThroatPa, j.Celsius)
	mass := float64(j.LiquidKgM3*d.MotiveM3S) + d.AirKgS
	area := math.Pi / 4 * j.ThroatM * j.ThroatM
	head := mass / (2 * area * area) // dynamic pressure of the throat per volume flow
	gained := entry + float64(c.NozzleGain*d.MotiveM3S*d.MotiveM3S)

	// End of the tube: P = gained − k·(Qm + Qa·Po/P).
	k := (2 + j.Losses.Throat) * head
	free := gained - float64(k*d.MotiveM3S)
	under := float64(free*free) - float64(4*k*air*entry)
	if free <= 0 || under < 0 { // more than the tube can pass
		return -AtmospherePa
	}
	end := (free + math.Sqrt(under)) / 2

	work := (1 - j.Losses.Diffuser - j.Losses.Outlet) * head * (d.MotiveM3S + air*entry/end)
	work *= d.MotiveM3S + air*entry/end
	// Qm·(P − end) + Qa·Po·ln(P/end) = work, concave in P: Newton from below.
	p := end
	for range 40 {
		miss := work - float64(d.MotiveM3S*(p-end)) - float64(air*entry*repro.Log(p/end))
		step := miss / (d.MotiveM3S + air*entry/p)
		p += step
		if math.Abs(step) <= 1e-9*p {
			break
		}
	}
	return p - AtmospherePa
}
