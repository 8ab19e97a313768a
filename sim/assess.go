package sim

import (
	"errors"
	"fmt"

	"brinebench/sim/adviser"
	"brinebench/sim/debrief"
	"brinebench/sim/fault"
	"brinebench/sim/record"
	"brinebench/sim/scenario"
)

// Log is what one person did in a call, without the call itself: whoever holds the
// scenario and the seed can live it again.
type Log struct {
	Ticks int64  // run when the log was taken
	Hash  uint64 // of the whole state then
	Acts  []LogAct
}

// LogAct is one act and the tick at which it was begun.
type LogAct struct {
	Tick int64
	Action
}

// LogOf takes the log out of a recording. Errors are those of Resume.
func LogOf(recording []byte) (Log, error) {
	r, err := record.Decode(recording)
	if err != nil {
		return Log{}, err
	}
	if r.Engine != Engine {
		return Log{}, fmt.Errorf("recording: engine: %q, and this is %q", r.Engine, Engine)
	}
	log := Log{Ticks: r.Ticks, Hash: r.Hash}
	for i := range r.Acts {
		log.Acts = append(log.Acts, LogAct{Tick: r.Acts[i].Tick, Action: actOf(&r.Acts[i])})
	}
	return log, nil
}

// Bounds of a log: those of a recording.
const (
	MaxLogActs  = record.MaxActs
	MaxLogTicks = record.MaxTicks
)

// Assessor has one call ready for many people: its history run, its shadow units
// lived through it. It is no use to two goroutines at once.
type Assessor struct {
	opened *Session // as everybody finds it
	lib    *adviser.Library
}

// ErrStopped is that of work that was broken off.
var ErrStopped = errors.New("sim: stopped")

// NewAssessor opens a call. It takes some seconds; progress, if given, hears how far
// it has come, 0..1, and breaks it off by false. Errors are those of Open, and ErrStopped.
func NewAssessor(name string, scenarioJSON []byte, seed uint64, progress func(done float64) bool) (*Assessor, error) {
	s, err := Open(name, scenarioJSON, seed)
	if err != nil {
		return nil, err
	}
	for s.Prepare(1000) < 1 {
		if progress != nil && !progress(0) {
			return nil, ErrStopped
		}
	}
	lib := adviser.NewLibrary(s.file, s.model, progress)
	if lib == nil {
		return nil, ErrStopped
	}
	return &Assessor{opened: s, lib: lib}, nil
}

// Recording puts a log into a recording of the call.
func (a *Assessor) Recording(log *Log) ([]byte, error) {
	return record.Encode(a.recorded(log))
}

func (a *Assessor) recorded(log *Log) record.Recording {
	r := record.Recording{
		Version: record.Version, Engine: Engine, Name: a.opened.name, Scenario: a.opened.raw, Seed: a.opened.seed,
		Ticks: log.Ticks, Hash: log.Hash,
	}
	for i := range log.Acts {
		r.Acts = append(r.Acts, recordOf(&log.Acts[i]))
	}
	return r
}

func recordOf(a *LogAct) record.Act {
	return record.Act{Tick: a.Tick, Kind: string(a.Kind), Part: string(a.Part), ID: a.ID, Text: a.Text, Value: a.Value}
}

// Judge lives a log again and judges it. What an expert would have done (Better, Expert)
// is left empty. goOn, if given, breaks it off by false. Errors are those of Replay and of
// a call that was not finished, and ErrStopped.
func (a *Assessor) Judge(log *Log, goOn func() bool) (Report, error) {
	s := a.opened.Clone()
	if err := s.liveAs(a, log, goOn); err != nil {
		return Report{}, err
	}
	if !s.call.Finished {
		return Report{}, errUnfinished
	}
	return s.judge(debrief.NewWalk(a.lib.Fork()), func(float64) {}), nil
}

// liveAs lives on as a log of the same call tells, to its last tick.
func (s *Session) liveAs(a *Assessor, log *Log, goOn func() bool) error {
	if _, err := a.Recording(log); err != nil {
		return err
	}
	r := a.recorded(log)
	s.again = &r
	for more := true; more; {
		if goOn != nil && !goOn() {
			return ErrStopped
		}
		var err error
		if more, err = s.Relive(); err != nil {
			return err
		}
	}
	return nil
}

// judge judges a finished call, which a walk may have followed some way already.
func (s *Session) judge(w *debrief.Walk, progress func(done float64)) Report {
	c := debrief.Case{File: s.file, Model: s.model, Found: s.found, Call: s.call, Deeds: s.deeds()}
	return s.report(c.Judge(w, progress))
}

// deeds are the acts so far as an adviser follows them.
func (s *Session) deeds() (deeds []adviser.Deed) {
	for i := range s.acts {
		deeds = append(deeds, adviser.Deed{Tick: s.acts[i].Tick, Act: actOf(&s.acts[i])})
	}
	return deeds
}

// Follower lives along with one person's call as the acts come in.
type Follower struct {
	s    *Session
	lib  *adviser.Library
	walk *debrief.Walk // nil before the first Belief, and after Rest
}

// Follow begins to follow a call.
func (a *Assessor) Follow() *Follower { return &Follower{s: a.opened.Clone(), lib: a.lib} }

// Session is the call as far as it has been followed. Read only.
func (f *Follower) Session() *Session { return f.s }

// Do lives on to the tick of an act, and does it. The error tells that the act could
// not be begun: no person at the unit has done it.
func (f *Follower) Do(act LogAct) error {
	if err := f.RunTo(act.Tick); err != nil {
		return err
	}
	return f.s.Do(act.Action)
}

// RunTo lives on to a tick.
func (f *Follower) RunTo(tick int64) error {
	if tick < f.s.call.Ticks || tick > MaxLogTicks {
		return fmt.Errorf("tick %d: not after %d and within three days", tick, f.s.call.Ticks)
	}
	for f.s.call.Ticks < tick {
		f.s.Tick()
	}
	return nil
}

// Belief is what the readings so far say for what is truly wrong: the belief in the
// true cause, of several in that which is believed least, 0..1. The first call makes
// an adviser, some megabytes of shadow units, which lives through all the acts so far.
func (f *Follower) Belief() float64 {
	if f.walk == nil {
		f.walk = debrief.NewWalk(f.lib.Fork())
	}
	f.walk.Follow(f.s.deeds(), f.s.call.Journal, func(float64) {})
	least := 1.0
	for _, id := range f.Truth() {
		least = min(least, f.walk.Present(id))
	}
	return min(max(least, 0), 1)
}

// Truth is what was wrong with the unit when the call was opened, or NoFault alone.
func (f *Follower) Truth() []string { return truth(f.s.file) }

// Truth is what is wrong in a scenario, or NoFault alone. Errors are those of Open.
func Truth(name string, scenarioJSON []byte) ([]string, error) {
	f, err := scenario.Decode(name, scenarioJSON)
	if err != nil {
		return nil, err
	}
	return truth(f), nil
}

func truth(f *scenario.File) (ids []string) {
	for _, w := range fault.Wrong(f.Condition()) {
		ids = append(ids, w.ID)
	}
	if len(ids) == 0 {
		ids = append(ids, NoFault)
	}
	return ids
}

// Rest lets go of the adviser; the next Belief makes it anew.
func (f *Follower) Rest() { f.walk = nil }

// BadText says what is wrong with a text that a trainee writes in an act; "" when
// nothing is.
func BadText(s string) string { return record.BadText(s) }

// Record lives a log that is believed and puts it into a recording, with the hash that
// it comes to. Errors are those of Open and of acts that cannot be begun.
func Record(name string, scenarioJSON []byte, seed uint64, log *Log) ([]byte, error) {
	s, err := Open(name, scenarioJSON, seed)
	if err != nil {
		return nil, err
	}
	for s.Prepare(1000) < 1 {
	}
	f := Follower{s: s}
	for i := range log.Acts {
		if err := f.Do(log.Acts[i]); err != nil {
			return nil, fmt.Errorf("acts[%d]: %w", i, err)
		}
	}
	if err := f.RunTo(max(log.Ticks, s.call.Ticks)); err != nil {
		return nil, err
	}
	return s.Recording()
}
