package class

import "brinebench/sim"

// SequenceKinds are the kinds of exercise that a sequence drill asks, all of each.
var SequenceKinds = []sim.ExerciseKind{sim.NamePosition, sim.SetSeats, sim.TracePath, sim.ReadLobes}

// SequenceAnswer is the answer to one exercise: of its kind's field.
type SequenceAnswer struct {
	Stop  string     // name and lobes: the position
	Seats []sim.Seat // seats: those that are to be open
	Path  []sim.Path // path: passage by passage
}

// SequenceMarks are the points of a sequence drill.
type SequenceMarks struct {
	Score     float64 // mean of all exercises, 0..100
	Exercises []SequenceMark
}

// SequenceMark is that of one exercise.
type SequenceMark struct {
	ID       string
	Kind     sim.ExerciseKind
	Stop     string // name of the position asked about
	Answered bool
	Score    float64 // 0..WholeMark
}

// WholeMark is the score of an exercise that is right.
const WholeMark = 100
