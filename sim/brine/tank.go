// Package brine models the brine tank: salt, the brine under it, the air check
// at the foot of the well and the safety float.
//
// The liquid is one well-mixed volume. Salt stands on the floor as a pile with
// liquid in its voids; a bridge is salt that hangs above the liquid and leaves
// a hollow below.
package brine

import (
	"fmt"
	"math"

	"brinebench/sim/water"
)

// Spec is what does not change of a brine tank.
type Spec struct {
	AreaM2       float64 // plan area inside, m²
	HeightM      float64 // height of the wall, m; liquid above it spills
	AirCheckM    float64 // level at which the air check seats, m above the floor
	AirCheckRise float64 // rise of level from the seat to the ball's full lift, m
	FloatM       float64 // level at which the safety float shuts the refill, m
	BridgeM      float64 // height at which the underside of a salt bridge hangs, m
	SaltVoid     float64 // void fraction of the pile, 0..1
	SaltBulkKgM3 float64 // bulk density of the pile, kg/m³
	TauS         float64 // time constant of dissolution of wetted salt, s
	BridgeTauS   float64 // time constant of the drip from a bridge, s
	BridgeLimit  float64 // part of saturation that the drip alone can reach, 0..1
	TempC        float64 // temperature of salt and liquid, °C, 0..50
}

// State is the present state of the tank: plain data, written by New, Step, AddSalt and Bail only.
type State struct {
	WaterKg        float64    // water in the liquid, kg
	Dissolved      water.Ions // dissolved cations, mol (chloride follows)
	SolidMol       float64    // undissolved NaCl, hanging salt included, mol
	HangingMol     float64    // the part of SolidMol in a bridge, mol
	Bridge         float64    // bridge fraction that HangingMol was last set by, 0..1
	AirCheckSeated bool       // the ball is on its seat
	FloatShut      bool       // the float holds the refill shut
}

// Standard returns the tank of an 18 in × 33 in cabinet. Pellets weigh about
// 1,150 kg/m³ loose over 2,165 kg/m³ solid; that, the heights and the time
// constants are common practice or from memory, no source.
func Standard() Spec {
	return Spec{
		AreaM2: 0.164, HeightM: 0.84,
		AirCheckM: 0.05, AirCheckRise: 0.03, FloatM: 0.45, BridgeM: 0.47,
		SaltVoid: 0.47, SaltBulkKgM3: 1150,
		TauS: 900, BridgeTauS: 6 * 3600, BridgeLimit: 0.2,
		TempC: 15,
	}
}

// Validate returns every fault of the spec, each naming its field.
func (sp *Spec) Validate() []error {
	var errs []error
	check := func(field string, v, lo, hi float64) {
		if !(v >= lo && v <= hi) {
			errs = append(errs, fmt.Errorf("%s: %v is outside %v to %v", field, v, lo, hi))
		}
	}
	check("area_m2", sp.AreaM2, 0.01, 10)
	check("height_m", sp.HeightM, 0.1, 5)
	check("air_check_m", sp.AirCheckM, 0, sp.HeightM)
	check("air_check_rise_m", sp.AirCheckRise, 0.001, 0.5)
	check("float_m", sp.FloatM, sp.AirCheckM, sp.HeightM)
	check("bridge_m", sp.BridgeM, 0, sp.HeightM)
	check("salt_void", sp.SaltVoid, 0.05, 0.95)
	check("salt_bulk_kg_m3", sp.SaltBulkKgM3, 100, 2165)
	check("tau_s", sp.TauS, 1, 1e6)
	check("bridge_tau_s", sp.BridgeTauS, 1, 1e7)
	check("bridge_limit", sp.BridgeLimit, 0, 1)
	check("temp_c", sp.TempC, 0, 50)
	return errs
}

// New returns a tank with saltKg of undissolved salt standing on the floor, in
// saturated brine up to levelM.
func New(sp *Spec, saltKg, levelM float64) State {
	s := State{SolidMol: saltKg / naclKg}
	w := water.Solubility(sp.TempC)
	mass := float64(volumeTo(sp, &s, levelM) * water.BrineDensity(sp.TempC, w))
	s.WaterKg = mass * (1 - w)
	s.Dissolved[water.Na] = float64(mass*w) / naclKg
	s.AirCheckSeated = levelM <= sp.AirCheckM
	s.FloatShut = levelM >= sp.FloatM
	return s
}

// AddSalt pours in salt, kg, as much of it as the tank has room for, and returns
// that. It lies on top of a bridge where there is one.
func AddSalt(sp *Spec, s *State, kg float64) float64 {
	pile := SaltPile(sp, s)
	room := math.Max(0, sp.HeightM-pile.TopM) * sp.AreaM2 * sp.SaltBulkKgM3
	kg = math.Min(kg, room)
	s.SolidMol += kg / naclKg
	if s.HangingMol > 0 {
		s.HangingMol += kg / naclKg
	}
	return kg
}

// SaltKg returns the undissolved salt, kg.
func SaltKg(s *State) float64 { return float64(s.SolidMol * naclKg) }
