// Package cycle is the place where a valve's sequence is practised: which exercise
// comes next, what its picture may show, and what a record of answers says. It knows
// neither the canvas nor the page.
package cycle

import (
	"cmp"
	"math"
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
	turnDeg  float64    // by so much the drum is shown turned back
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
	d.watch()
}

// watch takes the unit as it is now.
func (d *Drill) watch() {
	d.unit.View(&d.view)
	d.view.DrumDeg = d.turned(d.view.DrumDeg)
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

// Next takes up the exercise that is worth most: one whose refresher is due, of the
// longest due; else one never met, of the plainest kind; else one of those that are due
// soonest, by days. Among equals the lot decides, which the number of answers so far
// draws, or the order would tell the answer. The one just done does not come again at once.
func (d *Drill) Next(kinds []sim.ExerciseKind, nowS int64) {
	const dayS = 24 * 3600
	var all []sim.Exercise
	for _, k := range kinds {
		all = append(all, d.unit.Exercises(k)...)
	}
	if len(all) > 1 {
		all = slices.DeleteFunc(all, func(e sim.Exercise) bool { return e == d.exercise })
	}
	rank := func(e *sim.Exercise) (class, among int64) {
		c := d.Progress.Card(e.ID())
		switch c.State(nowS) {
		case study.Due:
			return 0, c.DueS / dayS
		case study.New:
			return 1, int64(kindPlace(e.Kind))
		}
		return 2, c.DueS / dayS
	}
	number := uint64(len(d.Progress.Plays))
	d.Begin(slices.MinFunc(shuffled(all, number), func(a, b sim.Exercise) int {
		ca, da := rank(&a)
		cb, db := rank(&b)
		return cmp.Or(cmp.Compare(ca, cb), cmp.Compare(da, db))
	}))
}

// Quick are those of some kinds that can be answered against the clock, which a program of
// one's own cannot; all such where none is left.
func Quick(kinds []sim.ExerciseKind) []sim.ExerciseKind {
	slow := func(k sim.ExerciseKind) bool { return k == sim.BuildProgram }
	if quick := slices.DeleteFunc(slices.Clone(kinds), slow); len(quick) > 0 {
		return quick
	}
	return slices.DeleteFunc(sim.ExerciseKinds(), slow)
}

// Begin takes up an exercise. The unit stands in the position that it is about, but
// where which one that is is the question; what would give the answer away is taken off
// the picture.
func (d *Drill) Begin(e sim.Exercise) {
	d.exercise, d.answered = e, false
	stop := e.Stop
	if e.Kind == sim.ReadLobes || e.Kind == sim.ReadDrum || e.Kind == sim.BuildProgram {
		stop = "service"
	}
	d.unit.Show(stop)
	if e.Kind == sim.SetSeats || e.Kind == sim.ReadDrum {
		d.unit.Hold(sim.Seats{})
	}
	d.hide()
	d.watch()
	d.changes++
}

// hide makes the setup that the picture is drawn from: names of positions are left out
// where they tell the answer, and so are lobes. A drum whose position is to be named is
// turned, or its place in the usual order would tell it.
func (d *Drill) hide() {
	kind := d.exercise.Kind
	seen := *d.unit.Setup()
	d.setup, d.turnDeg = &seen, 0
	if kind != sim.SetSeats && kind != sim.TracePath {
		seen.Stations = slices.Clone(seen.Stations)
		for i := range seen.Stations {
			seen.Stations[i].Name = "?"
		}
	}
	switch kind {
	case sim.SetSeats, sim.ReadDrum, sim.BuildProgram:
		seen.Lobe = [len(seen.Lobe)][samples]float64{}
	case sim.NamePosition:
		d.turn(&seen)
	}
}

// turn has a drum begin elsewhere, so that the present position is halfway round it.
func (d *Drill) turn(seen *sim.Setup) {
	edge := cut(seen.Stations, d.exercise.Stop)
	for seat := range seen.Lobe {
		lane := seen.Lobe[seat]
		for i := range lane {
			seen.Lobe[seat][i] = lane[(edge+i)%samples]
		}
	}
	d.turnDeg = 360 * float64(edge) / samples
	for i := range seen.Stations {
		seen.Stations[i].AngleDeg = d.turned(seen.Stations[i].AngleDeg)
	}
}

// turned is an angle of the drum as it is shown.
func (d *Drill) turned(deg float64) float64 { return math.Mod(deg-d.turnDeg+360, 360) }

// Answer enters how well the present exercise was answered, 0..100, once, and lets
// the picture show all, discs and drum as they should stand. seconds is how long it took.
func (d *Drill) Answer(score float64, nowS int64, seconds float64) {
	if d.answered {
		return
	}
	d.answered = true
	d.Enter(d.exercise, score, nowS, seconds)
	switch d.exercise.Kind {
	case sim.SetSeats, sim.ReadDrum, sim.ReadLobes:
		d.unit.Show(d.exercise.Stop)
	}
	d.setup, d.turnDeg = d.unit.Setup(), 0
	d.watch()
	d.changes++
}

// Enter keeps how well an exercise was answered, 0..100, whichever is the present one:
// the answer to a program may come when the person has moved on.
func (d *Drill) Enter(e sim.Exercise, score float64, nowS int64, seconds float64) {
	d.Progress.Add(study.Play{Call: e.ID(), StartedS: nowS - int64(seconds), EndedS: nowS, Score: score, Minutes: seconds / 60, Seed: uint64(len(d.Progress.Plays))})
}
