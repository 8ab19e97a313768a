// Package debrief judges a finished call: what each reading was worth, how the
// belief over the causes moved, whether the verdict was supported by what had
// been seen, and what a better run would have been.
//
// Its yardstick is the plant itself. Every fault of the catalogue, at a few
// severities, is given the same history, power cuts and onset of the trouble included
// (see package signature), and the same acts of the trainee; what
// the instruments would have shown on each of those shadow units, at the same
// moments, is the library that readings are weighed against.
package debrief

import (
	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
)

// Deed is one act of the trainee and when it was begun.
type Deed struct {
	Tick int64
	Act  call.Act
}

// Case is what is to be judged.
type Case struct {
	File  *scenario.File
	Model *plant.Model // of the file's plant
	Call  *call.Call   // the finished call
	Deeds []Deed

	entries []*call.Entry // of the journal, by deed: all but the mishaps
}

// shadow is one unit of the library that lives through the trainee's call.
type shadow struct {
	signature.Unit
	start *plant.State // as it was found
	call  *call.Call   // nil once nobody believes in it any more

	moment signature.Show      // as the present deed was begun
	result *instrument.Reading // the exact reading that it gave; nil for none

	service, drawing signature.Show // see asFound and inDraw
}

// shadows are all of them, and the belief that they serve.
type shadows struct {
	model *plant.Model
	units []shadow
	all   []signature.Hypothesis
}

// shadows lives through the history with every unit.
func (c *Case) shadows(progress func(done float64)) *shadows {
	cfg := c.Model.Config()
	past := signature.NewPast(c.File, c.Model)
	grid := signature.Units(cfg)
	l := &shadows{model: c.Model.Coarse(), all: signature.Hypotheses(grid, signature.Prior(cfg))}
	for i, u := range grid {
		s := past.Live(&u)
		k := call.New(l.model, s.Clone(), 0)
		k.Heedless = true
		l.units = append(l.units, shadow{Unit: u, start: s, call: k})
		progress(float64(i+1) / float64(len(grid)))
	}
	return l
}

// follow lets go of the units that belief has dropped.
func (l *shadows) follow(b *signature.Belief) {
	for u := range l.units {
		if l.units[u].call != nil && !b.Follows(u) {
			l.units[u].call = nil
		}
	}
}

// begin brings all that are followed to the moment of a deed and reads them when
// the deed is going to read.
func (l *shadows) begin(d Deed, reads bool) {
	for u := range l.units {
		sh := &l.units[u]
		sh.moment, sh.result = nil, nil
		if sh.call == nil {
			continue
		}
		sh.call.RunTo(d.Tick)
		if reads {
			sh.moment = signature.Read(l.model, sh.call.Plant)
		}
	}
}

// do has them live through the deed.
func (l *shadows) do(d Deed, reads bool) {
	for u := range l.units {
		sh := &l.units[u]
		if sh.call == nil || sh.call.Do(d.Act) != nil || !reads {
			continue
		}
		k := sh.call
		k.RunTo(k.BusyUntil)
		if r := k.Journal[len(k.Journal)-1].Reading; r != nil {
			sh.result = &instrument.Reading{Value: r.Value, Seen: r.Text}
		}
	}
}

// momentOf gives what an instrument, by its place in instrument.All, shows as the
// present deed is begun.
func (l *shadows) momentOf(in int) signature.Wants {
	return func(u int) (r instrument.Reading, ok bool) {
		if show := l.units[u].moment; show != nil {
			return show[in], true
		}
		return r, false
	}
}

// results gives what the present deed brought to light.
func (l *shadows) results(u int) (r instrument.Reading, ok bool) {
	if got := l.units[u].result; got != nil {
		return *got, true
	}
	return r, false
}

// asFound gives what a unit shows at the start of the call.
func (l *shadows) asFound(u int) signature.Show {
	sh := &l.units[u]
	if sh.service == nil {
		sh.service = signature.Read(l.model, sh.start)
	}
	return sh.service
}

// inDraw gives what it shows in brine draw, had the call begun with a regeneration
// sent on to it, as one does to see whether it draws.
func (l *shadows) inDraw(u int) signature.Show {
	sh := &l.units[u]
	if sh.drawing == nil {
		sh.drawing = signature.InDraw(l.model, sh.start.Clone())
	}
	return sh.drawing
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

// lastRead is the index of the last deed before it that gave a reading; −1 where
// none did.
func (c *Case) lastRead() int {
	for i := c.firstMended() - 1; i >= 0; i-- {
		if c.reads(i) {
			return i
		}
	}
	return -1
}

// reads reports whether a deed gave a reading.
func (c *Case) reads(i int) bool {
	e := c.entries[i]
	_, instrument := indexOf(e.Action)
	return instrument && e.Reading != nil && !e.Unsafe
}

func takesReading(a call.Act) bool { return a.Kind == call.Test || a.Kind == call.Open }
