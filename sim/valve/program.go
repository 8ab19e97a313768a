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

// Standard returns the program of a unit regenerated downwards. The durations
// are common practice, no source.
func Standard() Program {
	return Program{}
}

// Validate returns every fault of the program, each naming its field.
func (p *Program) Validate() []error { return nil }

// DecodeProgram reads a program file strictly.
func DecodeProgram(name string, data []byte) (Program, error) { return Program{}, nil }

// Lift returns how far the lobe of a seat holds it open at a drum angle in
// degrees, 0 shut .. 1 fully open.
func (p *Program) Lift(seat Seat, deg float64) float64 { return 0 }
