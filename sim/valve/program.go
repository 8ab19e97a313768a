package valve

import "slices"

// Stop is one position of the cam drum.
type Stop struct {
	ID       string         // "service", "backwash", "brine", "fast-rinse" or "refill"; only a refill may come more than once
	Name     string         // what people call it
	Why      string         // what it is for, in a sentence or two
	AngleDeg float64        // drum angle, 0 ≤ a < 360, rising from stop to stop
	Seconds  float64        // programmed time there, s; 0 in service
	Open     [NumSeats]bool // seats that its lobes hold open
}

// Program is the sequence that the drum is driven through: data, so that another
// sequence is a file and not code. The first stop is service, at 0°.
//
// The refill stops, held for control.Settings.RefillS each, meter the salt dose.
// One can be held for MaxRefillS only; a dose that takes more has a program with
// two of them.
type Program struct {
	ID, Name                string
	Why                     string // for whom it is meant and why it is as it is, in a sentence or two
	Stops                   []Stop
	DrumDegS                float64 // speed of the drum under the motor, degrees/s
	MaxRefillS              float64 // longest time that one refill stop can be held, s; common practice, no source
	InjectorDischargesBelow bool    // counter-current plumbing: brine enters below the bed and leaves from above it
}

// Lifts reports whether a seat is open at any stop.
func (p *Program) Lifts(seat Seat) bool {
	for i := range p.Stops {
		if p.Stops[i].Open[seat] {
			return true
		}
	}
	return false
}

// Place returns the place of the first stop of an ID, -1 where there is none.
func (p *Program) Place(id string) int {
	return slices.IndexFunc(p.Stops, func(s Stop) bool { return s.ID == id })
}

// Refills returns how many refill stops there are.
func (p *Program) Refills() (n int) {
	for i := range p.Stops {
		if p.Stops[i].ID == refill {
			n++
		}
	}
	return n
}

// RefillTravelS returns for how long in one turn the brine seat stands open
// because the drum is on its way to or from a refill stop, s: half of a travel in
// which the seat opens or shuts, all of one between two refills.
func (p *Program) RefillTravelS() float64 {
	open := 0.0
	for i := range p.Stops {
		from, next, end := &p.Stops[i], &p.Stops[0], 360.0
		if i+1 < len(p.Stops) {
			next = &p.Stops[i+1]
			end = next.AngleDeg
		}
		if from.ID != refill && next.ID != refill {
			continue
		}
		for _, st := range []*Stop{from, next} {
			if st.Open[Brine] {
				open += float64((end - from.AngleDeg) / p.DrumDegS / 2) // a half is a product to the compiler
			}
		}
	}
	return open
}

// RefillStopS returns for how long each refill stop is to be held so that water
// runs to the brine tank for flowS in all, s; 0 when the travel alone takes as
// long, or there is no refill. It may be longer than MaxRefillS.
func (p *Program) RefillStopS(flowS float64) float64 {
	n := p.Refills()
	if n == 0 {
		return 0
	}
	return max(0, (flowS-p.RefillTravelS())/float64(n))
}

// LongestRefillS returns the longest time for which water can run to the brine
// tank in one turn, s.
func (p *Program) LongestRefillS() float64 {
	n := float64(p.Refills())
	return float64(n*p.MaxRefillS) + p.RefillTravelS()
}
