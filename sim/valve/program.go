package valve

// Stop is one position of the cam drum.
type Stop struct {
	ID       string         // "service", "backwash", "brine", "fast-rinse" or "refill"
	Name     string         // what people call it
	AngleDeg float64        // drum angle, 0 ≤ a < 360, rising from stop to stop
	Seconds  float64        // programmed time there, s; 0 in service
	Open     [NumSeats]bool // seats that its lobes hold open
}

// Program is the sequence that the drum is driven through: data, so that another
// sequence is a file and not code. The first stop is service, at 0°.
type Program struct {
	ID, Name                string
	Stops                   []Stop
	DrumDegS                float64 // speed of the drum under the motor, degrees/s
	InjectorDischargesBelow bool    // counter-current plumbing: brine enters below the bed and leaves from above it
}

// Standard returns the program of a unit regenerated downwards. Its durations
// are common practice, no source; the salt dose sets the time of the refill
// (see control.Settings.RefillS), for which a middling figure stands here.
func Standard() Program {
	return Program{
		ID:       "standard",
		Name:     "Downflow brining, refill last",
		DrumDegS: 3,
		Stops: []Stop{
			{ID: "service", Name: "Service", AngleDeg: 0, Open: open(Inlet, Outlet)},
			{ID: "backwash", Name: "Backwash", AngleDeg: 72, Seconds: 600, Open: open(Pass, Upflow, Backwash)},
			{ID: "brine", Name: "Brine draw and slow rinse", AngleDeg: 144, Seconds: 3600, Open: open(Pass, Rinse, Motive, Brine)},
			{ID: "fast-rinse", Name: "Fast rinse", AngleDeg: 216, Seconds: 600, Open: open(Inlet, Pass, Rinse)},
			{ID: "refill", Name: "Refill", AngleDeg: 288, Seconds: 480, Open: open(Inlet, Outlet, Brine)},
		},
	}
}

func open(seats ...Seat) (o [NumSeats]bool) {
	for _, s := range seats {
		o[s] = true
	}
	return o
}
