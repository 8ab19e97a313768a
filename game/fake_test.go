package game

import (
	"errors"

	"brinebench/sim"
)

// fakeSession counts ticks, lets acts last as long as their Value in minutes,
// and has an event at every multiple of eventEvery ticks.
type fakeSession struct {
	setup      sim.Setup
	call       sim.Call
	now        sim.View
	eventEvery int64
	events     int
	history    int // engine steps of history still to run
	onTick     func(s *fakeSession)
}

func (s *fakeSession) Setup() *sim.Setup          { return &s.setup }
func (s *fakeSession) Call() *sim.Call            { return &s.call }
func (s *fakeSession) Events() int                { return s.events }
func (s *fakeSession) Recording() ([]byte, error) { return nil, nil }

func (s *fakeSession) Relive() (bool, error) { return false, nil }
func (s *fakeSession) Relived() float64      { return 1 }
func (s *fakeSession) Clone() *sim.Session   { return nil }
func (s *fakeSession) View(v *sim.View) {
	opened := append(v.Opened[:0], s.now.Opened...)
	*v = s.now
	v.Opened = opened
}

func (s *fakeSession) Prepare(steps int) float64 {
	s.history = max(s.history-steps, 0)
	if s.history == 0 {
		return 1
	}
	return 0.5
}

func (s *fakeSession) Do(a sim.Action) error {
	if s.call.BusyUntilTick > s.now.Tick {
		return errors.New("busy")
	}
	s.call.BusyUntilTick = s.now.Tick + int64(a.Value*60/sim.TickS)
	s.call.Journal = append(s.call.Journal, sim.Entry{Tick: s.now.Tick, Station: s.now.Controller.Station, Action: a, Text: "done", Unsafe: a.ID == "unsafe"})
	return nil
}

func (s *fakeSession) Tick() {
	s.now.Tick++
	s.now.TimeS = float64(s.now.Tick) * sim.TickS
	if s.eventEvery > 0 && s.now.Tick%s.eventEvery == 0 {
		s.events++
	}
	if s.onTick != nil {
		s.onTick(s)
	}
}

// bench is a game on a fake session with a clock that the test moves.
type bench struct {
	*Game
	s     *fakeSession
	nowS  float64
	tickS float64 // real time that one look at the clock costs
}

func newBench(s *fakeSession) *bench {
	b := &bench{s: s}
	b.Game = New(s, func() float64 { b.nowS += b.tickS; return b.nowS })
	b.Prepare(1)
	return b
}

// frames lets that much real time pass at 60 frames per second and returns the ticks run.
func (b *bench) frames(realS float64) int64 {
	from := b.s.now.Tick
	for range int(realS*60 + 0.5) {
		b.Frame(1.0 / 60)
	}
	return b.s.now.Tick - from
}
