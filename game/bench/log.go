package bench

import (
	"math"
	"slices"

	"brinebench/game/strip"
	"brinebench/sim"
)

// log keeps every quantity of every unit as it was lived.
type log struct {
	first int64       // tick of the first sample
	rows  int         // samples kept
	units [][]float32 // of each unit the samples, each all quantities in their order
	view  *sim.View   // to read them from
}

const (
	sampleTicks = 2 * ticksPerS
	keepRows    = int(windowTicks / sampleTicks)
)

func (l *log) due(tick int64) bool { return tick%sampleTicks == 0 }

func (l *log) add(m *moment) {
	if l.rows == 0 {
		l.first, l.units, l.view = m.tick, make([][]float32, len(m.rigs)), &sim.View{}
	}
	for u, r := range m.rigs {
		r.View(l.view)
		for i := range quantities {
			l.units[u] = append(l.units[u], float32(quantities[i].of(l.view)))
		}
	}
	l.rows++
	if over := l.rows - keepRows; over > keepRows/4 {
		for u := range l.units {
			l.units[u] = append(l.units[u][:0], l.units[u][over*len(quantities):]...)
		}
		l.rows -= over
		l.first += int64(over) * sampleTicks
	}
}

// until returns a copy that ends with a tick.
func (l *log) until(tick int64) log {
	rows := int((tick - l.first + sampleTicks) / sampleTicks) // below 0 where the log begins later
	c := log{first: l.first, rows: min(max(0, rows), l.rows), view: &sim.View{}}
	for _, u := range l.units {
		c.units = append(c.units, slices.Clone(u[:c.rows*len(quantities)]))
	}
	return c
}

func (l *log) double()       { l.units = append(l.units, slices.Clone(l.units[0])) }
func (l *log) drop(unit int) { l.units = [][]float32{l.units[1-unit]} }

// at returns a quantity at the sample nearest to a tick; ok where one is kept.
func (l *log) at(unit, quantity int, tick int64) (v float64, ok bool) {
	i := int(math.Floor(float64(tick-l.first)/float64(sampleTicks) + 0.5))
	if tick < l.first-sampleTicks || i > l.rows || l.rows == 0 {
		return 0, false
	}
	i = min(max(i, 0), l.rows-1)
	return float64(l.units[unit][i*len(quantities)+quantity]), true
}

// spans appends the columns of a chart from one tick to another.
func (l *log) spans(dst []strip.Span, unit, quantity int, from, to int64, columns int) []strip.Span {
	for c := range columns {
		at := func(c int) int {
			return int(math.Ceil((float64(from) + float64(to-from)*float64(c)/float64(columns) - float64(l.first)) / float64(sampleTicks)))
		}
		s := strip.Nothing
		lo := at(c)
		hi := max(at(c+1), lo+1)
		if c == columns-1 {
			hi++ // the last column has its end too
		}
		for i := max(lo, 0); i < min(hi, l.rows); i++ {
			s = s.With(float64(l.units[unit][i*len(quantities)+quantity]))
		}
		dst = append(dst, s)
	}
	return dst
}

// Spans appends the columns of a chart of a unit, from one tick to another; was asks
// for what was before something else was tried.
func (b *Bench) Spans(dst []strip.Span, unit int, was bool, quantity int, from, to int64, columns int) []strip.Span {
	return b.log(was).spans(dst, unit, quantity, from, to, columns)
}

// Logged returns a quantity of a unit, SI, as it was lived nearest to a tick; ok where
// that is still kept.
func (b *Bench) Logged(unit int, was bool, quantity int, tick int64) (v float64, ok bool) {
	return b.log(was).at(unit, quantity, tick)
}

func (b *Bench) log(was bool) *log {
	if was && b.trunk != nil {
		return &b.trunk.log
	}
	return &b.run.log
}

// Window returns what a chart over so many ticks shows: the end of the run, or where
// the moment shown lies before that, what is about it.
func (b *Bench) Window(over int64) (from, to int64) {
	to = b.run.end
	if b.trunk != nil {
		to = max(to, min(b.trunk.end, b.run.now.tick+over/2))
	}
	if b.run.now.tick < to-over {
		to = b.run.now.tick + over/2
	}
	return to - over, to
}
