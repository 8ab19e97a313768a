package plant

import (
	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/resin"
	"brinebench/sim/water"
)

// BypassPos is the position of the bypass.
type BypassPos int

// The three positions of the bypass.
const (
	BypassService BypassPos = iota // water through the softener
	BypassBypass                   // water past the softener, untreated
	BypassShut                     // no water at all
)

// The sources that the water anywhere in the pipes can have come from.
const (
	fromRaw     = iota // street
	fromTop            // freeboard above the bed
	fromBottom         // plenum below the bed
	fromTank           // brine tank
	fromCushion        // what the walls give back when the pressure falls
	fromAir            // air that enters where the unit stands below the atmosphere
	numSources
)

// mix is the composition of water by source, volume fractions summing to 1.
type mix [numSources]float64

// The sinks that water ends in.
const (
	toTop     = iota // freeboard above the bed
	toBottom         // plenum below the bed
	toTank           // brine tank
	toCushion        // what the walls take up when the pressure rises
	toHouse          // house taps
	toDrain          // air gap
	toRawTap         // sample tap
	toStreet         // back into the main
	toFloor          // out of a hole in the brine line
	toVent           // air that gathers in the head of the tank
	numSinks
)

// State is all that changes in a plant. It is plain data; Clone copies it.
type State struct {
	TimeS float64 // simulated time since the start, s; Step writes it
	Cond  Condition

	Bypass     BypassPos // set by the operator
	ShutOff    bool      // supply shut-off closed; set by the operator
	HouseTap   float64   // opening of the test tap in the house, 0..1; set by the operator
	RawTap     float64   // opening of the raw-water sample tap, 0..1; set by the operator
	Powered    bool      // controller plugged in; set by the operator
	PowerCut   bool      // the house has no power; set by the caller
	HoseOff    bool      // drain line taken off behind the flow control, its end in a bucket; set by the operator
	Aired      bool      // a part of the shut unit is off and lets air into it and its lines; set by the operator
	StartNow   bool      // button for a regeneration now; the next step takes and clears it
	AdvanceNow bool      // drum to be sent on one station; the next step takes and clears it
	HomeNow    bool      // drum and pointer to be put to service by hand; the next step takes and clears it
	NoDraw     bool      // the household draws no water: asked not to while the technician works; set by the caller

	Control control.State
	House   household.State
	Bed     resin.State
	Tank    brine.State
	Net     hydraulic.State // flows and pressures of the last solve; start of the next

	Cushion Cushion

	Felt Felt // the brine tank as the pipes feel it; written after an exchange
	Air  Air  // in the injector, by the last solve

	Around   Surroundings
	Log      Log
	LineM3   float64 // liquid of the brine tank that stands in the brine line, from the tank up, m³; for what is seen alone; Step writes it
	LosingM3 float64 // resin carried off since it was last booked, m³ of bed; Step writes it

	BedDepthM float64 // present depth of the bed, m; Step writes it
	TargetM   float64 // depth that the bed would settle at with the present flow, m; a solve writes it

	Solved   setting              // what the last solve was for
	Mixes    [numNodes]mix        // sources of the water at each node, by the last solve
	Still    [numNodes]bool       // next to nothing flows there, by the last solve
	Stood    [numNodes]water.Ions // what stands there then since it came to rest, mol/m³; for what is seen alone
	Rates    [numSinks]mix        // flow into each sink by source, m³/s, by the last solve
	Pending  [numSinks]mix        // volumes into each sink by source since the last exchange, m³
	PendingS float64              // time since the last exchange, s

	TopOut, BottomOut water.Ions // mean composition of what left the bed's ends in the last exchange, mol/m³

	Ledger   Ledger
	Unsolved int // steps whose network did not converge; stays 0
}

// setting is all that the loss laws of the network depend on.
type setting struct {
	DrumDeg        float64
	Cond           Condition
	FeedC          float64
	SupplyPa       float64
	Frost          Frost
	Bed            bedding
	Bypass         BypassPos
	ShutOff        bool
	HoseOff, Aired bool
	DrawM3S        float64 // nominal draw of all taps of the house, m³/s at household.ReferencePa
	RawTap         float64
	Felt           Felt
	CushionSlope   float64 // of the cushion's link, Pa·s/m³
}

// bedding is the bed as the pipes feel it.
type bedding struct {
	DepthM float64 // settled, m
	Void   float64 // between the beads, 0..1
}

// Air is the air in the injector, that its suction has drawn; a solve writes it.
type Air struct {
	Share float64 // of the volume in the suction, 0..1
	M3S   float64 // at the pressure of the throat, m³/s; it leaves the water at the discharge
}

// Cushion is the water that the unit takes up as its walls, hoses and trapped
// air give way: little, but it keeps a shut unit under pressure and a relieved
// one at rest. Step and Exchange write it.
type Cushion struct {
	Pa      float64    // pressure that it has come to, Pa gauge
	Follows bool       // it gives way at this step; otherwise it stands still
	PaceS   float64    // length of the step for which its link was last set, s
	AirM3   float64    // air let in in place of water that a vacuum had drawn off, m³
	Mol     water.Ions // cations in its water, mol
	IronMol float64    // iron in it, mol
}

// Felt is what the pipes feel of the brine tank. It follows the tank in small
// steps, so that the network need not be solved anew for every drop.
type Felt struct {
	Pa        float64 // pressure of the liquid at the tank's floor, Pa gauge
	RhoKgM3   float64 // density of the liquid
	Lift      float64 // of the air check's ball, 0..1
	Seated    bool    // air check on its seat
	FloatShut bool    // float holds the refill shut
	Dry       bool    // the foot of the line is in the air
}

// Clone returns an independent copy.
func (s *State) Clone() *State {
	c := *s
	c.Net.Q = append([]float64(nil), s.Net.Q[:numLinks]...)[:len(s.Net.Q)]
	c.Net.P = append([]float64(nil), s.Net.P...)
	return &c
}
