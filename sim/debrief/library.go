// Package debrief judges a finished call: what each reading was worth, how the
// belief over the causes moved, whether the verdict was supported by what had
// been seen, and what a better run would have been.
//
// Its yardstick is the plant itself. Every fault of the catalogue, at a few
// severities, is given the same history and the same acts of the trainee; what
// the instruments would have shown on each of those shadow units, at the same
// moments, is the library that readings are weighed against.
package debrief

import (
	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

// Deed is one act of the trainee and when it was begun.
type Deed struct {
	Tick int64
	Act  call.Act
}

// Case is what is to be judged.
type Case struct {
	Model    *plant.Model
	True     plant.Condition // as the unit was when its history began
	HistoryS float64         // length of that history, s
	Call     *call.Call      // the finished call
	Deeds    []Deed

	entries []*call.Entry // of the journal, by deed: all but the mishaps
}

// hypothesis is one guess at what is wrong: a fault at a severity, or nothing.
type hypothesis struct {
	cause int     // index into causes
	prior float64 // sums to 1 over all
	cond  plant.Condition
}

// healthyPrior is the frequency of calls where the unit is sound, on the scale
// of fault.Fault.Prior; common practice, no source.
const healthyPrior = 6

// causes are the faults of the catalogue and, last, call.NoFault.
func causes() []string {
	var ids []string
	for _, f := range fault.Catalogue() {
		ids = append(ids, f.ID)
	}
	return append(ids, call.NoFault)
}

func hypotheses() []hypothesis {
	var list []hypothesis
	sum := float64(healthyPrior)
	for i, f := range fault.Catalogue() {
		sum += f.Prior
		for _, severity := range f.Severities {
			h := hypothesis{cause: i, prior: f.Prior / float64(len(f.Severities)), cond: plant.Healthy()}
			f.Apply(&h.cond, severity)
			list = append(list, h)
		}
	}
	list = append(list, hypothesis{cause: len(fault.Catalogue()), prior: healthyPrior, cond: plant.Healthy()})
	for i := range list {
		list[i].prior /= sum
	}
	return list
}

// signature is what every instrument would show on one unit at one moment, in
// the order of instrument.All.
type signature []instrument.Reading

// signatureOf reads all instruments of a unit, the samples after running the taps.
func signatureOf(m *plant.Model, s *plant.State) signature {
	const runS = 60
	all := instrument.All()
	sig := make(signature, len(all))
	running := s.Clone()
	running.HouseTap, running.RawTap = max(s.HouseTap, 0.35), max(s.RawTap, 0.5)
	for end := s.TimeS + runS; running.TimeS < end; {
		m.Step(running, min(m.MaxStep(running), end-running.TimeS))
	}
	for i := range all {
		at := s
		if all[i].RunHouseTap > 0 || all[i].RunRawTap > 0 {
			at = running
		}
		sig[i] = all[i].Exact(m, at)
	}
	return sig
}

// shadow is one hypothesis lived through the trainee's call.
type shadow struct {
	hypothesis
	results []*instrument.Reading // by deed up to the first repair: the exact reading that it gave, nil for none
	moments []signature           // by deed up to the first repair: all instruments as a deed was begun that took a reading
	service signature             // at the start of the call
	drawing signature             // a minute into brine draw, had the call begun with a regeneration sent on to it
}

// live runs one hypothesis through history and call.
func (c *Case) live(h hypothesis) shadow {
	m := c.Model.Coarse()
	s := m.Start(h.cond)
	for s.TimeS < c.HistoryS {
		m.Step(s, min(m.MaxStep(s), c.HistoryS-s.TimeS))
	}
	s.NoDraw = true
	sh := shadow{hypothesis: h, service: signatureOf(m, s), drawing: drawing(m, s.Clone())}
	k := call.New(m, s, 0)
	k.Heedless = true
	for i, d := range c.Deeds[:c.firstMended()] {
		k.RunTo(d.Tick)
		sh.moments, sh.results = append(sh.moments, nil), append(sh.results, nil)
		reads := takesReading(d.Act) && !c.entries[i].Unsafe
		if reads {
			sh.moments[i] = signatureOf(m, k.Plant)
		}
		if c.entries[i].Unsafe || k.Do(d.Act) != nil || !reads {
			continue
		}
		k.RunTo(k.BusyUntil)
		if r := k.Journal[len(k.Journal)-1].Reading; r != nil {
			sh.results[i] = &instrument.Reading{Value: r.Value, Seen: r.Text}
		}
	}
	return sh
}

// firstMended is the index of the first deed that changed the unit; the number of
// deeds when none did. What is read later proves the repair and says no more
// about the first cause.
func (c *Case) firstMended() int {
	for i, e := range c.entries {
		if e.Mended {
			return i
		}
	}
	return len(c.Deeds)
}

func takesReading(a call.Act) bool { return a.Kind == call.Test || a.Kind == call.Open }

// drawing sends a unit to brine draw, as one does to see whether it draws, and
// gives its signature there.
func drawing(m *plant.Model, s *plant.State) signature {
	const settleS, stations = 60, 2 // service to backwash, backwash to brine draw
	for range stations {
		s.AdvanceNow = true
		for m.Step(s, 0.25); s.Control.Moving; {
			m.Step(s, 0.25)
		}
	}
	for t := 0.0; t < settleS; t++ {
		m.Step(s, 1)
	}
	return signatureOf(m, s)
}
