package debrief

import (
	"brinebench/sim/call"
	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// isolateMinutes is what it takes to make a part safe to open and to bring the
// unit back: bypass, relieve, unplug, and all of it again backwards.
const isolateMinutes = 4

// fetchMinutes is what any test costs besides: fetching the kit, writing it down.
const fetchMinutes = 2

// minutes is what the use of an instrument costs, opening and closing included.
func minutes(in *instrument.Instrument) float64 {
	if !in.NeedsOpening() {
		return in.Minutes + fetchMinutes
	}
	p, _ := call.Part(in.Where)
	cost := p.Minutes.Open + p.Minutes.Refit + fetchMinutes
	if p.Wet {
		cost += isolateMinutes
	}
	return cost
}

// option is a test that could be made, and what it is worth.
type option struct {
	index   int // into instrument.All
	gain    float64
	minutes float64
}

// rate is bits per minute.
func (o option) rate() float64 { return o.gain / o.minutes }

// options values every instrument at a moment; shows gives what units show of it.
func options(b *signature.Belief, shows func(in int) signature.Wants) []option {
	all := instrument.All()
	list := make([]option, len(all))
	for i := range all {
		list[i] = option{index: i, minutes: minutes(&all[i]), gain: b.Gain(&all[i], shows(i))}
	}
	return list
}

// best returns the option with the most bits per minute.
func best(list []option) option {
	top := list[0]
	for _, o := range list {
		if o.rate() > top.rate() {
			top = o
		}
	}
	return top
}

// indexOf returns the place of the instrument that a deed uses in instrument.All.
func indexOf(a call.Act) (int, bool) {
	for i, in := range instrument.All() {
		if (a.Kind == call.Test && in.ID == a.ID) || (a.Kind == call.Open && in.NeedsOpening() && in.Where == a.Part) {
			return i, true
		}
	}
	return 0, false
}
