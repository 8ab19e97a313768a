// Package fault is the catalogue of what can be wrong with a unit, its setting
// and its house. A fault moves one figure of the plant's condition away from its
// healthy value and does nothing else; every symptom comes out of the plant.
// Likewise a repair puts right the figures of the part that it is done to,
// whatever was wrong with it.
package fault

import (
	"math"

	"brinebench/sim/plant"
)

// Work is a kind of repair.
type Work string

// The kinds of repair.
const (
	Clean   Work = "clean"   // take away dirt, kinks, ice, caked salt
	Adjust  Work = "adjust"  // set, turn, move or free what stands wrong
	Replace Work = "replace" // fit a new part of the right size
)

// Onset is how a fault comes about over the days before a call.
type Onset string

// The kinds of onset.
const (
	Steady       Onset = "steady"       // there from the first day
	Growing      Onset = "growing"      // from nothing to its severity, evenly
	Intermittent Onset = "intermittent" // there on some days and not on others
)

// Fault is one entry of the catalogue.
type Fault struct {
	ID    string
	Name  string
	Where plant.Part
	Prior float64 // relative frequency among service calls; common practice, no source
	Onset Onset   // the usual one
	// Severities at which it makes itself felt, spaced by what it does: the grid of
	// a belief over faults. Below the least nobody calls.
	Severities []float64
	Seen       string // what opening, looking at or trying its part shows; "" where that shows nothing
	SeenMild   string // the same below half of the severity, "" where there is no difference
	Stays      bool   // it can grow but not go away by itself: the plant takes its going for work on resin, salt or clock
	Cures      []Work // work on Where that puts it right; none: nothing at the unit does, the customer is told
	Vain       string // what is often done and does not help
	Done       string // what putting it right was, in a sentence, where its part does not say so; else ""
	Caution    string // a caution of its own, "" where those of the part do

	field func(c *plant.Condition) *float64 // the one figure that it moves
	worst float64                           // that figure at severity 1

	on func(c *plant.Config) bool // the units that can have it; nil: all

	// fit sets the unit for a cause that stays, and fits tells whether it is set
	// so; nil where curing means to put the field right.
	fit  func(c *plant.Condition)
	fits func(c *plant.Condition) bool
}

// At returns the figure of the condition at a severity: 0 leaves it healthy, 1 is
// the worst.
func (f *Fault) At(severity float64) float64 {
	h := f.healthy()
	return h + float64((f.worst-h)*severity)
}

func (f *Fault) healthy() float64 {
	c := plant.Healthy()
	return *f.field(&c)
}

// Apply worsens the condition; severity 0 leaves it as it is, 1 is the worst. Of
// two faults that move the same figure the same way the worse one stays.
func (f *Fault) Apply(c *plant.Condition, severity float64) {
	v := f.At(severity)
	if p := f.field(c); f.severityOf(v) > f.severityOf(*p) {
		*p = v
	}
}

// severityOf is the severity that a figure of the condition amounts to, 0 on the
// healthy side.
func (f *Fault) severityOf(v float64) float64 {
	h := f.healthy()
	return math.Max(0, (v-h)/(f.worst-h))
}

// Severity returns how badly a unit has this fault, 0 not at all .. 1.
func (f *Fault) Severity(c *plant.Condition) float64 {
	s := f.severityOf(*f.field(c))
	if s > 0 && f.fits != nil && f.fits(c) {
		return 0
	}
	return s
}

// Cured reports whether a kind of work on Where puts it right.
func (f *Fault) Cured(w Work) bool {
	for _, x := range f.Cures {
		if x == w {
			return true
		}
	}
	return false
}

// mend puts it right.
func (f *Fault) mend(c *plant.Condition) {
	if f.fit != nil {
		f.fit(c)
		return
	}
	*f.field(c) = f.healthy()
}

// Fitted reports whether the unit is set for it rather than it put right.
func (f *Fault) Fitted() bool { return f.fit != nil }

// CanBe reports whether a unit can have it: one without a meter cannot have a
// jammed one.
func (f *Fault) CanBe(c *plant.Config) bool { return f.on == nil || f.on(c) }

// Catalogue returns every fault, in its fixed order. Read only.
func Catalogue() []Fault { return catalogue }

// Find returns the fault of that ID.
func Find(id string) (*Fault, bool) {
	for i := range catalogue {
		if catalogue[i].ID == id {
			return &catalogue[i], true
		}
	}
	return nil, false
}

// catalogue is in the order of the water's way: valve, injector, brine, drain,
// tank, controller, pipes, house.
var catalogue = join(seatFaults(), injectorFaults, brineFaults, saltFaults, drainFaults, bedFaults,
	driveFaults, settingFaults, pipeFaults, houseFaults)

func join(lists ...[]Fault) (all []Fault) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// leastOpen is what remains of a free area that is stopped up: never quite
// nothing, since even a stopped bore weeps.
const leastOpen = 1e-3
