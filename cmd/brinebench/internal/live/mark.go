package live

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"brinebench/game/class"
	"brinebench/sim"
)

// Read reads an answer to a drill that is no call, and counts how much of it there is. The
// error tells what keeps it from being marked.
func Read(d *class.Drill, answer []byte) (*class.Answer, error) {
	x := &class.Answer{Text: answer}
	if d.Kind == class.Sizing {
		return x, countSizing(d, x)
	}
	m, err := markSequence(d, answer)
	x.Asked = len(m.Exercises)
	for i := range m.Exercises {
		if m.Exercises[i].Answered {
			x.Answered++
		}
	}
	return x, err
}

// countSizing counts the figures that are answered.
func countSizing(d *class.Drill, x *class.Answer) error {
	if err := sim.CheckSizing(d.Body, x.Text); err != nil {
		return err
	}
	job, err := sim.OpenSizing(Name(d), d.Body)
	if err != nil {
		return err
	}
	var said struct {
		Figures map[string]json.RawMessage `json:"figures"`
	}
	x.Asked = len(job.Figures)
	err = json.Unmarshal(x.Text, &said)
	x.Answered = len(said.Figures)
	return err
}

// Mark marks the answer to a drill that is no call; why tells that it is none. The end of
// ctx breaks it off.
func Mark(ctx context.Context, d *class.Drill, answer []byte) (r *class.Result, why string, err error) {
	if d.Kind == class.Sizing {
		marks, err := sim.MarkSizing(d.Body, answer, func(float64) bool { return ctx.Err() == nil })
		switch {
		case ctx.Err() != nil:
			return nil, "", ctx.Err()
		case err != nil:
			return nil, err.Error(), nil
		}
		text, err := json.Marshal(&marks)
		return &class.Result{Score: marks.Score, Right: marks.Right == 50, Report: text}, "", err
	}
	marks, err := markSequence(d, answer)
	if err != nil {
		return nil, err.Error(), nil
	}
	text, err := json.Marshal(&marks)
	return &class.Result{Score: marks.Score, Right: marks.Score == class.WholeMark, Report: text}, "", err
}

// markSequence marks the answers to all exercises of a drill by the unit itself. What is
// not answered earns nothing.
func markSequence(d *class.Drill, answer []byte) (m class.SequenceMarks, err error) {
	unit, err := sim.OpenCycle(Name(d), d.Body)
	if err != nil {
		return m, err
	}
	var answers map[string]class.SequenceAnswer
	if err := json.Unmarshal(answer, &answers); err != nil {
		return m, fmt.Errorf("answer: %w", err)
	}
	for _, kind := range class.SequenceKinds {
		for _, e := range unit.Exercises(kind) {
			got, ok := answers[e.ID()]
			mark := class.SequenceMark{ID: e.ID(), Kind: kind, Stop: nameOf(unit, e.Stop), Answered: ok}
			if ok {
				if mark.Score, err = markExercise(unit, &e, &got); err != nil {
					return m, err
				}
			}
			m.Score += mark.Score
			m.Exercises = append(m.Exercises, mark)
		}
	}
	m.Score /= float64(len(m.Exercises))
	return m, nil
}

// nameOf is the name of a unit's position.
func nameOf(unit *sim.Cycle, stop string) string {
	i := slices.IndexFunc(unit.Setup().Stations, func(s sim.Station) bool { return s.ID == stop })
	return unit.Setup().Stations[i].Name
}

func markExercise(unit *sim.Cycle, e *sim.Exercise, got *class.SequenceAnswer) (score float64, err error) {
	fits := false
	switch e.Kind {
	case sim.SetSeats:
		var set sim.Seats
		for _, s := range got.Seats {
			if int(s) < 0 || int(s) >= len(set) {
				return 0, errors.New("answer: no such seat")
			}
			set[s] = true
		}
		_, _, found := unit.TrySeats(e.Stop, set)
		fits = len(found) == 0
	case sim.TracePath:
		right := unit.Trace(e.Stop, e.Way)
		const most = 100
		if len(got.Path) > most {
			return 0, errors.New("answer: a way of more than 100 passages")
		}
		fits = slices.Equal(got.Path, right)
		if !fits {
			return float64(class.WholeMark * sim.Agrees(got.Path, right) / max(len(got.Path), len(right), 1)), nil
		}
	default:
		fits = got.Stop == e.Stop
	}
	if fits {
		score = class.WholeMark
	}
	return score, nil
}
