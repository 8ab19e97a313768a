package sim

import (
	"brinebench/sim/plant"
	"brinebench/sim/valve"
)

// The eight seats (see valve.Seat).
const (
	SeatInlet    = valve.Inlet
	SeatOutlet   = valve.Outlet
	SeatPass     = valve.Pass
	SeatUpflow   = valve.Upflow
	SeatBackwash = valve.Backwash
	SeatRinse    = valve.Rinse
	SeatMotive   = valve.Motive
	SeatBrine    = valve.Brine
	NumSeats     = valve.NumSeats
)

// SeatRow lists the seats as they stand along the cam drum, from the free end to the motor.
var SeatRow = [NumSeats]Seat{
	SeatBackwash, SeatRinse, SeatOutlet, SeatPass, SeatUpflow, SeatInlet, SeatMotive, SeatBrine,
}

// The passages (see plant.Path).
const (
	PathInletSeat    = plant.InletSeat
	PathOutletSeat   = plant.OutletSeat
	PathPassSeat     = plant.PassSeat
	PathUpflowSeat   = plant.UpflowSeat
	PathBackwashSeat = plant.BackwashSeat
	PathRinseSeat    = plant.RinseSeat
	PathMotiveSeat   = plant.MotiveSeat
	PathBrineSeat    = plant.BrineSeat
	PathSupply       = plant.Supply
	PathBypassIn     = plant.BypassIn
	PathBypassOut    = plant.BypassOut
	PathBypassCross  = plant.BypassCross
	PathHouse        = plant.House
	PathRawTap       = plant.RawTap
	PathBed          = plant.Bed
	PathRiser        = plant.Riser
	PathDischarge    = plant.Discharge
	PathDrain        = plant.Drain
	PathBrineLine    = plant.BrineLine
	NumPaths         = plant.NumPaths
)

// The nodes (see plant.Node).
const (
	NodeStreet        = plant.Street
	NodeSupplySide    = plant.SupplySide
	NodeValveIn       = plant.ValveIn
	NodeValveOut      = plant.ValveOut
	NodeHouseSide     = plant.HouseSide
	NodeBedTop        = plant.BedTop
	NodeBedBottom     = plant.BedBottom
	NodeRiserTop      = plant.RiserTop
	NodeDrainManifold = plant.DrainManifold
	NodeDrainLine     = plant.DrainLine
	NodeScreen        = plant.Screen
	NodeNozzleIn      = plant.NozzleIn
	NodeThroat        = plant.Throat
	NodeSuction       = plant.Suction
	NodeValveBrine    = plant.ValveBrine
	NodeBrinePickup   = plant.BrinePickup
	NumNodes          = plant.NumNodes
)

// The parts (see plant.Part).
const (
	PartSupply     = plant.PartSupply
	PartShutOff    = plant.PartShutOff
	PartBypass     = plant.PartBypass
	PartRawTap     = plant.PartRawTap
	PartHouseTap   = plant.PartHouseTap
	PartValve      = plant.PartValve
	PartDrum       = plant.PartDrum
	PartMotor      = plant.PartMotor
	PartController = plant.PartController
	PartPlugIn     = plant.PartPlugIn
	PartMeter      = plant.PartMeter
	PartHouse      = plant.PartHouse
	PartSeats      = plant.PartSeats
	PartInjector   = plant.PartInjector
	PartScreen     = plant.PartScreen
	PartDrainCtl   = plant.PartDrainCtl
	PartDrainLine  = plant.PartDrainLine
	PartAirGap     = plant.PartAirGap
	PartRefillCtl  = plant.PartRefillCtl
	PartBrineLine  = plant.PartBrineLine
	PartAirCheck   = plant.PartAirCheck
	PartFloat      = plant.PartFloat
	PartBrineTank  = plant.PartBrineTank
	PartSalt       = plant.PartSalt
	PartBed        = plant.PartBed
	PartRiser      = plant.PartRiser
	PartUpperDist  = plant.PartUpperDist
	PartLowerDist  = plant.PartLowerDist
)
