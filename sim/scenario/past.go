package scenario

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// Past is a unit that lives through days with the faults that each of them brings,
// with power in the house or without.
type Past struct {
	State *plant.State
	file  *File
	model *plant.Model
	day   int // that has begun
}

// Begin starts a unit, in the condition of its first day.
func (f *File) Begin(m *plant.Model) *Past {
	return &Past{State: m.Aged(f.ConditionOn(0)), file: f, model: m}
}

// Step moves on by one step of the plant, at most to endS.
func (p *Past) Step(endS float64) {
	s := p.State
	if s.TimeS >= float64(unit.Day*float64(p.day+1)) {
		p.day++
		if c := p.file.ConditionOn(p.day); c != s.Cond {
			p.model.Suffer(s, c)
		}
	}
	on, forS := p.file.Powered(s.TimeS)
	s.PowerCut = !on
	untilDay := float64(unit.Day*float64(p.day+1)) - s.TimeS
	p.model.Step(s, min(p.model.MaxStep(s), endS-s.TimeS, math.Max(untilDay, 0.05), forS))
}

// End brings the unit to the moment of the call and lets it go.
func (p *Past) End() *plant.State {
	s := p.State
	s.PowerCut = false
	if c := p.file.Condition(); c != s.Cond {
		p.model.Suffer(s, c)
	}
	return s
}
