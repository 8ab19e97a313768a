// Package valve describes the control valve: its eight seats, the cam drum that
// opens them, and the program of positions the drum is driven through.
package valve

// Seat names one of the eight discs on a port of the valve body, by the path it
// opens. Seats are named, never numbered.
type Seat int

// The eight seats.
const (
	Inlet    Seat = iota // supply to bed top
	Outlet               // bed bottom to house
	Pass                 // supply to house, untreated
	Upflow               // supply to bed bottom
	Backwash             // bed top to drain
	Rinse                // bed bottom to drain
	Motive               // supply to injector nozzle
	Brine                // injector suction to the brine line
	NumSeats
)

var seatNames = [NumSeats]string{"inlet", "outlet", "pass", "upflow", "backwash", "rinse", "motive", "brine"}

// String returns the seat's name as a program file writes it.
func (s Seat) String() string {
	if s < 0 || s >= NumSeats {
		return "seat?"
	}
	return seatNames[s]
}

// SeatNamed returns the seat of that name.
func SeatNamed(name string) (Seat, bool) {
	for i, n := range seatNames {
		if n == name {
			return Seat(i), true
		}
	}
	return 0, false
}
