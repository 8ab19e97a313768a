package sim

import (
	"brinebench/sim/plant"
	"brinebench/sim/resin"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// The enumerations of the engine that a picture needs, lifted into the façade.
type (
	Seat = valve.Seat
	Path = plant.Path
	Node = plant.Node
	Part = plant.Part
)

// BedCells is the number of cells the view reports for the resin bed, BedLayers that of
// the layers of the water above it.
const (
	BedCells  = resin.Cells
	BedLayers = resin.Layers
)

// GPM is a US gallon per minute, m³/s.
const GPM = unit.GPM

// MolarMassNaCl is the molar mass of salt, kg/mol.
const MolarMassNaCl = water.MolarMassNaCl

// Water says what the water in a passage carries.
type Water struct {
	HardnessMolM3 float64 // calcium + magnesium, mol/m³
	SaltMolM3     float64 // total anion as NaCl equivalent, mol/m³ (saturated brine is about 5,400)
	Air           float64 // volume fraction of air, 0..1
}

// PathView is one passage at one moment.
type PathView struct {
	FlowM3S float64 // m³/s, positive in the path's own direction (plant.Path)
	Water   Water   // what flows in it, or stands in it when the flow is nil
}

// ControllerView is what the control head shows.
type ControllerView struct {
	ClockS       float64 // time of day the controller shows, s since midnight
	Powered      bool    // plugged in
	Regenerating bool
	Moving       bool    // motor is driving the drum
	Station      int     // index into Setup.Stations: present, or the one being driven to while Moving
	ElapsedS     float64 // time in the present station, s
	DrawUnderWay bool    // it has brine draw run for so long that a unit that draws shows it
	RemainingS   float64 // time left in it by the program, s; 0 in service
	DaysToRegen  int     // whole days until the next automatic regeneration; -1 when none is due
	Alarm        bool    // it gave up looking for the drum's position; it regenerates no more
	Demand       bool    // it regenerates by the water used
	RemainingM3  float64 // demand: water that it believes the bed can still soften, reserve included, m³
	CapacityM3   float64 // demand: the same of a fresh bed, m³
}

// Face is what a person sees of power and time on the controller's face.
type Face struct {
	Powered   bool // it has current: plugged in, and the house has power; its display is dark without
	ClockLost bool // a power cut outlasted its clock, and nobody has set it since: it blinks once it is Powered
}

// BedView is the resin bed, cells from top to bottom, mean of the parallel paths.
type BedView struct {
	Load         [BedCells]float64 // fraction of the resin's sites held by hardness, 0..1
	Hardness     [BedCells]float64 // Ca+Mg in the cell's water, mol/m³
	Salt         [BedCells]float64 // anion in the cell's water, mol/m³
	DepthM       float64           // present depth of the bed, m (grows when it lifts)
	RestDepthM   float64           // settled depth, m
	Freeboard    [BedLayers]Water  // the water above the bed, in layers of equal volume from the top
	Plenum       Water             // the water below the bed
	VelocityMS   float64           // superficial velocity, m/s, down positive
	LossPa       float64           // pressure loss over the bed, top to bottom, Pa
	Fluidised    bool
	RemainingCap float64 // exchange capacity left, fraction of total sites not held by hardness
}

// TankView is the brine tank.
type TankView struct {
	LevelM         float64 // liquid level above the floor, m
	SaltTopM       float64 // top of the salt, m above the floor
	SaltBottomM    float64 // underside of a hanging salt bridge, m above the floor; 0 when salt stands on the floor
	LooseSaltTopM  float64 // top of the salt standing on the floor, m
	BrineFraction  float64 // NaCl by mass in the liquid, 0..0.27
	Saturation     float64 // the same relative to saturation, 0..1
	FloatM         float64 // height of the safety float, m
	FloatShut      bool
	AirCheckSeated bool
	AirCheckLift   float64 // 0 seated .. 1 free
}

// Condition is the state of wear of every part (see plant.Condition).
type Condition = plant.Condition

// View is everything a picture or a panel may show of the unit at one moment,
// in SI, copied out of the engine. Nothing in it points into the engine.
type View struct {
	Tick         int64   // ticks since the call was opened (TickS seconds each)
	TimeS        float64 // seconds since the call was opened
	Controller   ControllerView
	Face         Face
	DrumDeg      float64                 // angle of the cam drum, degrees, 0 ≤ a < 360, service at 0
	SeatLift     [valve.NumSeats]float64 // 0 shut .. 1 fully open
	Paths        [plant.NumPaths]PathView
	TankHead     Water                   // the water at the valve's port to the top of the tank, where streams join
	RiserHead    Water                   // the same over the head of the riser, where what leaks past its seal joins
	PressurePa   [plant.NumNodes]float64 // gauge pressure
	Bed          BedView
	Tank         TankView
	Bypass       string    // "service", "bypass" or "shut"
	BypassAjar   float64   // how far its handle stops short of service, 0..1: it is seen by everybody
	ShutOff      bool      // true when the supply shut-off is closed
	HouseTap     float64   // how far the trainee's house test tap is open, 0..1
	RawTap       float64   // the same for the raw-water sample tap
	Opened       []Part    // parts that are dismantled now; backing array reused between calls
	Dry, Emptied bool      // no water has been let in since the valve was off, or the tank was emptied
	Condition    Condition // for enlarged sections: of opened parts only, or of all where it is Bared
	Bared        bool      // nobody has to open a part to see how it is: no call is under way
	DrainStream  float64   // flow into the air gap, m³/s
	MeterM3S     float64   // flow that turns the meter, m³/s: none through a jammed one
	HouseDrawM3S float64   // what the household itself is drawing now, m³/s
	HouseSetM3S  float64   // what all taps of the house are set to draw, the test tap too, m³/s at household.ReferencePa
}
