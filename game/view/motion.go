package view

import (
	"math"
	"time"

	"brinebench/game/viewmodel"
)

// motion is what the picture itself keeps moving: how far the marks have gone.
type motion struct {
	last  time.Time
	phase []float64 // of each stream, CSS px
	fall  [3]float64
	churn float64 // of the lifted bed, rad
	meter float64 // angle of the meter's needle, rad
	blink float64 // s, for what blinks
}

// tick returns the time since the last call in s, at most a quarter.
func (m *motion) tick() float64 {
	now := time.Now()
	dt := 0.0
	if !m.last.IsZero() {
		dt = math.Min(0.25, now.Sub(m.last).Seconds())
	}
	m.last = now
	return dt
}

func (m *motion) fit(s *viewmodel.Scene) {
	if len(m.phase) != len(s.Streams) {
		m.phase = make([]float64, len(s.Streams))
		for i := range m.phase { // so that marks of neighbours are not in step
			m.phase[i] = viewmodel.MarkGap * scatter(i, 17)
		}
	}
}

// on tells whether what blinks is to be seen now.
func (m *motion) on() bool { return math.Mod(m.blink, 1.2) < 0.8 }

func (m *motion) advance(s *viewmodel.Scene, f *viewmodel.Frame, look Look, dt float64) {
	m.blink += dt
	if look.Reduced || look.Pace == 0 {
		return
	}
	for i := range m.phase {
		m.phase[i] += dt * viewmodel.MarkSpeed(f.Speed[i], look.Pace)
	}
	for i := range m.fall {
		m.fall[i] += dt * 150
	}
	m.meter = math.Mod(m.meter+dt*viewmodel.MeterSpeed(f.Metered, look.Pace), 2*math.Pi)
	if f.Lift > 0.02 {
		m.churn += dt * 2.2
	}
}
