// Package outfit knows which parts fit which resin tank: sets that go together,
// as data in trade units, and what is wrong with parts that do not.
package outfit

import (
	"math"

	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Tank is a resin tank with its bed; its sizes are those inside, the height that
// of the straight side.
type Tank struct {
	TankDiameterIn float64
	TankHeightIn   float64
	ResinFt3       float64 // settled
	RiserBoreMM    float64
}

// Injector is told by its two diameters.
type Injector struct {
	NozzleMM float64
	ThroatMM float64 // wider than the nozzle
}

// Parts are what is put on a tank. All sizes are above 0.
type Parts struct {
	Injector
	DrainControlGPM  float64
	RefillControlGPM float64
	BrineTankIn      float64 // diameter
	BrineTankHighIn  float64
	AirCheckIn       float64 // height at which it seats, above the floor
	FloatIn          float64 // level at which it shuts
	BrineBoreIn      float64 // bore of the brine line
	ProgramID        string  // see valve.ProgramNamed
}

// Upflow are the parts that differ where brine enters below the bed.
type Upflow struct {
	UpflowInjector         Injector
	UpflowRefillControlGPM float64
}

// Set is a tank with parts that fit it.
type Set struct {
	ID   string
	Name string
	Tank
	Parts
	Upflow
	SaltLb     [3]float64 // usual doses, low, middle and high: 6, 10 and 15 lb/ft³; upflow brining is for the first two
	ServiceGPM float64    // rated service flow
}

// sets are in the order of size. Common practice, no source: tanks, resin, brine
// tanks, risers and service flow. The drain control gives 5 gpm/ft². At 55 psi the
// injector rinses with 0.25 to 0.3 gpm/ft³ and sends 12 to 13 % of salt into the
// tank, which the water above the bed thins to about 10; that for upflow brining
// is so small that the bed hardly lifts. A refill control passes less than the
// throat that the refill has to come back through.
var sets = []Set{
	{
		"tank-8-in", "8 in tank, ¾ ft³",
		Tank{8, 44, 0.75, 27},
		Parts{Injector{0.78, 1.5}, 1.7, 0.3, 18, 33, 2, 13, 0.25, "standard"},
		Upflow{Injector{0.6, 1.15}, 0.18},
		[3]float64{4.5, 7.5, 11.25},
		4,
	},
	{
		"tank-9-in", "9 in tank, 1 ft³",
		Tank{9, 48, 1, 27},
		Parts{Injector{0.9, 1.7}, 2.2, 0.4, 18, 33, 2, 14, 0.25, "standard"},
		Upflow{Injector{0.7, 1.3}, 0.22},
		[3]float64{6, 10, 15},
		5,
	},
	{
		"tank-10-in", "10 in tank, 1½ ft³",
		Tank{10, 54, 1.5, 27},
		Parts{Injector{1.1, 2.1}, 2.7, 0.5, 18, 36, 2, 20, 0.25, "standard"},
		Upflow{Injector{0.8, 1.5}, 0.3},
		[3]float64{9, 15, 22.5},
		7,
	},
	{
		"tank-12-in", "12 in tank, 2 ft³",
		Tank{12, 52, 2, 27},
		Parts{Injector{1.2, 2.3}, 3.9, 0.65, 24, 40, 2, 20, 0.375, "standard"},
		Upflow{Injector{0.95, 1.8}, 0.42},
		[3]float64{12, 20, 30},
		9,
	},
	{
		"tank-13-in", "13 in tank, 2½ ft³",
		Tank{13, 54, 2.5, 32},
		Parts{Injector{1.35, 2.6}, 4.6, 0.8, 24, 42, 2, 22, 0.375, "double-refill"},
		Upflow{Injector{1.05, 2}, 0.5},
		[3]float64{15, 25, 37.5},
		10,
	},
	{
		"tank-14-in", "14 in tank, 3½ ft³",
		Tank{14, 65, 3.5, 32},
		Parts{Injector{1.6, 3.1}, 5.3, 0.9, 24, 50, 2, 28, 0.375, "double-refill"},
		Upflow{Injector{1.1, 2.1}, 0.58},
		[3]float64{21, 35, 52.5},
		12,
	},
}

// All returns the sets in the order of size, copies of the caller's own.
func All() []Set { return append([]Set(nil), sets...) }

// Named returns the set of that id.
func Named(id string) (Set, bool) {
	for i := range sets {
		if sets[i].ID == id {
			return sets[i], true
		}
	}
	return Set{}, false
}

// PartsFor returns the parts of the set to run a program with, whose plumbing
// decides between its injectors.
func (s *Set) PartsFor(p *valve.Program) Parts {
	parts := s.Parts
	parts.ProgramID = p.ID
	if p.InjectorDischargesBelow {
		parts.Injector, parts.RefillControlGPM = s.UpflowInjector, s.UpflowRefillControlGPM
	}
	return parts
}

// AreaM2 returns the cross-section of the tank, m².
func (t *Tank) AreaM2() float64 {
	d := float64(t.TankDiameterIn * unit.Inch)
	return float64(math.Pi / 4 * float64(d*d))
}

// BedDepthM returns the settled depth of the bed, m.
func (t *Tank) BedDepthM() float64 { return float64(t.ResinFt3*unit.CubicFoot) / t.AreaM2() }

// Freeboard returns the free height above the bed as a part of the bed's depth.
func (t *Tank) Freeboard() float64 { return float64(t.TankHeightIn*unit.Inch)/t.BedDepthM() - 1 }
