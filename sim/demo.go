package sim

import "brinebench/sim/record"

// Demo is a call that an expert has played.
type Demo struct {
	Recording []byte
	Reasons   []string  // why each act was done, a sentence; by act of the recording
	Would     [][]Would // the same of what each test was to show; see StepReport.Would
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
	progress = rising(progress)
	j, err := newJudging(name, scenarioJSON, seed, progress)
	if err != nil {
		return Demo{}, err
	}
	progress(1)
	return j.Demo()
}
