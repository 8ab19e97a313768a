package sim

import (
	"brinebench/sim/adviser"
	"brinebench/sim/expert"
	"brinebench/sim/record"
)

// Demo is a call that an expert has played.
type Demo struct {
	Recording []byte
	Reasons   []string // why each act was done, a sentence; by act of the recording
}

// DemonstrateAt is Demonstrate for the scenario and seed of a recording, whatever
// was done in it.
func DemonstrateAt(recording []byte, progress func(done float64)) (Demo, error) {
	r, err := record.Decode(recording)
	if err != nil {
		return Demo{}, err
	}
	return Demonstrate(r.Name, r.Scenario, r.Seed, progress)
}

// Demonstrate has an expert play a call: nothing but what can be seen and measured
// at the unit tells it what is wrong. It is long work; progress, if given, hears how
// far it has come, 0..1. Errors are those of Open.
func Demonstrate(name string, scenarioJSON []byte, seed uint64, progress func(done float64)) (Demo, error) {
	if progress == nil {
		progress = func(float64) {}
	}
	s, err := Open(name, scenarioJSON, seed)
	if err != nil {
		return Demo{}, err
	}
	const prepared, lived = 0.2, 0.7 // parts of the work done
	for done := 0.0; done < 1; progress(prepared * done) {
		done = s.Prepare(1000)
	}
	lib := adviser.NewLibrary(s.file, s.model, func(done float64) bool {
		progress(prepared + float64((lived-prepared)*done))
		return true
	})
	e := expert.New(s.call, lib, func(tick int64) {
		for s.call.Ticks < tick {
			s.Tick()
		}
	})
	run := e.Play()
	for _, d := range run.Deeds {
		s.acts = append(s.acts, record.Act{
			Tick: d.Tick, Kind: string(d.Act.Kind), Part: string(d.Act.Part), ID: d.Act.ID, Text: d.Act.Text, Value: d.Act.Value,
		})
	}
	rec, err := s.Recording()
	progress(1)
	return Demo{Recording: rec, Reasons: run.Reasons}, err
}
