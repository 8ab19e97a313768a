package sizing

import (
	"encoding/json"
	"slices"

	"brinebench/sim"
)

// convertedID is the figure that is only to be converted into another unit.
const convertedID = "hardness"

// hardnessUnit is the unit that a job sheet has its hardness in.
func hardnessUnit(jobJSON []byte) string {
	var file struct {
		Water struct{ Hardness struct{ Unit string } }
	}
	if err := json.Unmarshal(jobJSON, &file); err != nil {
		panic("sizing: " + err.Error()) // it was opened before
	}
	return file.Water.Hardness.Unit
}

// askConverted has a job's hardness asked in the unit that it is to be converted into first,
// and never in the sheet's own: copied it would be right.
func askConverted(job *sim.SizingJob) {
	sheet := hardnessUnit(job.JSON)
	e := Figure(job, convertedID)
	for sys := range e.Units {
		into := ""
		for _, l := range job.Lines[sys] {
			if l.ID == convertedID {
				into = l.Into
			}
		}
		units := slices.DeleteFunc(slices.Clone(e.Units[sys]), func(u sim.SizingUnit) bool { return u.Name == sheet })
		slices.SortStableFunc(units, func(a, b sim.SizingUnit) int { return rank(a.Name == into) - rank(b.Name == into) })
		e.Units[sys] = units
	}
}

// rank sorts what is first before the others.
func rank(first bool) int {
	if first {
		return 0
	}
	return 1
}
