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

var stopIDs = []string{"service", "backwash", "brine", "fast-rinse", "refill"}

// Validate returns every fault of the program, each naming its field. A sound
// program starts with service at 0°, comes to it once a turn, and leaves the
// house a path at every stop (and so, by the order of travel, between them).
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
	if !st.Open[Pass] && !st.Open[Outlet] {
		fault("open: neither %q nor %q, so the house has no water", Pass, Outlet)
	}
	return errs
}
