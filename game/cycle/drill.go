// Package cycle is the place where a valve's sequence is practised: which exercise
// comes next, what its picture may show, and what a record of answers says. It knows
// neither the canvas nor the page.
package cycle

import (
	"cmp"
	"slices"

	"brinebench/game"
	"brinebench/game/study"
	"brinebench/sim"
)

// Drill is one person at practice on one unit.
type Drill struct {
	unit     *sim.Cycle
	exercise sim.Exercise
	setup    *sim.Setup // as the exercise lets it be seen
	view     sim.View
	look     game.Look
	selected sim.Part
	answered bool
	changes  int

	Progress study.Progress
}

// New begins practice on a unit, which stands in service.
func New(unit *sim.Cycle) *Drill {
	d := &Drill{unit: unit, setup: unit.Setup()}
	unit.View(&d.view)
	return d
}

// Unit is the unit that is practised on.
func (d *Drill) Unit() *sim.Cycle { return d.unit }

// Frame lets the unit run on by real time, at most a quarter of a second.
func (d *Drill) Frame(dtS float64) {
	const mostS = 0.25
	d.unit.Run(min(dtS, mostS))
	d.unit.View(&d.view)
}

// Setup, View, Selected and Select are for the canvas.
func (d *Drill) Setup() *sim.Setup { return d.setup }

// View is the unit as it is now. Read only.
func (d *Drill) View() *sim.View { return &d.view }

// Selected is the part the person looks at.
func (d *Drill) Selected() sim.Part { return d.selected }

// Select makes p the part the person looks at.
func (d *Drill) Select(p sim.Part) {
	if p != d.selected {
		d.selected = p
		d.changes++
	}
}

// Look returns how things are shown.
func (d *Drill) Look() game.Look { return d.look }

// SetLook changes it.
func (d *Drill) SetLook(l game.Look) {
	d.look = l
	d.changes++
}

// Changes counts what the page has to show anew.
func (d *Drill) Changes() int { return d.changes }

// Exercise is the present one; its Kind is "" before the first.
func (d *Drill) Exercise() sim.Exercise { return d.exercise }

// Answered reports whether it has been answered.
func (d *Drill) Answered() bool { return d.answered }

// Next takes up the exercise that is worth most: one whose refresher is due, the
// longest due first; else one never met, in the order of the program; else the one
// that is due soonest. The one just done does not come again at once.
func (d *Drill) Next(kinds []sim.ExerciseKind, nowS int64) {
	var all []sim.Exercise
	for _, k := range kinds {
		all = append(all, d.unit.Exercises(k)...)
	}
	if len(all) > 1 {
		all = slices.DeleteFunc(all, func(e sim.Exercise) bool { return e == d.exercise })
	}
	rank := func(e sim.Exercise) (class int, dueS int64) {
		c := d.Progress.Card(e.ID())
		switch c.State(nowS) {
		case study.Due:
			return 0, c.DueS
		case study.New:
			return 1, 0
		}
		return 2, c.DueS
	}
	d.Begin(slices.MinFunc(all, func(a, b sim.Exercise) int {
		ca, da := rank(a)
		cb, db := rank(b)
		return cmp.Or(cmp.Compare(ca, cb), cmp.Compare(da, db))
	}))
}

// Begin takes up an exercise. What would give its answer away is taken off the
// picture: the names of the positions, and where the seats are to be set, the lobes.
func (d *Drill) Begin(e sim.Exercise) {
	d.exercise, d.answered = e, false
	seen := *d.unit.Setup()
	seen.Stations = slices.Clone(seen.Stations)
	d.unit.Show("service")
	if e.Kind == sim.NamePosition || e.Kind == sim.ReadLobes || e.Kind == sim.ReadDrum {
		for i := range seen.Stations {
			seen.Stations[i].Name = "?"
		}
	}
	if e.Kind == sim.SetSeats || e.Kind == sim.ReadDrum {
		seen.Lobe = [len(seen.Lobe)][samples]float64{}
		d.unit.Hold(sim.Seats{})
	}
	if e.Kind == sim.NamePosition || e.Kind == sim.TracePath {
		d.unit.Show(e.Stop)
	}
	d.setup = &seen
	d.unit.View(&d.view)
	d.changes++
}

// Answer enters how well the present exercise was answered, 0..100, once, and lets
// the picture show all. seconds is how long it took.
func (d *Drill) Answer(score float64, nowS int64, seconds float64) {
	if d.answered {
		return
	}
	d.answered = true
	d.Enter(d.exercise, score, nowS, seconds)
	d.setup = d.unit.Setup()
	d.changes++
}

// Enter keeps how well an exercise was answered, 0..100, whichever is the present one:
// the answer to a program may come when the person has moved on.
func (d *Drill) Enter(e sim.Exercise, score float64, nowS int64, seconds float64) {
	d.Progress.Add(study.Play{Call: e.ID(), StartedS: nowS - int64(seconds), EndedS: nowS, Score: score, Minutes: seconds / 60, Seed: uint64(len(d.Progress.Plays))})
}
