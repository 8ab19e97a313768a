package sim

import (
	"encoding/json"
	"fmt"

	"brinebench/sim/control"
	"brinebench/sim/marking"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// What a set-up of a controller is made of, as plain data.
type (
	SizingSetup      = marking.Setup      // how an installer leaves a controller
	SizingSetupItem  = marking.SetupItem  // one line of its marks
	SizingSetupMarks = marking.SetupMarks // its marks, and what becomes of the unit
)

// The bounds of what an installer sets on a controller (see control.Settings).
const (
	MaxEveryDays    = control.MaxEveryDays
	MaxHardnessGPG  = control.MaxHardnessGPG
	MaxCapacityKgr  = control.MaxCapacityKgr
	MaxReservePct   = control.MaxReservePct
	MaxOverrideDays = control.MaxOverrideDays
)

// SizingSetupSteps are the figures of a job's worked unit that the settings of a controller
// follow from, without the settings themselves; with Result and Name to show.
func SizingSetupSteps(name string, jobJSON []byte) ([]SizingStep, error) {
	j, err := sizing.DecodeJob(name, jobJSON)
	if err != nil {
		return nil, err
	}
	sol := sizing.Solve(j)
	var list []SizingStep
	for _, f := range []sizing.Figure{sizing.Resin, sizing.SaltDose, sizing.Capacity, sizing.RefillControl} {
		list = append(list, sol.Steps[f])
	}
	return list, nil
}

// SizingSetupValue writes a setting, given in SI, as a controller shows it; that of an item of
// the marks.
func SizingSetupValue(id string, si float64) (value float64, in string) {
	switch id {
	case "clock", "start":
		return si, "clock"
	case sizing.RefillTime.ID():
		return si / unit.Minute, "min"
	case sizing.EveryDays.ID(), sizing.OverrideDays.ID():
		return si / unit.Day, "day"
	case sizing.SetHardness.ID():
		return si / unit.GPG, "gpg"
	case sizing.SetCapacity.ID():
		return si / unit.Kilograin, "kilograin"
	}
	return si, "%"
}

// setupRequest is a job with a set-up, on the way to the worker.
type setupRequest struct {
	Job   json.RawMessage `json:"job"`
	Setup SizingSetup     `json:"setup"`
}

// PackSizingSetup puts a job and a set-up into one, for the worker.
func PackSizingSetup(jobJSON []byte, u SizingSetup) ([]byte, error) {
	return json.Marshal(setupRequest{jobJSON, u})
}

// MarkPackedSizingSetup marks what PackSizingSetup made: two units live for 90 days. progress is as
// that of MarkSizing.
func MarkPackedSizingSetup(packed []byte, progress func(done float64) bool) (SizingSetupMarks, error) {
	var r setupRequest
	if err := json.Unmarshal(packed, &r); err != nil {
		return SizingSetupMarks{}, fmt.Errorf("set-up: %w", err)
	}
	j, err := sizing.DecodeJob("job", r.Job)
	if err != nil {
		return SizingSetupMarks{}, err
	}
	m, ok, err := marking.MarkSetup(j, &r.Setup, progress)
	switch {
	case err != nil:
		return SizingSetupMarks{}, fmt.Errorf("set-up: %w", err)
	case !ok:
		return SizingSetupMarks{}, ErrStopped
	}
	return m, nil
}
