// Package resin models a bed of strong-acid cation exchange resin in a pressure
// tank: sodium, potassium, calcium and magnesium exchange between the water and
// the beads at finite rates while the water moves down or up through the bed. Iron
// fouls it, chlorine wears it, a backwash may carry its top away.
//
// A [Model] is constant; a [State] is plain data and copies by assignment.
package resin

import (
	"errors"
	"fmt"
)

// Cells is the number of cells along the bed, counted from the top. Paths is
// the number of parallel flow paths, each with an equal share of the bed. Layers is
// the number of layers of equal volume of the water above the bed, from the top.
const (
	Cells  = 40
	Paths  = 2
	Layers = 5
)

// Spec is the size of a bed and the properties of its resin.
type Spec struct {
	AreaM2       float64 // cross-section of the tank, m², > 0
	DepthM       float64 // settled depth of the bed, m, > 0
	CapacityEqM3 float64 // total exchange capacity, mol of charge per m³ of bed, > 0
	Void         float64 // share of the bed between the beads, 0..1 exclusive
	BeadM        float64 // bead diameter, m, > 0

	// Gaines–Thomas selectivity against sodium, on equivalent fractions in the
	// resin and concentrations in mol/L; > 0.
	KCa, KMg, KK float64

	ParticleDiffusivityM2S float64 // in the bead at 25 °C, m²/s, > 0
	LiquidDiffusivityM2S   float64 // in the water film at 25 °C, m²/s, > 0

	PathSpread  float64 // the paths run at 1 ± this times the mean velocity, 0 ≤ x < 1
	FreeboardM3 float64 // water above the bed, in layers, m³, > 0
	PlenumM3    float64 // stirred water below the bed, m³, > 0
}

// DefaultSpec returns a bed of standard 8 % gel cation resin of the given bed
// volume (m³) in a tank of the given cross-section (m²), with half the bed's
// volume of water above it and a twentieth below; set those two to the tank.
//
// Capacity (1.9 eq/L, common practice 1.9 to 2.1, no source), selectivity (the
// usual scale at 8 % cross-linking, from memory: selectivity.csv in
// testdata/reference/exchange; K = 2·1.9·ratio to sodium for Ca and Mg), bead,
// void and film diffusivity (from memory) were chosen within what is usual for
// such resin; the particle diffusivity is fitted to the trade's capacity rule.
// Fitted so: 1 ft³ in a 9 inch tank at 20 °C; 20 gpg, ⅔ calcium, 2 mmol/L
// sodium; 10 min of backwash at 5 gpm/ft² with remixing 0.05 1/s, 10 %
// brine at 0.5 gpm/ft³, 1.75 bed volumes of slow rinse at 0.3 and 1.5 of fast
// rinse at 2 gpm/ft³, all in feed water downwards; service at 2.5 gpm/ft³ to
// 1 gpg; repeated until periodic.
//
//	salt, lb/ft³                  6      10     15
//	capacity, kilograin/ft³       20.5   26.7   30.9   (rule: 20, 26, 30)
//	leakage half-way, gpg         0.28   0.086  0.032  (practice at 6 lb: 0.3)
//
// A lower diffusivity would come nearer, and leave a counter-current unit at 3 lb/ft³
// below the 4,000 grain to the pound that practice aims at.
func DefaultSpec(resinM3, areaM2 float64) Spec {
	return Spec{
		AreaM2:                 areaM2,
		DepthM:                 resinM3 / areaM2,
		CapacityEqM3:           1900,
		Void:                   0.38,
		BeadM:                  0.6e-3,
		KCa:                    9.9,
		KMg:                    6.3,
		KK:                     1.46,
		ParticleDiffusivityM2S: 2.0e-11,
		LiquidDiffusivityM2S:   1.2e-9,
		PathSpread:             0.1,
		FreeboardM3:            0.5 * resinM3,
		PlenumM3:               0.05 * resinM3,
	}
}

// check reports every field that is out of range.
func (sp Spec) check() error {
	var errs []error
	positive := func(name string, v float64) {
		if !(v > 0 && v < 1e12) {
			errs = append(errs, fmt.Errorf("resin: %s is %v, must be positive and finite", name, v))
		}
	}
	positive("AreaM2", sp.AreaM2)
	positive("DepthM", sp.DepthM)
	positive("CapacityEqM3", sp.CapacityEqM3)
	positive("BeadM", sp.BeadM)
	positive("KCa", sp.KCa)
	positive("KMg", sp.KMg)
	positive("KK", sp.KK)
	positive("ParticleDiffusivityM2S", sp.ParticleDiffusivityM2S)
	positive("LiquidDiffusivityM2S", sp.LiquidDiffusivityM2S)
	positive("FreeboardM3", sp.FreeboardM3)
	positive("PlenumM3", sp.PlenumM3)
	if !(sp.Void > 0 && sp.Void < 1) {
		errs = append(errs, fmt.Errorf("resin: Void is %v, must lie between 0 and 1", sp.Void))
	}
	if !(sp.PathSpread >= 0 && sp.PathSpread < 1) {
		errs = append(errs, fmt.Errorf("resin: PathSpread is %v, must be at least 0 and below 1", sp.PathSpread))
	}
	return errors.Join(errs...)
}
