// Package brine models the brine tank: salt, the brine under it, the air check
// at the foot of the well and the safety float.
package brine

import "brinebench/sim/water"

// Spec is what does not change of a brine tank.
type Spec struct {
	AreaM2       float64 // plan area inside, m²
	HeightM      float64 // height of the wall, m
	AirCheckM    float64 // level at which the air check seats, m above the floor
	AirCheckLift float64 // rise of level from seating to the ball's full lift, m
	FloatM       float64 // level at which the safety float shuts the refill, m
	BridgeM      float64 // height at which the underside of a salt bridge hangs, m
	SaltVoid     float64 // void fraction of the pile, 0..1
	SaltBulkKgM3 float64 // bulk density of the pile, kg/m³
	TauS         float64 // time constant of dissolution of wetted salt, s
	BridgeTauS   float64 // time constant of the drip from a bridge, s
	BridgeLimit  float64 // fraction of saturation that the drip alone can reach, 0..1
	TempC        float64 // temperature of the tank, °C
}

// State is the present state of the tank: plain data, written by New, Step and AddSalt only.
type State struct {
	WaterKg        float64    // water in the liquid, kg
	Dissolved      water.Ions // dissolved cations, mol (chloride follows)
	SolidMol       float64    // undissolved NaCl, hanging salt included, mol
	HangingMol     float64    // the part of SolidMol in a bridge, mol
	Bridge         float64    // bridge fraction that HangingMol was set by, 0..1
	AirCheckSeated bool       // the ball is on its seat
	FloatShut      bool       // the float holds the refill shut
}

// Inputs are what happens to the tank during a step.
type Inputs struct {
	InM3      float64    // refill in, m³
	In        water.Ions // its composition, mol/m³
	OutM3     float64    // liquid drawn out at the tank's composition, m³
	Bridge    float64    // fraction of the undissolved salt that hangs, 0..1; a change makes or breaks a bridge
	FloatLowM float64    // how far the float sits below its height, m
}

// Flows is the ledger of one step.
type Flows struct {
	WaterInKg, WaterOutKg float64    // kg
	In, Out               water.Ions // mol
	OutM3                 float64    // drawn, m³; less than asked when the tank ran dry
	DissolvedMol          float64    // NaCl that went into solution, mol
}

// Standard returns a common tank.
func Standard() Spec { return Spec{} }

// New returns a tank with saltKg of salt standing in liquid up to levelM that is saturated.
func New(sp *Spec, saltKg, levelM float64) State { return State{} }

// Validate returns every fault of the spec, each naming its field.
func (sp *Spec) Validate() []error { return nil }

// Step advances the tank by dt seconds.
func Step(sp *Spec, s *State, dt float64, in Inputs) Flows { return Flows{} }

// AddSalt puts salt into the tank, kg; on top of a bridge where there is one.
func AddSalt(sp *Spec, s *State, kg float64) {}

// LevelM returns the liquid level above the floor, m.
func LevelM(sp *Spec, s *State) float64 { return 0 }

// VolumeM3 returns the volume of the liquid, m³.
func VolumeM3(sp *Spec, s *State) float64 { return 0 }

// MassFraction returns the salt in the liquid by mass, 0..0.27.
func MassFraction(s *State) float64 { return 0 }

// Saturation returns the strength of the liquid against saturation, 0..1.
func Saturation(sp *Spec, s *State) float64 { return 0 }

// Density returns the density of the liquid, kg/m³.
func Density(sp *Spec, s *State) float64 { return 0 }

// Composition returns the liquid's composition, mol/m³.
func Composition(sp *Spec, s *State) water.Ions { return water.Ions{} }

// Pile says where the salt is, m above the floor.
type Pile struct {
	LooseTopM float64 // top of the salt standing on the floor
	BottomM   float64 // underside of the hanging salt; 0 when none hangs
	TopM      float64 // top of all the salt
}

// SaltPile returns where the salt is.
func SaltPile(sp *Spec, s *State) Pile { return Pile{} }

// AirCheckLift returns the lift of the air check's ball, 0 seated .. 1 free.
func AirCheckLift(sp *Spec, s *State) float64 { return 0 }
