package sim

import (
	"encoding/json"
	"errors"
	"fmt"

	"brinebench/sim/scenario"
	"brinebench/sim/sequence"
)

// ProgramTrial is what a program of one's own made of a spent bed, and what the unit's
// own program made of it.
type ProgramTrial struct{ Got, Own CycleOutcome }

// programRequest is a program of one's own with the unit that it is tried on, on the
// way to the worker.
type programRequest struct {
	Unit  json.RawMessage `json:"unit"`
	Steps []ProgramStep   `json:"steps"`
}

// PackProgram puts a program of one's own and the unit into one, for the worker. The
// error joins all that is wrong with the steps, each naming its step.
func (c *Cycle) PackProgram(steps []ProgramStep) ([]byte, error) {
	if _, errs := sequence.Build(&c.cfg.Program, steps); len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return json.Marshal(programRequest{c.file, steps})
}

// TryPackedProgram runs what PackProgram made on a spent bed, and the unit's own program
// for comparison: about half a second. progress, if given, hears how far it has come, 0..1.
func TryPackedProgram(packed []byte, progress func(done float64)) (t ProgramTrial, err error) {
	var r programRequest
	if err := json.Unmarshal(packed, &r); err != nil {
		return t, fmt.Errorf("program: %w", err)
	}
	f, err := scenario.Decode("unit", r.Unit)
	if err != nil {
		return t, err
	}
	cfg := f.Config()
	program, errs := sequence.Build(&cfg.Program, r.Steps)
	if len(errs) > 0 {
		return t, errors.Join(errs...)
	}
	half := func(before float64) func(done float64) {
		return func(done float64) {
			if progress != nil {
				progress(before + float64(done/2))
			}
		}
	}
	if t.Got, err = sequence.Live(cfg, &program, half(0)); err != nil {
		return t, err
	}
	t.Own, err = sequence.Live(cfg, &cfg.Program, half(0.5))
	return t, err
}
