package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// SeatJob says what a seat of the valve is for.
func SeatJob(s sim.Seat) string { return say.Text("seat.job." + s.String()) }

// SeatKey is the name and the job of each seat, in turn.
func SeatKey() (namesAndJobs []string) {
	for s := range sim.NumSeats {
		namesAndJobs = append(namesAndJobs, say.Sim(s.String()), SeatJob(s))
	}
	return namesAndJobs
}
