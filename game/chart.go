package game

import (
	"math"
	"strconv"

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

// Span is the lowest and highest value of a trace in one column of a chart.
type Span struct{ Low, High float64 }

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
// columns, oldest first; a column before the first sample has Low > High.
func (c *Charts) Columns(dst []Span, t Trace, overS float64, n int) []Span {
	per := overS / sampleS / float64(n)
	first := float64(len(c.samples)) - overS/sampleS
	for i := range n {
		lo := int(math.Floor(first + float64(i)*per))
		hi := max(int(math.Floor(first+float64(i+1)*per)), lo+1)
		dst = append(dst, c.span(t, lo, hi))
	}
	return dst
}

func (c *Charts) span(t Trace, lo, hi int) Span {
	s := Span{math.Inf(1), math.Inf(-1)}
	for i := max(lo, 0); i < min(hi, len(c.samples)); i++ {
		s.Low = min(s.Low, c.samples[i][t])
		s.High = max(s.High, c.samples[i][t])
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

// Ruled draws the lines of time on the paper of a chart that shows overS seconds, as the
// path of a drawing of that size: how far apart they are, the page says beside it.
func Ruled(overS, wide, high float64) string {
	apartS := 3600.0
	for _, s := range []float64{60, 300, 1800} {
		if overS <= 6*s {
			apartS = s
			break
		}
	}
	var path []byte
	for s := overS - apartS; s > 0; s -= apartS {
		path = strconv.AppendFloat(append(path, 'M'), s/overS*wide, 'f', 1, 64)
		path = strconv.AppendFloat(append(path, " 0V"...), high, 'f', 0, 64)
	}
	return string(path)
}
