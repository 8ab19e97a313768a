package game

import (
	"math"

	"brinebench/game/strip"
	"brinebench/sim"
)

// Trace names one line of the strip charts.
type Trace int

// The traces.
const (
	TracePressure Trace = iota // at the valve inlet, Pa
	TraceDrain                 // flow into the air gap, m³/s
	TraceBrine                 // brine level, m
	TraceHardness              // at the valve outlet, mol/m³
	NumTraces
)

const (
	sampleS  = 1            // time of the unit between two samples
	keepLast = 8 * 3600 / 1 // samples kept: a working day
)

// Mark is one act of the person on the charts.
type Mark struct {
	TimeS  float64
	Action sim.Action
}

// Charts keeps the traces of the call. Its zero value is ready.
type Charts struct {
	samples [][NumTraces]float64 // one per sampleS, oldest first
	endS    float64              // time of the newest
	marks   []Mark
}

// add keeps the state when a sample is due.
func (c *Charts) add(v *sim.View) {
	if len(c.samples) > 0 && v.TimeS < c.endS+sampleS {
		return
	}
	c.endS = v.TimeS
	if c.samples == nil { // all at once, so that it never grows in a frame
		c.samples = make([][NumTraces]float64, 0, 2*keepLast+1)
	}
	c.samples = append(c.samples, [NumTraces]float64{
		v.PressurePa[sim.NodeValveIn], v.DrainStream, v.Tank.LevelM, outletHardness(v),
	})
	if len(c.samples) > 2*keepLast {
		c.samples = append(c.samples[:0], c.samples[len(c.samples)-keepLast:]...)
	}
}

func (c *Charts) mark(timeS float64, a sim.Action) {
	c.marks = append(c.marks, Mark{timeS, a})
}

// EndS returns the time of the newest sample, s.
func (c *Charts) EndS() float64 { return c.endS }

// Columns appends to dst the trace's spans over the last overS seconds in n
// columns, oldest first; a column before the first sample is empty.
func (c *Charts) Columns(dst []strip.Span, t Trace, overS float64, n int) []strip.Span {
	per := overS / sampleS / float64(n)
	first := float64(len(c.samples)) - overS/sampleS
	for i := range n {
		lo := int(math.Floor(first + float64(i)*per))
		hi := max(int(math.Floor(first+float64(i+1)*per)), lo+1)
		dst = append(dst, c.span(t, lo, hi))
	}
	return dst
}

func (c *Charts) span(t Trace, lo, hi int) strip.Span {
	s := strip.Nothing
	for i := max(lo, 0); i < min(hi, len(c.samples)); i++ {
		s = s.With(c.samples[i][t])
	}
	return s
}

// MarksSince returns the acts at or after that time, oldest first.
func (c *Charts) MarksSince(timeS float64) []Mark {
	for i, m := range c.marks {
		if m.TimeS >= timeS {
			return c.marks[i:]
		}
	}
	return nil
}
