// Package signature is what every cause of trouble would show on one installation:
// each fault of the catalogue, at each severity of its grid, lives on that
// installation up to the call and through a regeneration, and every instrument is
// read on the way. Against such a library readings are weighed: which cause they
// speak for, and how strongly.
//
// All units live in the same house: its draws, weather and feed, its power cuts, and
// the course that the trouble took. A belief is one given that course. How a fault came
// about is no question to the trainee, and must not be a clue either: were each cause
// to live by an onset of its own, readings would tell the true one from the others by
// the days that it has lasted; were all to live a steady one, they would speak against
// it. So every fault, were it the cause, comes as the true one came, on the same days:
// see scenario.File.CourseOf. Where a scenario has several faults, those that it does
// not have come as the first of it.
package signature

import (
	"math"
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
)

// Unit is one unit of a library: a fault at a severity of its grid, or nothing.
type Unit struct {
	Cause    int     // index into Causes
	Severity float64 // 0 of the sound unit
	Cond     plant.Condition
	And      []Unit  // what else is wrong with it; Cond holds that too
	Swing    float64 // how far its supply swings, relative; see swingOf
}

// Both is a unit that has what is wrong with either.
func Both(a, b Unit) Unit {
	a.And = append(slices.Clone(a.And), b)
	f := &fault.Catalogue()[b.Cause]
	f.Apply(&a.Cond, b.Severity)
	return a
}

// healthyPrior is the frequency of calls where the unit is sound, on the scale
// of fault.Fault.Prior; common practice, no source.
const healthyPrior = 6

// Causes are the faults of the catalogue and, last, call.NoFault.
func Causes() []string {
	var ids []string
	for _, f := range fault.Catalogue() {
		ids = append(ids, f.ID)
	}
	return append(ids, call.NoFault)
}

// Prior is how likely each of Causes is on an installation before anything is
// known; it sums to 1.
func Prior(c *plant.Config) []float64 {
	p := []float64{}
	sum := float64(healthyPrior)
	for _, f := range fault.Catalogue() {
		p = append(p, 0)
		if f.CanBe(c) {
			p[len(p)-1] = f.Prior
			sum += f.Prior
		}
	}
	p = append(p, healthyPrior)
	for i := range p {
		p[i] /= sum
	}
	return p
}

// Units are those of the library of an installation, by cause and rising severity.
func Units(c *plant.Config) []Unit {
	var list []Unit
	for i, f := range fault.Catalogue() {
		if !f.CanBe(c) {
			continue
		}
		for _, severity := range f.Severities {
			list = append(list, unitOf(c, i, &f, severity))
		}
	}
	return append(list, In(c, plant.Healthy()))
}

// In is a unit in a condition that did not come about by a fault of the catalogue.
func In(c *plant.Config, cond plant.Condition) Unit {
	return Unit{Cause: len(fault.Catalogue()), Cond: cond, Swing: swingOf(c)}
}

// swingOf is the standard deviation of the difference of a well's pressure at two
// moments, over its mean: it goes up and down evenly between the two ends of the
// pump's switch. A gauge is read at one moment, and shown by the library at another.
// 0 on the mains.
func swingOf(c *plant.Config) float64 {
	if !c.Site.FromWell {
		return 0
	}
	low, high := c.Site.Well.CutInPa, c.Site.Well.CutOutPa
	return 2 * (high - low) / (math.Sqrt(6) * (high + low))
}

func unitOf(c *plant.Config, cause int, f *fault.Fault, severity float64) Unit {
	u := Unit{Cause: cause, Severity: severity, Cond: plant.Healthy(), Swing: swingOf(c)}
	f.Apply(&u.Cond, severity)
	return u
}
