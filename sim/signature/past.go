package signature

import (
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// Past is the history of an installation before a call, in grains as coarse as
// readings at the call allow.
type Past struct {
	early, late *plant.Model
	lengthS     float64
}

// The draws of the last days are followed more closely: what stands in the tank
// depends on the latest.
const (
	lateS       = 1.4 * unit.Day
	earlyBlockS = 7200
	lateBlockS  = 3600
)

// NewPast prepares a history of so many seconds.
func NewPast(m *plant.Model, lengthS float64) *Past {
	return &Past{early: m.Swift(earlyBlockS), late: m.Swift(lateBlockS), lengthS: lengthS}
}

// Live runs it for a unit in the given condition. The household that comes out of
// it draws no water, as for a call.
func (p *Past) Live(cond plant.Condition) *plant.State {
	s := p.early.Start(cond)
	run(p.early, s, p.lengthS-lateS)
	run(p.late, s, p.lengthS-s.TimeS)
	s.NoDraw = true
	return s
}
