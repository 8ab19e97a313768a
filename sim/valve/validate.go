package valve

import (
	"fmt"
	"slices"
)

// The longest time of a stop, s, and the fastest drum, degrees/s, that a program may ask for.
const (
	maxStopS    = 86400
	maxDrumDegS = 360
)

const refill = "refill" // id of the stops that meter the salt dose

var stopIDs = []string{"service", "backwash", "brine", "fast-rinse", refill}

// Validate returns every fault of the program, each naming its field. A sound
// program starts with service at 0°, comes to it once a turn, and leaves the
// house a path from the supply at every stop and on the way between them. What
// else its seats let happen is for Hazards to tell.
func (p *Program) Validate() []error {
	var errs []error
	fault := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if p.ID == "" {
		fault("id: empty")
	}
	if p.Name == "" {
		fault("name: empty")
	}
	if !(p.DrumDegS > 0 && p.DrumDegS <= maxDrumDegS) {
		fault("drum_deg_s: %v is not above 0 and at most %v", p.DrumDegS, maxDrumDegS)
	}
	if !(p.MaxRefillS > 0 && p.MaxRefillS <= maxStopS) {
		fault("max_refill_s: %v is not above 0 and at most %v", p.MaxRefillS, maxStopS)
	}
	if len(p.Stops) < 2 {
		fault("stops: %d, where service and at least one more are needed", len(p.Stops))
	}
	for i := range p.Stops {
		for _, err := range p.validateStop(i) {
			fault("stops[%d].%w", i, err)
		}
	}
	return errs
}

func (p *Program) validateStop(i int) []error {
	var errs []error
	fault := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	st := &p.Stops[i]
	known := slices.Contains(stopIDs, st.ID)
	if !known {
		fault("id: %q is none of %v", st.ID, stopIDs)
	}
	if i > 0 && st.ID != refill && slices.ContainsFunc(p.Stops[1:i], func(o Stop) bool { return o.ID == st.ID }) {
		fault("id: %q comes a second time", st.ID)
	}
	if known && (st.ID == "service") != (i == 0) {
		fault("id: %q, but service is the first stop and no other", st.ID)
	}
	if st.Name == "" {
		fault("name: empty")
	}
	if !(st.AngleDeg >= 0 && st.AngleDeg < 360) {
		fault("angle_deg: %v is outside 0 to below 360", st.AngleDeg)
	}
	if i == 0 && st.AngleDeg != 0 {
		fault("angle_deg: %v, but service is at 0", st.AngleDeg)
	}
	if i > 0 && !(st.AngleDeg > p.Stops[i-1].AngleDeg) {
		fault("angle_deg: %v does not come after %v", st.AngleDeg, p.Stops[i-1].AngleDeg)
	}
	if !(st.Seconds >= 0 && st.Seconds <= maxStopS) {
		fault("seconds: %v is outside 0 to %v", st.Seconds, maxStopS)
	}
	if i == 0 && st.Seconds != 0 {
		fault("seconds: %v, but service is held until a regeneration starts: 0", st.Seconds)
	}
	switch next := &p.Stops[(i+1)%len(p.Stops)]; {
	case !st.Open[Pass] && !st.Open[Outlet]:
		fault("open: neither %q nor %q, so the house has no water", Pass, Outlet)
	case !serves(&st.Open):
		fault("open: %q, but neither %q nor %q feeds it, so the house has no water", Outlet, Inlet, Upflow)
	case serves(&next.Open) && !serves(between(st, next)):
		fault("open: on the way to the next stop all that feeds the house is shut for a while")
	}
	return errs
}

// serves reports whether water gets to the house otherwise than through the injector.
func serves(open *[NumSeats]bool) bool {
	return open[Pass] || open[Outlet] && (open[Inlet] || open[Upflow])
}

// between returns the seats that are open, at one time or another, all the while
// that others shut and open: those that both stops hold open, and the pass seat.
func between(from, next *Stop) *[NumSeats]bool {
	var open [NumSeats]bool
	for s := range NumSeats {
		open[s] = from.Open[s] && next.Open[s]
	}
	open[Pass] = from.Open[Pass] || next.Open[Pass]
	return &open
}
