package plant

import (
	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/household"
	"brinebench/sim/resin"
	"brinebench/sim/site"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// Config is everything that is fixed about one installation, in SI. The
// scenario package makes it from a file in trade units.
type Config struct {
	Feed water.Ions // mol/m³ of the raw water, before any change
	Site site.Spec  // its temperature, iron and changes; weather

	SupplyPa      float64 // static pressure at the street connection, Pa gauge
	SupplyLossB   float64 // loss of main and service pipe, Pa/(m³/s)²
	DrainRiseM    float64 // height of the drain line's end above the valve, m
	DrainLengthM  float64 // length of the drain line, m
	DrainBoreM    float64 // bore of the drain line, m
	HouseRiseM    float64 // height of the taps above the valve, m
	BlendCv       float64 // Cv of a blending bypass in its service position, 0 for none
	BrineLiftM    float64 // height of the injector above the brine tank's floor, m
	BrineLengthM  float64 // length of the brine line, m
	BrineBoreM    float64 // bore of the brine line, m
	TankDiameterM float64 // resin tank, inside
	TankHeightM   float64 // resin tank, straight side
	RiserBoreM    float64 // bore of the riser tube, m

	Bed       resin.Spec
	NozzleM   float64 // injector nozzle diameter, m
	ThroatM   float64 // injector throat diameter, m
	DrainM3S  float64 // rated flow of the drain flow control, m³/s
	RefillM3S float64 // rated flow of the refill flow control, m³/s

	Brine    brine.Spec
	SaltKg   float64 // salt in the brine tank at the start, when Condition.SaltLeft is 1
	BrineM   float64 // liquid level in the brine tank at the start, m
	Program  valve.Program
	Control  control.Settings
	Calendar control.State // where clock, day and drum stand at the start
	House    household.Spec
}
