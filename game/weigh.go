package game

import (
	"slices"

	"brinebench/sim"
)

// clearly is by how much a reading has to move the odds of a cause before it says
// something of it: a Bayes factor below 3 is "not worth more than a bare mention"
// (Kass and Raftery, Bayes factors, J. Am. Stat. Assoc. 90, 1995, 3.2).
const clearly = 3

// Speaks tells what a reading says of a cause by the belief in it, 0..1, before and
// after: "for", "against", or "neither", as sim.Setup.Conclusions has them.
func Speaks(before, after float64) string {
	rose, fell := after*(1-before), before*(1-after) // the ratio of the odds, and its inverse
	switch {
	case rose > clearly*fell:
		return "for"
	case fell > clearly*rose:
		return "against"
	}
	return "neither"
}

// Turns finds the steps of a debrief at which a cause was named, and those of the repairs
// that changed the unit: from there on readings show another unit than the one that was
// found. To set the controller of a unit where that was not wrong is no such repair. None
// are found in another call's debrief.
func Turns(r *sim.Report, journal []sim.Entry) (named, mended []int) {
	step := 0
	for i := range journal {
		e := &journal[i]
		if e.Action.Kind == sim.ActMishap {
			continue // which is no act
		}
		switch {
		case e.Unsafe:
		case e.Action.Kind == sim.ActDiagnose:
			named = append(named, step)
		case e.Mended && !setUp(r, &e.Action):
			mended = append(mended, step)
		}
		step++
	}
	if step != len(r.Steps) {
		return nil, nil
	}
	return named, mended
}

// setUp tells whether an act sets the controller of a unit where that was not wrong.
func setUp(r *sim.Report, a *sim.Action) bool {
	return a.Kind == sim.ActAdjust && a.Part == sim.PartController &&
		!slices.ContainsFunc(r.True, func(f sim.FaultInfo) bool { return f.Where == sim.PartController })
}

// Moved is what a reading of a finished call did to the belief in a cause, alone or
// among several: the belief before and after, 0..1. It is not found where the
// debrief does not have that reading, or nothing before it.
func Moved(r *sim.Report, reading *sim.Reading, cause string) (before, after float64, found bool) {
	step := slices.IndexFunc(r.Steps, func(s sim.StepReport) bool {
		return s.Reading != nil && s.Reading.Instrument == reading.Instrument && s.Reading.Tick == reading.Tick
	})
	if step < 0 || step == 0 && r.Told.Belief == nil {
		return 0, 0, false
	}
	was := r.Told.Belief
	if step > 0 {
		was = r.Steps[step-1].Belief
	}
	return believed(r, was, cause), believed(r, r.Steps[step].Belief, cause), true
}

// believed adds up what a belief gives to the candidates that have a cause.
func believed(r *sim.Report, belief []float64, cause string) (p float64) {
	for i, x := range belief {
		if slices.Contains(sim.VerdictIDs(r.Candidates[i].ID), cause) {
			p += x
		}
	}
	return min(p, 1)
}
