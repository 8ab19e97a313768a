package sim

import (
	"fmt"
	"math"

	"brinebench/sim/fault"
	"brinebench/sim/rig"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// What can be set on a unit on the bench (see package rig).
type (
	Knob      = rig.Knob
	KnobGroup = rig.Group
)

// KnobGroups returns the groups of knobs in their order.
func KnobGroups() []KnobGroup { return rig.Groups() }

// FindKnob returns a knob by its ID, whichever units have it.
func FindKnob(id string) (*Knob, bool) { return rig.Find(id) }

// Rig is a unit on the bench: all about it can be seen, and set while it runs.
type Rig struct {
	file  *scenario.File
	unit  *rig.Rig
	setup *Setup // made anew when a size is changed
}

// OpenRig puts the installation of a scenario on the bench, sound and newly
// regenerated. The seed moves the household's days. Errors name file and field, all
// of them.
func OpenRig(name string, scenarioJSON []byte, seed uint64) (*Rig, error) {
	f, err := scenario.Decode(name, scenarioJSON)
	if err != nil {
		return nil, err
	}
	f.Vary(seed)
	u, err := rig.New(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	r := &Rig{file: f, unit: u}
	r.dress()
	return r, nil
}

// dress makes the setup of the unit as it is set now.
func (r *Rig) dress() {
	m := r.unit.Model()
	s, c := newSetup(r.file, m), m.Config()
	s.BrineTankDiameterM = 2 * math.Sqrt(c.Brine.AreaM2/math.Pi)
	s.NozzleMM, s.ThroatMM = c.NozzleM*1000, c.ThroatM*1000
	s.DrainControlGPM, s.RefillControlGPM = c.DrainM3S/unit.GPM, c.RefillM3S/unit.GPM
	s.FeedTempC = c.Site.Feed.MeanC
	r.setup = &s
}

// Setup returns the unit's sizes and program; another pointer after a size has been
// changed. Read only.
func (r *Rig) Setup() *Setup { return r.setup }

// Knobs returns what can be set on this unit, by group.
func (r *Rig) Knobs() []*Knob { return r.unit.Knobs() }

// Value returns what a knob is set to, SI; it panics where there is none of that ID.
func (r *Rig) Value(knob string) float64 { return r.unit.Value(knob) }

// Set sets a knob, SI. An error names the knob and leaves the unit as it is.
func (r *Rig) Set(knob string, value float64) error {
	m := r.unit.Model()
	if err := r.unit.Set(knob, value); err != nil {
		return err
	}
	if r.unit.Model() != m {
		r.dress()
	}
	return nil
}

// Tick advances the unit by TickS seconds.
func (r *Rig) Tick() { r.unit.Tick() }

// Ticks returns how many ticks the unit has run.
func (r *Rig) Ticks() int64 { return r.unit.Ticks }

// Events counts the happenings a person may wait for.
func (r *Rig) Events() int { return r.unit.Events }

// Hash returns the hash of the unit and of all that is set on it.
func (r *Rig) Hash() uint64 { return r.unit.Hash() }

// Clone returns an independent copy.
func (r *Rig) Clone() *Rig {
	c := *r
	c.unit = r.unit.Clone()
	return &c
}

// View copies the present state of the unit into v; nothing of its condition is
// hidden.
func (r *Rig) View(v *View) {
	s := r.unit.State
	viewUnit(r.unit.Model(), s, v)
	v.Tick = r.unit.Ticks
	v.TimeS = float64(float64(r.unit.Ticks) * TickS)
	v.Opened, v.Condition, v.Bared = v.Opened[:0], s.Cond, true
}

// Wrong returns the names of the faults that the unit has now, in English.
func (r *Rig) Wrong() (names []string) {
	for _, f := range fault.Wrong(r.unit.State.Cond) {
		names = append(names, f.Name)
	}
	return names
}
