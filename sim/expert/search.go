package expert

import (
	"fmt"
	"slices"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/instrument"
)

// When the search ends: belief in the leading candidate, what no test is worth any
// more, and acts of search.
const (
	sure       = 0.95
	surest     = 0.99 // nobody is surer than that
	littleBits = 0.02
	mostMoves  = 60
)

// Search tests until one candidate leads or no test tells more.
func (p *Expert) Search() {
	for range mostMoves {
		tested := len(p.run.Deeds) > 0 // what one was told is no evidence yet
		if tested && slices.Max(p.a.Belief()) >= sure || !p.next() {
			return
		}
	}
}

// seenBy are the tests that show a cause in the house, which no opened part does.
var seenBy = map[string]string{
	"kitchen-raw": "kitchen-compare", "house-leak": "flow-idle", "feed-harder": "hardness-raw",
	"more-people": "ask-people", "feed-iron": "iron-raw", "feed-cold": "water-temperature",
}

// see makes the test that shows what is to be named, where that lies in the house and the
// test has not been made: nobody names what he has not seen. It goes on searching after that.
func (p *Expert) see() {
	for range call.MaxCauses {
		test := p.unseen()
		if test == "" || p.away() || p.isolated || p.salty() {
			return
		}
		in, _ := instrument.Find(test)
		p.test(test, in.Name+": it is seen before it is named.")
		p.Search()
	}
}

// unseen is a test that shows what is to be named next, and has not been made; "" for none.
func (p *Expert) unseen() string {
	found, _ := p.unnamedLead()
	for _, id := range found {
		test := seenBy[id]
		made := slices.ContainsFunc(p.run.Deeds, func(d adviser.Deed) bool { return d.Act.Kind == call.Test && d.Act.ID == test })
		if test != "" && !made {
			return test
		}
	}
	return ""
}

// next makes the best move there is; false where none is worth it.
func (p *Expert) next() bool {
	p.settle()
	p.a.Look(p.c.Ticks)
	top := adviser.Best(p.options())
	stop, there := p.elsewhere()
	switch {
	case there.Gain >= littleBits && there.Rate() > top.Rate():
		p.goTo(stop, fmt.Sprintf("%s would tell most in %s: %s (%.2f bits).", name(there), p.c.Model().Config().Program.Stops[stop].Name, Worth(there.Gain), there.Gain))
	case p.isolated && top.Gain < worthStaying:
		p.back()
	case top.Gain < littleBits:
		return false
	case instrument.All()[top.Index].NeedsOpening() && !p.wentHome && p.canGoHome():
		p.wentHome = true
		p.goTo(0, "Before anything is opened the unit goes back to service: the house's taps may tell as much.")
	default:
		return p.take(top)
	}
	return true
}

// worthStaying is what a test must be worth for the unit to be kept without water.
const worthStaying = 0.1

func name(o adviser.Option) string { return instrument.All()[o.Index].Name }

// saltRisk is the belief that there is salt water at the house above which no tap is
// opened there.
const saltRisk = 0.02

// options values the tests that can be made here; what has been made safe already
// costs no more for that.
func (p *Expert) options() []adviser.Option {
	list, salty := p.a.Options(), p.a.Salty() > saltRisk
	for i := range list {
		in := &instrument.All()[i]
		if salty && in.RunHouseTap > 0 {
			list[i].Gain = 0
		}
		if in.NeedsOpening() && part(in.Where).Wet && p.isolated {
			list[i].Minutes -= adviser.IsolateMinutes
		}
		if in.NeedsOpening() && p.c.IsOpen(in.Where) {
			list[i].Gain = 0
		}
	}
	return list
}

// elsewhere finds the position ahead in which a test would tell most per minute, the
// way there included, and from service the way home: who drives off leaves the house
// without soft water, and looks at what is in service first. Out of brine draw the drum
// goes no further than the rinse: brine must not reach the house.
func (p *Expert) elsewhere() (stop int, top adviser.Option) {
	const wayMinutes, settleMinutes, homeMinutes = 0.5, 1, 3
	if !p.canDrive() || len(p.c.Opened) > 0 {
		return 0, top
	}
	stops := p.c.Model().Config().Program.Stops
	here := p.station()
	for i := here + 1; i < len(stops); i++ {
		if here > 0 && stops[here].ID != "backwash" && i > here+1 || stops[here].ID == "fast-rinse" {
			break
		}
		way := float64(wayMinutes*float64(i-here)) + settleMinutes
		if here == 0 {
			way += homeMinutes
		}
		for _, o := range p.a.Ahead(i) {
			o.Minutes += way
			if top.Minutes == 0 || o.Rate() > top.Rate() {
				stop, top = i, o
			}
		}
	}
	return stop, top
}

// canGoHome reports whether the drum, away for what a drain test tells, can be driven back
// to service: from behind brine draw, with no salt in the bed that could reach the house.
func (p *Expert) canGoHome() bool {
	return p.away() && p.station() > p.stop("brine") && p.canDrive() && len(p.c.Opened) == 0 && !p.salty()
}

// take makes a test.
func (p *Expert) take(o adviser.Option) bool {
	in := &instrument.All()[o.Index]
	reason := p.why(o)
	if in.NeedsOpening() {
		return p.open(in.Where, reason)
	}
	return p.test(in.ID, reason) != nil
}

// why says in a sentence what a test is made for.
func (p *Expert) why(o adviser.Option) string {
	worth := fmt.Sprintf("%s (%.2f bits) in %g min", Worth(o.Gain), o.Gain, o.Work())
	lead, other, ok := p.a.Split(o.Index)
	if !ok {
		return fmt.Sprintf("%s: worth %s.", name(o), worth)
	}
	ids := p.ids()
	one, two := ids[lead], ids[other]
	if on, under := besides(one, two); on != "" {
		return fmt.Sprintf("%s tells whether %q comes on top of %q: %s.", name(o), call.VerdictName(on), call.VerdictName(under), worth)
	}
	return fmt.Sprintf("%s tells %q from %q: %s.", name(o), call.VerdictName(one), call.VerdictName(two), worth)
}

// besides is what one of two verdicts has beyond the other, and that other; "" where
// neither is a part of the other.
func besides(a, b string) (on, under string) {
	more, fewer := call.VerdictIDs(a), call.VerdictIDs(b)
	if len(more) < len(fewer) {
		more, fewer, b = fewer, more, a
	}
	shared := 0
	for _, id := range more {
		if slices.Contains(fewer, id) {
			shared++
		} else {
			on += "+" + id
		}
	}
	if shared < len(fewer) {
		return "", ""
	}
	return on[1:], b
}

// unnamedLead is what is believed most of all that has not been named yet.
func (p *Expert) unnamedLead() (found []string, belief float64) {
	belief = -1
	for i, x := range p.a.Belief() {
		if list := p.unnamed(p.ids()[i]); len(list) > 0 && x > belief {
			found, belief = list, x
		}
	}
	return found, belief
}

// name names causes and returns them.
func (p *Expert) name(found []string, belief float64) []string {
	id := found[0]
	for _, more := range found[1:] {
		id += "+" + more
	}
	sure := min(belief, surest)
	p.Do(call.Act{Kind: call.Diagnose, ID: id, Value: sure}, fmt.Sprintf("The readings speak for it with %.0f %%.", 100*sure))
	p.named = append(p.named, found...)
	return found
}

// unnamed are the causes of a candidate that have not been named.
func (p *Expert) unnamed(id string) (list []string) {
	for _, one := range call.VerdictIDs(id) {
		if !slices.Contains(p.named, one) {
			list = append(list, one)
		}
	}
	return list
}

// Belief over the library's candidates, by what was read so far.
func (p *Expert) Belief() []float64 { return p.a.Belief() }
