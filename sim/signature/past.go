package signature

import (
	"math"
	"slices"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// Past is the history of an installation before a call, as it is lived by a unit
// with any fault: the house's draws, its power cuts, and the course of the trouble.
type Past struct {
	file      *scenario.File
	stretches []stretch
}

// stretch is a part of a history within which neither power nor faults change.
type stretch struct {
	model    *plant.Model
	endS     float64
	day      int // of the history
	powerCut bool
}

// The draws of the last days are followed more closely: what stands in the tank
// depends on the latest.
const (
	lateS       = 1.4 * unit.Day
	earlyBlockS = 7200
	lateBlockS  = 3600
)

// NewPast prepares the history of a scenario, whose plant m is, in grains as coarse
// as readings at the call allow.
func NewPast(f *scenario.File, m *plant.Model) *Past {
	return newPast(f, m.Swift(earlyBlockS), m.Swift(lateBlockS), max(0, lengthS(f)-lateS))
}

// newPast lives with one model up to a time and with another from then on.
func newPast(f *scenario.File, early, late *plant.Model, fromS float64) *Past {
	p := &Past{file: f}
	ends := append(f.Breaks(), lengthS(f))
	if fromS > 0 {
		ends = append(ends, fromS)
	}
	slices.Sort(ends)
	beginS := 0.0
	for _, endS := range slices.Compact(ends) {
		on, _ := f.Powered(beginS)
		x := stretch{model: early, endS: endS, day: int(math.Floor(beginS / unit.Day)), powerCut: !on}
		if beginS >= fromS {
			x.model = late
		}
		p.stretches = append(p.stretches, x)
		beginS = endS
	}
	return p
}

func lengthS(f *scenario.File) float64 { return float64(float64(f.HistoryDays) * unit.Day) }

// Live runs it for a unit. The household that comes out of it draws no water, as
// for a call.
func (p *Past) Live(u *Unit) *plant.State {
	first, last := p.stretches[0].model, p.stretches[len(p.stretches)-1].model
	s := first.Aged(p.condition(u, 0))
	for _, x := range p.stretches {
		suffer(x.model, s, p.condition(u, x.day))
		s.PowerCut = x.powerCut
		x.model.Run(s, x.endS-s.TimeS)
	}
	suffer(last, s, u.Cond)
	s.PowerCut, s.NoDraw = false, true
	return s
}

// condition is that of a unit on a day.
func (p *Past) condition(u *Unit, day int) plant.Condition {
	if u.Cause == len(fault.Catalogue()) {
		return u.Cond
	}
	c := plant.Healthy()
	p.worsen(&c, u, day)
	for i := range u.And {
		p.worsen(&c, &u.And[i], day)
	}
	return c
}

// worsen adds the fault of a unit as it is on a day.
func (p *Past) worsen(c *plant.Condition, u *Unit, day int) {
	f := &fault.Catalogue()[u.Cause]
	f.Apply(c, float64(u.Severity*p.file.CourseOf(f, day)))
}

func suffer(m *plant.Model, s *plant.State, c plant.Condition) {
	if c != s.Cond {
		m.Suffer(s, c)
	}
}
