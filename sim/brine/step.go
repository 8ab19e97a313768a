package brine

import (
	"math"

	"brinebench/sim/water"
)

const (
	freesAt    = 0.3  // of the ball's full rise: how far the level must rise above the seat to float it off
	floatDropM = 0.01 // the float opens when the level has fallen this far below where it shut, m
)

// Inputs are what happens to the tank during a step.
type Inputs struct {
	InM3      float64    // refill in, m³, ≥ 0
	In        water.Ions // its composition, mol/m³
	RainM3    float64    // water that runs in from outside, free of ions, m³, ≥ 0
	CrackM3   float64    // liquid that runs out of a crack, m³, ≥ 0
	OutM3     float64    // liquid drawn out at the composition that the tank had before the step, m³, ≥ 0
	Bridge    float64    // fraction of the undissolved salt that hangs, 0..1; a change of it makes or breaks a bridge
	FloatLowM float64    // how far the float sits below its height, m
}

// Flows is the ledger of one step: the tank gains In, Rain and Dissolved, and loses Out and Spill.
type Flows struct {
	WaterInKg, WaterOutKg, WaterSpillKg float64    // kg
	In, Out, Spill                      water.Ions // mol
	OutM3                               float64    // drawn, m³; less than asked only when the tank ran dry
	RainKg                              float64    // water from outside, kg
	SpillM3                             float64    // run over the wall or out of a crack, m³
	DissolvedMol                        float64    // NaCl that went from solid into solution, mol
}

// Step advances the tank by dt seconds, any length: dissolution is implicit.
// The float and the air check only report; shutting the flow is for who drives it.
func Step(sp *Spec, s *State, dt float64, in Inputs) (f Flows) {
	if in.Bridge != s.Bridge {
		s.Bridge = in.Bridge
		s.HangingMol = float64(s.SolidMol * in.Bridge)
	}
	f.OutM3, f.WaterOutKg, f.Out = withdraw(sp, s, in.OutM3)
	f.In = in.In.Scale(in.InM3)
	f.WaterInKg = float64(in.InM3 * WaterPerM3(sp.TempC, in.In))
	s.Dissolved = s.Dissolved.Plus(1, f.In)
	f.RainKg = float64(in.RainM3 * WaterPerM3(sp.TempC, water.Ions{}))
	s.WaterKg += f.WaterInKg + f.RainKg

	f.DissolvedMol = dissolve(sp, s, dt)
	over := math.Max(0, VolumeM3(sp, s)-volumeTo(sp, s, sp.HeightM))
	if lost := over + in.CrackM3; lost > 0 {
		f.SpillM3, f.WaterSpillKg, f.Spill = withdraw(sp, s, lost)
	}
	latch(sp, s, in.FloatLowM)
	return f
}

// dregsM3 is what cannot be drawn off: a damp floor.
const dregsM3 = 1e-7

// withdraw takes m3 of liquid, or all there is.
func withdraw(sp *Spec, s *State, m3 float64) (gotM3, waterKg float64, ions water.Ions) {
	v := VolumeM3(sp, s)
	if m3 <= 0 || v <= dregsM3 {
		return 0, 0, water.Ions{}
	}
	gotM3 = math.Min(m3, v)
	part := gotM3 / v
	waterKg, ions = float64(s.WaterKg*part), s.Dissolved.Scale(part)
	s.WaterKg -= waterKg
	s.Dissolved = s.Dissolved.Plus(-1, ions)
	return gotM3, waterKg, ions
}

// Bail takes out the liquid above levelM by hand, at once, and returns its water, kg, and
// ions, mol.
func Bail(sp *Spec, s *State, levelM, floatLowM float64) (waterKg float64, out water.Ions) {
	_, waterKg, out = withdraw(sp, s, VolumeM3(sp, s)-volumeTo(sp, s, levelM))
	latch(sp, s, floatLowM)
	return waterKg, out
}

// dissolve brings the liquid toward saturation: first order in what is lacking,
// backward Euler, no more than the salt that it wets. What hangs dry drips.
func dissolve(sp *Spec, s *State, dt float64) (mol float64) {
	loose, hanging := wetted(sp, s)
	wet := loose + hanging
	sat := saturatedMol(sp, s)
	if wet > 0 {
		mol = math.Min(wet, approach(sat-s.Dissolved.Anion(), dt, sp.TauS))
		s.HangingMol = math.Max(0, s.HangingMol-float64(mol*hanging/wet))
	}
	pile := SaltPile(sp, s)
	dry := float64(s.HangingMol * (1 - under(LevelM(sp, s), pile.BottomM, pile.TopM)))
	drip := math.Min(dry, approach(float64(sp.BridgeLimit*sat)-s.Dissolved.Anion()-mol, dt, sp.BridgeTauS))
	s.HangingMol -= drip
	mol += drip
	s.SolidMol -= mol
	s.Dissolved[water.Na] += mol
	return mol
}

// approach returns how much of what is lacking is made up in dt, with time constant tau.
func approach(lacking, dt, tau float64) float64 {
	return math.Max(0, lacking) * dt / (tau + dt)
}

// latch moves the air check's ball and the float to the new level.
func latch(sp *Spec, s *State, floatLowM float64) {
	level := LevelM(sp, s)
	switch {
	case level <= sp.AirCheckM:
		s.AirCheckSeated = true
	case level >= sp.AirCheckM+float64(freesAt*sp.AirCheckRise):
		s.AirCheckSeated = false
	}
	switch shut := sp.FloatM - floatLowM; {
	case level >= shut:
		s.FloatShut = true
	case level < shut-floatDropM:
		s.FloatShut = false
	}
}

// AirCheckLift returns the lift of the air check's ball, 0 seated .. 1 free. It
// falls with the level to the seat; a seated ball stays until the level has
// risen clear of it. (Refill pushes it off its seat from below all the same.)
func AirCheckLift(sp *Spec, s *State) float64 {
	if s.AirCheckSeated {
		return 0
	}
	return under(LevelM(sp, s), sp.AirCheckM, sp.AirCheckM+sp.AirCheckRise)
}
