package debrief

import (
	"fmt"
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// When the greedy run stops testing: belief in the leading cause, and tests made.
const (
	enough   = 0.9
	maxTests = 6
)

const isolateFirst = "Bypass, let the pressure off through the drain and see zero on the gauge; unplug the controller."

// better sketches an economical run: the test with the most bits per minute
// first, on the readings that this unit would have given, in service and in
// brine draw, until one cause leads; then repair and proof.
func (c *Case) better(r *Result, l *shadows) {
	truth := c.nearest(l)
	b := signature.NewBelief(l.all)
	drawing, isolated := false, false
	fresh := newUses()
	here, draw := of(l.asFound), of(l.inDraw)
	for range maxTests {
		if slices.Max(b.ByCause()) >= enough {
			break
		}
		top := best(fresh.only(options(b, here)))
		if !drawing {
			if alt := best(options(b, draw)); alt.gain/(alt.minutes+2) > top.rate() {
				top, here, drawing = alt, draw, true
				clear(fresh.used)
				r.Better = append(r.Better, "Start a regeneration and send the drum on to brine draw.")
			}
		}
		if top.gain < 0.01 {
			break
		}
		fresh.used[top.index] = true
		in := &instrument.All()[top.index]
		if p, _ := call.Part(in.Where); in.NeedsOpening() && p.Wet && !isolated {
			r.Better, isolated = append(r.Better, isolateFirst), true
		}
		r.Better = append(r.Better, fmt.Sprintf("%s (%.3g min with fetching and fitting, worth %.2f bits).", in.Name, top.minutes, top.gain))
		got, _ := here(top.index)(truth)
		b.Update(in, got, here(top.index))
		b.Drop(unlikely)
	}
	r.Better = append(r.Better, c.remedy(r, isolated)...)
}

// of gives what units show of an instrument, given what they show of all.
func of(show func(u int) signature.Show) func(in int) signature.Wants {
	return func(in int) signature.Wants {
		return func(u int) (instrument.Reading, bool) { return show(u)[in], true }
	}
}

// nearest is the unit of the library whose condition comes nearest to the true one.
func (c *Case) nearest(l *shadows) int {
	truth := c.File.Condition()
	nearest, least := 0, 0.0
	for u := range l.units {
		d := 0.0
		a, b := l.units[u].Cond.Fields(), truth.Fields()
		for i := range a {
			d += max(a[i]-b[i], b[i]-a[i])
		}
		if u == 0 || d < least {
			nearest, least = u, d
		}
	}
	return nearest
}

// remedy says how what was wrong is put right.
func (c *Case) remedy(r *Result, isolated bool) (steps []string) {
	for _, id := range r.True {
		f, _ := fault.Find(id)
		p, _ := call.Part(f.Where)
		if p.Wet && !isolated {
			steps = append(steps, isolateFirst)
		}
		steps = append(steps, fmt.Sprintf("Put right: %s (%s). Put everything back. %s", p.Name, f.Name, f.Vain))
	}
	if len(r.True) > 0 {
		steps = append(steps,
			"Return to service, run a regeneration, and see that brine is drawn.",
			"Let it finish, then show soft water at the house tap.")
	}
	return steps
}
