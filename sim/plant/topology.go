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

// Links of the network. The first eight are the seats, in valve.Seat order. Those
// from linkRiserSeal on are there only in a unit that has such a fault.
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
	linkRiserSeal  // past the seal at the head of the riser
	linkRiserCrack // through the riser's wall below the bed's top
	linkChannel    // down through the bed without touching it
	linkAirLeak    // through a hole in the brine line
	numLinks

	numSoundLinks = linkRiserSeal
)

// soundEnds join the links of a unit that brines downwards.
var soundEnds = [numLinks]hydraulic.Ends{
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
	linkRiserSeal:     {From: int(BedTop), To: int(RiserTop)},
	linkRiserCrack:    {From: int(BedTop), To: int(BedBottom)},
	linkChannel:       {From: int(BedTop), To: int(BedBottom)},
	linkAirLeak:       {From: atmosphere, To: lineTop},
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

// plumbing is one way in which the links are joined.
type plumbing struct {
	ends     []hydraulic.Ends
	net      *hydraulic.Network
	arrivals []arrival
}

// arrival is a link's end at which water reaches a sink.
type arrival struct {
	sink, link int
	forward    bool // at the link's To
}

// The plumbings of one model: as it should be, with the links that only faults
// make, and with inlet and outlet crossed besides.
const (
	plumbSound = iota
	plumbFaulty
	plumbCrossed
	numPlumbings
)

// newPlumbings prepares them; below has the injector discharge below the bed.
func newPlumbings(below bool) (p [numPlumbings]*plumbing, err error) {
	for i := range p {
		ends := soundEnds
		if below {
			ends[linkDischarge].To = int(RiserTop)
		}
		if i == plumbCrossed {
			ends[linkBypassIn].To, ends[linkBypassOut].From = int(ValveOut), int(ValveIn)
		}
		n := numLinks
		if i == plumbSound {
			n = numSoundLinks
		}
		if p[i], err = newPlumbing(ends[:n]); err != nil {
			return p, err
		}
	}
	return p, nil
}

func newPlumbing(ends []hydraulic.Ends) (*plumbing, error) {
	fixed := make([]bool, numNodes)
	for _, n := range []int{int(Street), tankLiquid, atmosphere, cushion} {
		fixed[n] = true
	}
	net, err := hydraulic.NewNetwork(numNodes, fixed, ends)
	if err != nil {
		return nil, err
	}
	p := &plumbing{ends: ends, net: net}
	for l, e := range ends {
		if l == linkBed {
			continue // its ends balance by themselves: see ports
		}
		if sink, ok := sinkAt(e.To, l); ok {
			p.arrivals = append(p.arrivals, arrival{sink, l, true})
		}
		if sink, ok := sinkAt(e.From, l); ok {
			p.arrivals = append(p.arrivals, arrival{sink, l, false})
		}
	}
	return p, nil
}

// sinkAt tells which sink water comes to that reaches a node through a link.
func sinkAt(node, link int) (sink int, ok bool) {
	switch node {
	case int(BedTop):
		return toTop, true
	case int(BedBottom):
		return toBottom, true
	case tankLiquid:
		return toTank, true
	case cushion:
		return toCushion, true
	case int(Street):
		return toStreet, true
	case atmosphere:
		switch link {
		case linkHouse:
			return toHouse, true
		case linkRawTap:
			return toRawTap, true
		case linkDrainLine:
			return toDrain, true
		}
		return toFloor, true
	}
	return 0, false
}

// plumbing returns the one that a unit in condition c has.
func (m *Model) plumbing(c *Condition) *plumbing {
	switch {
	case c.LinesCrossed > 0.5:
		return m.plumbings[plumbCrossed]
	case c.RiserSealCv > 0 || c.RiserCrackCv > 0 || c.BedChannel > 0 || c.BrineAirM > 0:
		return m.plumbings[plumbFaulty]
	}
	return m.plumbings[plumbSound]
}

// fit makes the flows of s as many as the plumbing has links; a link that is not
// there has no flow.
func (s *State) fit(p *plumbing) {
	s.Net.Q = s.Net.Q[:numLinks]
	clear(s.Net.Q[len(p.ends):])
	s.Net.Q = s.Net.Q[:len(p.ends)]
}

// flow is that of a link, m³/s, 0 where the unit has none such.
func (s *State) flow(link int) float64 {
	if link >= len(s.Net.Q) {
		return 0
	}
	return s.Net.Q[link]
}
