package sim

import "brinebench/sim/valve"

// Station is one stop of the cam drum, as the program of this unit has it.
type Station struct {
	ID       string               // "service", "backwash", "brine", "fast-rinse", "refill"
	Name     string               // what people call it
	AngleDeg float64              // drum angle of the stop
	Seconds  float64              // programmed time there; 0 for service
	Open     [valve.NumSeats]bool // seats that the program opens there
}

// Setup is what does not change while a call is open: the size of the unit, its
// program, the words of the call and what the trainee can do. Lengths in m.
type Setup struct {
	CallID    string
	Title     string
	Customer  string // who called
	Complaint string // in the customer's words
	House     string // house and unit in a sentence or two
	Notes     []string

	TankDiameterM, TankHeightM            float64 // resin tank
	BedDepthM                             float64 // settled
	CounterCurrent                        bool    // the injector discharges below the bed, and brine leaves from above it
	ResinM3                               float64
	BrineTankDiameterM, BrineTankHeightM  float64
	AirCheckM, FloatM                     float64 // heights above the brine tank's floor
	NozzleMM, ThroatMM                    float64 // injector
	DrainControlGPM, RefillControlGPM     float64 // as printed on the parts
	FeedHardnessMolM3, SaturatedSaltMolM3 float64 // ends of the colour and stipple scales
	FeedTempC                             float64
	SupplyPa                              float64 // static supply pressure

	Stations []Station
	// Lobe tells for each seat at which drum angles its lobe opens it: lift
	// 0..1 sampled every 2°, starting at 0°.
	Lobe [valve.NumSeats][180]float64

	Instruments []InstrumentInfo
	Parts       []PartInfo
	Faults      []FaultInfo // candidates for the diagnosis, in catalogue order
	Topics      []Topic     // what the customer can be told
	Help        []HelpStep  // steps of help, to be taken in this order
	Lubricants  []string    // IDs, the right one first
	Conclusions []string    // IDs: a reading speaks for, against, or neither
	MaxCauses   int         // most causes that a verdict may name
}

// HelpStep is one step of help and what it costs.
type HelpStep struct {
	ID     string
	Points float64 // off the score
}

// InstrumentInfo describes one test that the trainee can make.
type InstrumentInfo struct {
	ID      string
	Name    string
	What    string  // what it tells, in a sentence
	Where   Part    // the part it is made at
	Needs   string  // what has to be so for it to tell something, "" nothing
	Minutes float64 // what it costs
}

// PartInfo describes one part and what can be done to it.
type PartInfo struct {
	ID       Part
	Name     string
	What     string // what it is for, in a sentence or two
	CanOpen  bool   // it can be taken out or opened and looked into
	CanClean bool
	CanSet   bool // it can be set, turned or moved right
	CanSwap  bool
	Seals    bool       // it has seals that want lubricating
	Price    float64    // of a new one
	SetPrice float64    // of what is fitted new when it is set right
	Minutes  [4]float64 // to open (and refit), to clean, to set, to replace
	Cautions []string
}

// FaultInfo is one entry of the catalogue the trainee names the cause from.
type FaultInfo struct {
	ID    string
	Name  string
	Where Part
}
