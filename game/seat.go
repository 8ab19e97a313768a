package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// SeatJob says what a seat of the valve is for.
func SeatJob(s sim.Seat) string { return say.Text("seat.job." + s.String()) }

// SeatKey is the name and the job of each seat, in the order of the drawing.
func SeatKey() (namesAndJobs []string) {
	for _, s := range sim.SeatRow {
		namesAndJobs = append(namesAndJobs, say.Sim(s.String()), SeatJob(s))
	}
	return namesAndJobs
}
