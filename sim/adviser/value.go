package adviser

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// IsolateMinutes is what it takes to make a part safe to open and to bring the
// unit back: bypass, relieve, unplug, and all of it again backwards.
const IsolateMinutes = 4

// besides is what a test costs besides its own minutes: to fetch the kit and write down
// what it shows. What is asked or seen in passing takes no kit.
func besides(in *instrument.Instrument) float64 {
	const kit, note, passing = 1.5, 0.5, 0.5
	if !in.NeedsOpening() && in.Minutes <= passing {
		return note
	}
	return kit + note
}

// minutes is what the use of an instrument costs, opening and closing included.
func minutes(in *instrument.Instrument) float64 {
	if !in.NeedsOpening() {
		return in.Minutes + besides(in)
	}
	p, _ := call.Part(in.Where)
	cost := p.Minutes.Open + p.Minutes.Refit + besides(in)
	if p.Wet {
		cost += IsolateMinutes
	}
	return cost
}

// Option is a test that could be made, and what it is worth.
type Option struct {
	Index   int // into instrument.All
	Gain    float64
	Minutes float64
}

// Rate is bits per minute.
func (o Option) Rate() float64 { return o.Gain / o.Minutes }

// Work returns the minutes that the page names: without what any test costs besides.
func (o Option) Work() float64 { return o.Minutes - besides(&instrument.All()[o.Index]) }

// Look brings the shadows to a moment and reads them.
func (a *Adviser) Look(tick int64) {
	a.all(func(u int) { a.begin(u, tick, true) })
}

// Options values every instrument at the moment that was looked at last.
func (a *Adviser) Options() []Option {
	list := options(a.b, a.momentOf)
	for i := range list {
		if a.used[i] {
			list[i].Gain = 0
		}
	}
	return list
}

// Ahead values them in another position of the drum (valve.Stop.ID), ahead of the
// present one. It is meant for a unit under power whose drum stands still. Looks into
// parts show the same anywhere, what a house tap gives on the way of the drum depends on
// how long it took, and for a second reading of the same nobody drives there again: none
// of them counts.
func (a *Adviser) Ahead(stop int) []Option {
	shows := a.showsAhead(stop)
	list := options(a.b, func(in int) signature.Wants {
		return func(u int) (r instrument.Reading, ok bool) {
			if show := shows[u]; show != nil {
				return show[in], true
			}
			return r, false
		}
	})
	for i := range list {
		in := &instrument.All()[i]
		if in.Fixed && a.used[i] || a.seen[i]&(1<<stop) != 0 || in.NeedsOpening() || in.RunHouseTap > 0 {
			list[i].Gain = 0
		}
	}
	return list
}

// showsAhead is what the units that are followed would show in another position: of
// a unit that nobody has worked at, what it would have shown had the call begun with
// a regeneration sent on to it.
func (a *Adviser) showsAhead(stop int) []signature.Show {
	m := a.lib.model
	stops := m.Config().Program.Stops
	shows := make([]signature.Show, len(a.live))
	a.all(func(u int) {
		if a.worked {
			shows[u] = signature.Ahead(m, a.live[u].call.Plant.Clone(), stops[stop].ID)
			return
		}
		x := a.lib.units[u]
		if x.ahead == nil {
			x.ahead = make([]signature.Show, len(stops))
		}
		if x.ahead[stop] == nil {
			x.ahead[stop] = signature.Ahead(m, x.start.Clone(), stops[stop].ID)
		}
		shows[u] = x.ahead[stop]
	})
	return shows
}

// options values every instrument; shows gives what units show of it.
func options(b *signature.Belief, shows func(in int) signature.Wants) []Option {
	all := instrument.All()
	list := make([]Option, len(all))
	for i := range all {
		list[i] = Option{Index: i, Minutes: minutes(&all[i]), Gain: b.Gain(&all[i], shows(i))}
	}
	return list
}

// Best returns the option with the most bits per minute.
func Best(list []Option) Option {
	return slices.MaxFunc(list, func(a, b Option) int {
		switch {
		case a.Rate() < b.Rate():
			return -1
		case a.Rate() > b.Rate():
			return 1
		}
		return 0
	})
}

// appraise sets the test that was made against the best that could have been, and reports
// whether it was a duty.
func (s *Step) appraise(made, top Option) (duty bool) {
	// A test is left out of economy where no test was worth much any more, and a
	// reading of zero pressure is a duty, not a question.
	const littleBits, dutyBits = 0.1, 0.05
	s.GainBits, s.BestBits, s.BestTest = made.Gain, top.Gain, instrument.All()[top.Index].Name
	duty = instrument.All()[made.Index].Quantity == instrument.Pressure && made.Gain < dutyBits
	s.Ratio = 1
	if top.Rate() > 0 {
		s.Ratio = made.Rate() / top.Rate()
	}
	s.Counts = top.Gain >= littleBits && !duty
	return duty
}

// credit notes what a test told, in bits, beside the best that could have been.
func (s *Step) credit(made, top Option, toldBits float64) {
	if best := top.Rate(); best > 0 {
		s.Told = max(0, min(1, toldBits/made.Minutes/best))
	}
}

// Split tells what a test would tell apart at the moment that was looked at last:
// the likeliest candidate, and the likeliest of those that would show otherwise.
func (a *Adviser) Split(in int) (lead, other int, ok bool) {
	const unlike = 0.2
	x := &instrument.All()[in]
	belief := a.Belief()
	lead = Lead(belief)
	show := a.momentOf(in)
	got, ok := show(a.likeliest(lead).Hi)
	if !ok {
		return lead, 0, false
	}
	other = -1
	for c := range belief {
		if c == lead || belief[c] == 0 || other >= 0 && belief[c] <= belief[other] {
			continue
		}
		if h := a.likeliest(c); h != nil && h.Likelihood(x, got, show) < unlike {
			other = c
		}
	}
	return lead, other, other >= 0
}

// Salty is the belief that a house tap, opened at the moment that was looked at last,
// would give salt water.
func (a *Adviser) Salty() (p float64) {
	const muchKgM3 = 0.3 // chloride that anybody tastes: the taste begins at 0.25 (WHO, Guidelines for Drinking-water Quality)
	show := a.momentOf(slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == "chloride-house" }))
	for i, h := range a.b.Of {
		lo, _ := show(h.Lo)
		hi, _ := show(h.Hi)
		if max(lo.Value, hi.Value) > muchKgM3 {
			p += a.b.P[i]
		}
	}
	return p
}

// Lead is the candidate that is believed most.
func Lead(belief []float64) int { return slices.Index(belief, slices.Max(belief)) }
