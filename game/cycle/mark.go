package cycle

import (
	"math"
	"slices"

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

// asked are the things that a program is to do, each with the figures that tell whether
// it does: regenerate the bed; give the house neither brine nor hard water; leave the next
// brine and all resin; waste neither water nor time.
var asked = [4][]string{{"regained"}, {"chloride", "hard"}, {"brine", "lost"}, {"water", "time"}}

// MarkProgram takes a quarter off for each thing that a program leaves undone beside
// the unit's own; one that regains less than half of what that does is no regeneration,
// and worth nothing; one that leaves less than half of the next brine is a regeneration
// that will not come again, and one that gives the house brine is none that a family
// would put up with: worth half at most, our choice.
func MarkProgram(t *sim.ProgramTrial) (score float64) {
	if t.Got.RegainedEq < 0.5*t.Own.RegainedEq {
		return 0
	}
	score = 100
	off := Off(t)
	for _, figures := range asked {
		if slices.ContainsFunc(figures, func(id string) bool { return slices.Contains(off, id) }) {
			score -= 25
		}
	}
	if t.Got.BrineKg < 0.5*t.Own.BrineKg || slices.Contains(Off(t), "chloride") {
		return min(score, 50)
	}
	return score
}

// Off names the figures of a program that are not what the unit's own does.
func Off(t *sim.ProgramTrial) (ids []string) {
	got, own := &t.Got, &t.Own
	for _, f := range []struct {
		id  string
		off bool
	}{
		{"regained", got.RegainedEq < 0.95*own.RegainedEq},
		{"water", got.WaterM3 > 1.3*own.WaterM3},
		{"time", got.AwayS > 1.5*own.AwayS},
		{"chloride", got.ChlorideKgM3 > max(0.5, 1.5*own.ChlorideKgM3)},
		{"hard", got.FirstHardM3 > own.FirstHardM3+1e-3},
		{"brine", got.BrineKg < 0.8*own.BrineKg},
		{"lost", got.LostShare > own.LostShare+1e-3},
	} {
		if f.off {
			ids = append(ids, f.id)
		}
	}
	return ids
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
