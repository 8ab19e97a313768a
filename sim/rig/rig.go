// Package rig is a unit on the bench: all about it can be set while it runs, and
// nobody is called to it. What is set is a plain list of acts, each a knob and a
// value, so that the same acts at the same ticks give the same bits.
package rig

import (
	"fmt"
	"math"
	"slices"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
	"brinebench/sim/water"
)

// TickS is the length of one tick, in s: that of a service call.
const TickS = 0.25

// Rig is one unit on the bench.
type Rig struct {
	cfg    plant.Config // as it is set now
	model  *plant.Model // made from it
	State  *plant.State
	faults []float64 // severities by the catalogue, 0..1
	Ticks  int64     // since the start
	Events int       // happenings a person may wait for, counted: changes of plant.Happening

	was plant.Happening // at the last tick
}

// New puts the installation of a scenario on the bench: sound and newly regenerated,
// at the hour of the call. Errors are those of plant.New.
func New(f *scenario.File) (*Rig, error) {
	r := &Rig{cfg: f.Config(), faults: make([]float64, len(fault.Catalogue()))}
	m, err := plant.New(r.cfg)
	if err != nil {
		return nil, err
	}
	r.model, r.State = m, m.Start(plant.Healthy())
	r.was = m.Happening(r.State)
	return r, nil
}

// Model returns what the unit runs on now. Read only.
func (r *Rig) Model() *plant.Model { return r.model }

// Clone returns an independent copy.
func (r *Rig) Clone() *Rig {
	c := *r
	c.State, c.faults = r.State.Clone(), slices.Clone(r.faults)
	return &c
}

// Tick moves the unit on by TickS seconds.
func (r *Rig) Tick() {
	r.model.Step(r.State, TickS)
	r.Ticks++
	now := r.model.Happening(r.State)
	r.Events += now.Since(r.was)
	r.was = now
}

// Hash returns a hash of the unit and of all that is set on it.
func (r *Rig) Hash() uint64 {
	h := repro.NewHash()
	h.Uint64(r.State.Hash())
	h.Int64(r.Ticks)
	h.Int64(int64(r.Events))
	h.Floats(r.faults)
	for i := range knobs {
		if k := &knobs[i]; k.read != nil {
			h.Float64(k.read(&r.cfg))
		}
	}
	return h.Sum()
}

// Value returns what a knob is set to, NaN-free, in the knob's quantity; of a push 0.
// It panics where there is no such knob.
func (r *Rig) Value(id string) float64 {
	k, ok := Find(id)
	switch {
	case !ok:
		panic("rig: no knob " + id)
	case k.fault >= 0:
		return r.faults[k.fault]
	case k.read != nil:
		return k.read(&r.cfg)
	case k.held != nil:
		return k.held(r.State)
	}
	return 0
}

// Set sets a knob. An error names the knob and leaves the unit as it is.
func (r *Rig) Set(id string, v float64) error {
	k, ok := Find(id)
	if !ok {
		return fmt.Errorf("no knob is named %q", id)
	}
	if !k.fits(&r.cfg) {
		return fmt.Errorf("%s: this unit has none", k.ID)
	}
	if err := k.check(v); err != nil {
		return err
	}
	switch {
	case k.fault >= 0:
		r.suffer(k.fault, v)
	case k.write != nil:
		return r.refit(k, v)
	default:
		k.do(r.model, r.State, v)
	}
	return nil
}

func (k *Knob) check(v float64) error {
	if !(v >= k.Low && v <= k.High) {
		return fmt.Errorf("%s: %v is outside %v to %v", k.ID, v, k.Low, k.High)
	}
	if k.Whole && v != math.Floor(v) {
		return fmt.Errorf("%s: %v is no whole number", k.ID, v)
	}
	return nil
}

// refit changes a figure of the installation.
func (r *Rig) refit(k *Knob, v float64) error {
	cfg := r.cfg
	k.write(&cfg, v)
	m, err := plant.New(cfg)
	if err != nil {
		return fmt.Errorf("%s: %w", k.ID, err)
	}
	m.Refit(r.State, r.model)
	r.cfg, r.model = cfg, m
	return nil
}

// suffer gives the unit a fault of the catalogue at a severity. One that becomes
// less is mended first and comes about anew, for there are those that do not go away
// by themselves.
func (r *Rig) suffer(i int, severity float64) {
	if severity < r.faults[i] && severity > 0 {
		r.suffer(i, 0)
	}
	r.faults[i] = severity
	c := plant.Healthy()
	for j := range r.faults {
		fault.Catalogue()[j].Apply(&c, r.faults[j])
	}
	was := r.State.Cond
	if c == was {
		return
	}
	r.model.Suffer(r.State, c)
	if c.SaltLeft > was.SaltLeft {
		fillSalt(r.model, r.State, 1)
	}
	if c.MorePeople != was.MorePeople {
		r.model.LiveAnew(r.State)
	}
}

// fillSalt brings the salt up to what the tank was set up with.
func fillSalt(m *plant.Model, s *plant.State, _ float64) {
	if missing := m.SaltMissingKg(s); missing > 0 {
		m.AddSalt(s, missing)
	}
}

// hardness sets calcium and magnesium, in the same shares as before.
func hardness(c *plant.Config, v float64) {
	by := v / c.Feed.Hardness()
	c.Feed[water.Ca], c.Feed[water.Mg] = float64(c.Feed[water.Ca]*by), float64(c.Feed[water.Mg]*by)
}
