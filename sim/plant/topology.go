package plant

import "brinebench/sim/hydraulic"

// Nodes of the network beyond the ones a picture shows.
const (
	lineTop    = int(NumNodes) + iota // brine line between refill control and tank
	tankLiquid                        // liquid in the brine tank at its floor, fixed
	atmosphere                        // fixed at 0 Pa gauge
	cushion                           // what gives way under pressure in the unit, fixed during a solve
	numNodes
)

// Links of the network. The first eight are the seats, in valve.Seat order.
const (
	linkMains = iota + 8
	linkBypassIn
	linkBypassOut
	linkBypassCross
	linkHouse
	linkRawTap
	linkScreen
	linkNozzle
	linkSuction
	linkDischarge
	linkRefill
	linkLine
	linkAirCheck
	linkBed
	linkRiser
	linkDrainCtl
	linkDrainLine
	linkCushion
	numLinks
)

var ends = [numLinks]hydraulic.Ends{
	int(InletSeat):    {From: int(ValveIn), To: int(BedTop)},
	int(OutletSeat):   {From: int(RiserTop), To: int(ValveOut)},
	int(PassSeat):     {From: int(ValveIn), To: int(ValveOut)},
	int(UpflowSeat):   {From: int(ValveIn), To: int(RiserTop)},
	int(BackwashSeat): {From: int(BedTop), To: int(DrainManifold)},
	int(RinseSeat):    {From: int(RiserTop), To: int(DrainManifold)},
	int(MotiveSeat):   {From: int(ValveIn), To: int(Screen)},
	int(BrineSeat):    {From: int(ValveBrine), To: int(Suction)},
	linkMains:         {From: int(Street), To: int(SupplySide)},
	linkBypassIn:      {From: int(SupplySide), To: int(ValveIn)},
	linkBypassOut:     {From: int(ValveOut), To: int(HouseSide)},
	linkBypassCross:   {From: int(SupplySide), To: int(HouseSide)},
	linkHouse:         {From: int(HouseSide), To: atmosphere},
	linkRawTap:        {From: int(SupplySide), To: atmosphere},
	linkScreen:        {From: int(Screen), To: int(NozzleIn)},
	linkNozzle:        {From: int(NozzleIn), To: int(Throat)},
	linkSuction:       {From: int(Suction), To: int(Throat)},
	linkDischarge:     {From: int(Throat), To: int(BedTop), Jet: true, Nozzle: linkNozzle, Suction: linkSuction},
	linkRefill:        {From: int(ValveBrine), To: lineTop},
	linkLine:          {From: lineTop, To: int(BrinePickup)},
	linkAirCheck:      {From: tankLiquid, To: int(BrinePickup)},
	linkBed:           {From: int(BedTop), To: int(BedBottom)},
	linkRiser:         {From: int(BedBottom), To: int(RiserTop)},
	linkDrainCtl:      {From: int(DrainManifold), To: int(DrainLine)},
	linkDrainLine:     {From: int(DrainLine), To: atmosphere},
	linkCushion:       {From: int(BedTop), To: cushion},
}

// pathLink tells which link a path's flow is read from, and in which sense.
var pathLink = [NumPaths]struct {
	link int
	sign float64
}{
	InletSeat: {int(InletSeat), 1}, OutletSeat: {int(OutletSeat), 1}, PassSeat: {int(PassSeat), 1},
	UpflowSeat: {int(UpflowSeat), 1}, BackwashSeat: {int(BackwashSeat), 1}, RinseSeat: {int(RinseSeat), 1},
	MotiveSeat: {int(MotiveSeat), 1}, BrineSeat: {int(BrineSeat), 1},
	Supply: {linkMains, 1}, BypassIn: {linkBypassIn, 1}, BypassOut: {linkBypassOut, 1},
	BypassCross: {linkBypassCross, 1}, House: {linkHouse, 1}, RawTap: {linkRawTap, 1},
	Bed: {linkBed, 1}, Riser: {linkRiser, 1}, Discharge: {linkDischarge, 1},
	Drain: {linkDrainLine, 1}, BrineLine: {linkRefill, -1},
}

func newNetwork() (*hydraulic.Network, error) {
	fixed := make([]bool, numNodes)
	for _, n := range []int{int(Street), tankLiquid, atmosphere, cushion} {
		fixed[n] = true
	}
	return hydraulic.NewNetwork(numNodes, fixed, ends[:])
}
