package cycle

import (
	"math"

	"brinebench/sim"
)

// The marks of an answer to the present exercise: what it is worth, 0..100, and what
// it is told with. Marking enters nothing; Answer does.

// MarkName marks a position that was named.
func (d *Drill) MarkName(stop string) (score float64) {
	if stop == d.exercise.Stop {
		return 100
	}
	return 0
}

// SeatsMark is what a setting of the seats is worth: all or nothing, by what the unit
// does with it.
type SeatsMark struct {
	Score      float64
	Set        sim.Seats
	Right, Got sim.SeatTrial
	Found      []sim.SeatFinding
	Why        []string // why the water goes as it goes, in the engine's words
	Own        bool     // it is the unit's own setting
}

// MarkSeats tries a setting on the unit in the position asked for.
func (d *Drill) MarkSeats(set sim.Seats) (m SeatsMark) {
	m.Set = set
	m.Right, m.Got, m.Found = d.unit.TrySeats(d.exercise.Stop, set)
	m.Why = d.unit.Reasons(d.exercise.Stop, set)
	m.Own = set == d.unit.Right(d.exercise.Stop)
	if len(m.Found) == 0 {
		m.Score = 100
	}
	return m
}

// PathMark is what a way is worth: the share of its passages that are the water's own,
// from the start on.
type PathMark struct {
	Score float64
	Right []sim.Path // the water's own way
	Agree int        // so many of its first passages were answered
}

// MarkPath follows the water on the way asked for.
func (d *Drill) MarkPath(way []sim.Path) (m PathMark) {
	m.Right = d.unit.Trace(d.exercise.Stop, d.exercise.Way)
	m.Agree = sim.Agrees(way, m.Right)
	m.Score = math.Floor(100 * float64(m.Agree) / float64(max(len(way), len(m.Right), 1)))
	return m
}

// MarkProgram takes a quarter off for each thing that a program leaves undone beside
// the unit's own; one that regains less than half of what that does is no regeneration,
// and worth nothing: our choice.
func MarkProgram(t *sim.ProgramTrial) (score float64) {
	if t.Got.RegainedEq < 0.5*t.Own.RegainedEq {
		return 0
	}
	score = 100
	for _, bad := range Undone(t) {
		if bad {
			score -= 25
		}
	}
	return score
}

// Undone tells what a program leaves undone beside the unit's own: the bed is not
// regenerated; the house gets brine or hard water at first; the next brine is short or
// resin is lost; it wastes water or time.
func Undone(t *sim.ProgramTrial) [4]bool {
	got, own := &t.Got, &t.Own
	return [4]bool{
		got.RegainedEq < 0.95*own.RegainedEq,
		got.ChlorideKgM3 > max(0.5, 1.5*own.ChlorideKgM3) || got.FirstHardM3 > own.FirstHardM3+1e-3,
		got.BrineKg < 0.8*own.BrineKg || got.LostShare > own.LostShare+1e-3,
		got.WaterM3 > 1.3*own.WaterM3 || got.AwayS > 1.5*own.AwayS,
	}
}

// DrumMark is what the reading of a drum without names is worth: half for the
// positions, by the share of them that are right, and half for the seats.
type DrumMark struct {
	Score float64
	Right int // so many positions
	Seats SeatsMark
}

// MarkDrum marks the positions named, one for each of Drum's marks, and the seats of
// the one asked for.
func (d *Drill) MarkDrum(names []string, set sim.Seats) (m DrumMark) {
	marks := d.Drum().Marks
	for i := range marks {
		if i < len(names) && names[i] == marks[i].Stop {
			m.Right++
		}
	}
	m.Seats = d.MarkSeats(set)
	m.Score = math.Floor(50*float64(m.Right)/float64(len(marks)) + m.Seats.Score/2)
	return m
}
