package bench

import (
	"errors"
	"fmt"
	"slices"

	"brinebench/sim"
)

// run is the life of the units on the bench: the acts, the moment that is shown, and
// copies of moments passed, from which any other is lived again.
type run struct {
	acts []Act
	now  moment
	kept []moment // oldest first, and never changed
	end  int64    // last tick that has been lived
	log  log
}

// moment is the units at a tick.
type moment struct {
	tick int64
	done int // acts that have been done
	rigs []*sim.Rig
}

const (
	ticksPerS = int64(1 / sim.TickS)
	// A jump lives again no more than keepEvery within the last two hours, twenty times
	// as much before, back to windowTicks.
	keepEvery   = 30 * ticksPerS
	denseTicks  = 2*3600*ticksPerS + keepEvery
	thinEvery   = 20 * keepEvery
	windowTicks = 8 * 3600 * ticksPerS
)

// MostActs is how many acts a bench takes.
const MostActs = 5000

func newRun(rigs []*sim.Rig, acts []Act) (*run, error) {
	if len(acts) > MostActs {
		return nil, fmt.Errorf("acts: %d, more than %d", len(acts), MostActs)
	}
	for i, a := range acts {
		switch {
		case a.Unit < 0 || a.Unit >= len(rigs):
			return nil, fmt.Errorf("acts[%d]: there is no unit %d", i, a.Unit)
		case a.Tick < 0 || i > 0 && a.Tick < acts[i-1].Tick:
			return nil, fmt.Errorf("acts[%d]: tick %d is before the act ahead of it", i, a.Tick)
		}
	}
	r := &run{acts: slices.Clone(acts), now: moment{rigs: rigs}}
	r.keep()
	r.log.add(&r.now)
	return r, r.catchUp()
}

func (m *moment) clone() moment {
	c := *m
	c.rigs = slices.Clone(m.rigs)
	for i := range c.rigs {
		c.rigs[i] = m.rigs[i].Clone()
	}
	return c
}

func (m *moment) hash() (h uint64) {
	for _, r := range m.rigs {
		h = h*1099511628211 ^ r.Hash()
	}
	return h
}

// events counts what has happened to the units.
func (m *moment) events() (n int) {
	for _, r := range m.rigs {
		n += r.Events()
	}
	return n
}

// do does a new act at the moment shown, which is the end of the run.
func (r *run) do(a Act) error {
	if len(r.acts) >= MostActs {
		return fmt.Errorf("acts: more than %d", MostActs)
	}
	if err := r.now.rigs[a.Unit].Set(a.Knob, a.Value); err != nil {
		return err
	}
	r.acts = slices.Insert(slices.Clip(r.acts), r.now.done, a) // others may share what was
	r.now.done++
	return nil
}

// catchUp does the acts of the present tick that have not been done. Those that cannot
// be done, since others were done before them, are left out; the error joins them, each
// by its place until now.
func (r *run) catchUp() error {
	var errs []error
	m := &r.now
	for m.done < len(r.acts) && r.acts[m.done].Tick <= m.tick {
		a := &r.acts[m.done]
		if err := m.rigs[a.Unit].Set(a.Knob, a.Value); err != nil {
			errs = append(errs, fmt.Errorf("acts[%d]: %w", m.done+len(errs), err))
			r.acts = slices.Delete(slices.Clone(r.acts), m.done, m.done+1)
			continue
		}
		m.done++
	}
	return errors.Join(errs...)
}

// step lives one tick: again, or for the first time.
func (r *run) step() error {
	m := &r.now
	for _, rig := range m.rigs {
		rig.Tick()
	}
	m.tick++
	if m.tick > r.end {
		r.end = m.tick
		if r.log.due(m.tick) {
			r.log.add(m)
		}
		if m.tick-r.kept[len(r.kept)-1].tick >= keepEvery {
			r.keep()
		}
	}
	return r.catchUp()
}

// keep keeps a copy of the moment, and lets go of those that are too many.
func (r *run) keep() {
	r.kept = append(r.kept, r.now.clone())
	last := int64(-thinEvery)
	thin := make([]moment, 0, len(r.kept))
	for _, k := range r.kept {
		switch {
		case k.tick < r.now.tick-windowTicks:
			continue
		case k.tick < r.now.tick-denseTicks && k.tick < last+thinEvery && len(thin) > 0:
			continue
		}
		thin, last = append(thin, k), k.tick
	}
	r.kept = thin
}

// seek makes the moment shown one from which a tick can be lived to in the fewest steps.
func (r *run) seek(tick int64) {
	nearest := r.kept[0]
	for _, k := range r.kept {
		if k.tick <= tick {
			nearest = k
		}
	}
	if r.now.tick > tick || nearest.tick > r.now.tick {
		r.now = nearest.clone()
		_ = r.catchUp() // these acts have been done before
	}
}

// branch returns a run that has lived as r has until the moment shown, and ends there.
// What was set later is still to come.
func (r *run) branch() *run { return r.until(r.now.tick) }

// until returns a run at the same moment that has lived as r has until a tick, and ends there.
func (r *run) until(tick int64) *run {
	b := &run{acts: slices.Clone(r.acts), now: r.now.clone(), end: tick, log: r.log.until(tick)}
	for _, k := range r.kept {
		if k.tick <= b.end {
			b.kept = append(b.kept, k)
		}
	}
	return b
}

// double gives the only unit a twin that has lived as it has.
func (r *run) double() {
	twin := func(m *moment) { m.rigs = append(m.rigs[:1:1], m.rigs[0].Clone()); m.done *= 2 }
	twin(&r.now)
	for i := range r.kept {
		twin(&r.kept[i])
	}
	acts := make([]Act, 0, 2*len(r.acts))
	for _, a := range r.acts {
		b := a
		b.Unit = 1
		acts = append(acts, a, b)
	}
	r.acts = acts
	r.log.double()
}

// drop takes a unit of two away.
func (r *run) drop(unit int) {
	var acts []Act
	before := make([]int, len(r.acts)+1) // acts left, of the first so many
	for i, a := range r.acts {
		if a.Unit != unit {
			a.Unit = 0
			acts = append(acts, a)
		}
		before[i+1] = len(acts)
	}
	lose := func(m *moment) { m.rigs = []*sim.Rig{m.rigs[1-unit]}; m.done = before[m.done] }
	lose(&r.now)
	for i := range r.kept {
		lose(&r.kept[i])
	}
	r.acts = acts
	r.log.drop(unit)
}
