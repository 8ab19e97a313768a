package plant

// Path names a passage that water can take. Flow is positive in the direction
// the comment gives.
type Path int

// The passages of the unit. The first eight are the valve's seats, in the order
// of valve.Seat, so that Path(seat) is the passage through that seat.
const (
	InletSeat    Path = iota // valve inlet → bed top
	OutletSeat               // riser top → valve outlet
	PassSeat                 // valve inlet → valve outlet
	UpflowSeat               // valve inlet → riser top
	BackwashSeat             // bed top → drain manifold
	RinseSeat                // riser top → drain manifold
	MotiveSeat               // valve inlet → injector nozzle (through the screen)
	BrineSeat                // brine line → injector suction
	Supply                   // street → bypass
	BypassIn                 // bypass → valve inlet
	BypassOut                // valve outlet → bypass
	BypassCross              // bypass supply side → bypass house side
	House                    // bypass → house taps
	RawTap                   // sample tap on the supply side → sink
	Bed                      // bed top → bed bottom (down is positive)
	Riser                    // bed bottom → riser top
	Discharge                // injector throat → bed top
	Drain                    // drain manifold → drain line → air gap
	BrineLine                // brine tank → brine seat (draw is positive, refill negative)
	NumPaths
)

// Node names a place where the model has a pressure.
type Node int

// The nodes.
const (
	Street        Node = iota // mains, fixed
	SupplySide                // after the shut-off, before the bypass
	ValveIn                   // control valve inlet port
	ValveOut                  // control valve outlet port
	HouseSide                 // house pipe after the bypass
	BedTop                    // freeboard above the bed
	BedBottom                 // plenum below the bed
	RiserTop                  // top of the riser tube, in the valve
	DrainManifold             // common drain passage in the valve, before the drain flow control
	DrainLine                 // drain line after the drain flow control
	Screen                    // after the motive seat, before the injector screen
	NozzleIn                  // after the injector screen, before the nozzle
	Throat                    // throat entry of the injector
	Suction                   // suction port of the injector
	ValveBrine                // brine port of the valve, outside the brine seat
	BrinePickup               // foot of the brine line in the tank, above the air check
	NumNodes
)

// Part names a piece of the unit that a technician can point at, test, open,
// clean or replace.
type Part string

// The parts.
const (
	PartSupply     Part = "supply"
	PartShutOff    Part = "shut-off"
	PartBypass     Part = "bypass"
	PartRawTap     Part = "raw-tap"
	PartHouseTap   Part = "house-tap"
	PartValve      Part = "valve"
	PartDrum       Part = "cam-drum"
	PartMotor      Part = "motor"
	PartController Part = "controller"
	PartPlugIn     Part = "plug-in-supply"
	PartMeter      Part = "meter"
	PartHouse      Part = "house"
	PartSeats      Part = "seats"
	PartInjector   Part = "injector"
	PartScreen     Part = "injector-screen"
	PartDrainCtl   Part = "drain-control"
	PartDrainLine  Part = "drain-line"
	PartAirGap     Part = "air-gap"
	PartRefillCtl  Part = "refill-control"
	PartBrineLine  Part = "brine-line"
	PartAirCheck   Part = "air-check"
	PartFloat      Part = "float"
	PartBrineTank  Part = "brine-tank"
	PartSalt       Part = "salt"
	PartBed        Part = "bed"
	PartRiser      Part = "riser"
	PartUpperDist  Part = "upper-distributor"
	PartLowerDist  Part = "lower-distributor"
)
