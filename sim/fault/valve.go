package fault

import (
	"fmt"

	"brinebench/sim/plant"
	"brinebench/sim/valve"
)

// seatPrior is how often each seat gives trouble: the ones that close against
// pressure all the time in service more than the others. Common practice, no source.
var seatPrior = [valve.NumSeats]float64{
	valve.Inlet: 0.5, valve.Outlet: 0.5, valve.Pass: 1.5, valve.Upflow: 1,
	valve.Backwash: 1.5, valve.Rinse: 1.5, valve.Motive: 1, valve.Brine: 1.5,
}

// seatFaults are three for each seat: worn, stuck open, stuck shut.
func seatFaults() (list []Fault) {
	for seat := range valve.NumSeats {
		name := seat.String()
		lifted := func(c *plant.Config) bool { return c.Program.Lifts(seat) }
		list = append(list,
			Fault{
				ID: name + "-seat-worn", Name: fmt.Sprintf("Seat of the %s disc worn: it leaks", name), Where: plant.PartSeats,
				Prior: 1.4 * seatPrior[seat], Onset: Growing, Severities: wornSeverities(seat),
				Seen:     fmt.Sprintf("the %s seat is cut through and its disc does not close", name),
				SeenMild: fmt.Sprintf("the %s seat is marked: it cannot close tight", name),
				Cures:    []Work{Replace}, Vain: "Cleaning does not mend a cut seat.",
				field: func(c *plant.Condition) *float64 { return &c.SeatLeakCv[seat] }, worst: leakOf(seat),
			},
			Fault{
				ID: name + "-seat-stuck-open", Name: fmt.Sprintf("Disc of the %s seat stuck open", name), Where: plant.PartSeats,
				Prior: 0.5 * seatPrior[seat], Onset: Steady, Severities: []float64{0.4, 1},
				Seen:  fmt.Sprintf("the %s stem hangs, its disc stands off the seat", name),
				Cures: []Work{Clean, Replace}, Vain: "Turning the drum by hand frees it for one cycle at most.",
				field: func(c *plant.Condition) *float64 { return &c.SeatHeld[seat] }, worst: 1,
				on: lifted, // a disc that nothing lifts neither hangs nor is missed
			},
			Fault{
				ID: name + "-seat-stuck-shut", Name: fmt.Sprintf("Disc of the %s seat stuck shut", name), Where: plant.PartSeats,
				Prior: 0.3 * seatPrior[seat], Onset: Steady, Severities: shutSeverities(seat),
				Seen:  fmt.Sprintf("the %s disc sticks to its seat, the lobe does not lift it", name),
				Cures: []Work{Clean, Replace}, Vain: "More supply pressure does not open it.",
				field: func(c *plant.Condition) *float64 { return &c.SeatCap[seat] }, worst: 0,
				on: lifted,
			},
		)
	}
	return list
}

// leakOf is the Cv of a seat that is cut through: about a third of the open seat;
// common practice, no source.
func leakOf(seat valve.Seat) float64 {
	switch seat {
	case valve.Motive, valve.Brine:
		return 0.3
	}
	return 1.2
}

// wornSeverities are closer together for the seats that lead water past the
// injector or against it: the draw fades, slackens and turns within a narrow range.
func wornSeverities(seat valve.Seat) []float64 {
	switch seat {
	case valve.Inlet, valve.Outlet, valve.Upflow:
		return []float64{0.08, 0.15, 0.2, 0.24, 0.28, 0.5}
	}
	return []float64{0.08, 0.15, 0.28, 0.5}
}

// shutSeverities are closer together for the small seats, where a little lift
// matters more, and for those that brine goes through on its way to the drain.
func shutSeverities(seat valve.Seat) []float64 {
	switch seat {
	case valve.Motive, valve.Brine:
		return []float64{0.97, 0.98, 0.985, 0.99, 0.995, 1}
	case valve.Pass, valve.Backwash, valve.Rinse:
		return []float64{0.97, 0.98, 0.99, 1}
	}
	return []float64{0.97, 0.99, 1}
}
