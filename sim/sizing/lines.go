package sizing

import (
	"strings"

	"brinebench/sim/household"
)

// Line is one line of a job sheet as people read it.
type Line struct{ ID, Label, Text string }

// Lines tells the job sheet, in a system of units; hardness as it was written.
func (j *Job) Lines(sys System) []Line {
	lines := []Line{
		{"people", "People", number(float64(j.People))},
		{"fixtures", "Fixtures", j.fixtureText()},
		{"hardness", "Hardness", j.Hardness.String()},
		{"iron", "Iron, manganese", j.Iron.String() + ", " + j.Manganese.String()},
		{"salts", "Dissolved solids, sodium", j.TDS.String() + ", " + j.Sodium.String()},
		{"chlorine", "Chlorine, pH", j.Chlorine.String() + ", " + number(j.PH)},
		{"temperature", "Temperature", Temperature.Text(j.Temperature.SI, sys)},
		{"supply", "Supply", j.supplyText(sys)},
		{"drain", "Drain", "rises " + Distance.Text(j.DrainRise.SI, sys) + ", " + Distance.Text(j.DrainLength.SI, sys) + " long, takes up to " + Flow.Text(j.DrainMost.SI, sys)},
		{"space", "Place", Length.Text(j.FloorWidth.SI, sys) + " wide, " + Length.Text(j.Height.SI, sys) + " high"},
		{"controller", "Controller", "time clock"},
	}
	if j.Demand {
		lines[len(lines)-1].Text = "demand, with a meter"
	}
	var wishes []string
	if j.SaltSaving {
		wishes = append(wishes, "to save salt")
	}
	if j.LowSodium {
		wishes = append(wishes, "little sodium in the water")
	}
	if len(wishes) > 0 {
		lines = append(lines, Line{"wishes", "Wishes", strings.Join(wishes, ", ")})
	}
	return lines
}

func (j *Job) fixtureText() string {
	var list []string
	for kind, f := range household.Standard(1, 1).Fixtures {
		if n := j.Fixtures[kind]; n > 0 {
			list = append(list, number(float64(n))+" × "+strings.ToLower(f.Name))
		}
	}
	return strings.Join(list, ", ")
}

func (j *Job) supplyText(sys System) string {
	at := Pressure.Text(j.Static.SI, sys) + " at rest, " + Pressure.Text(j.Residual.SI, sys) + " at " + Flow.Text(j.ResidualAt.SI, sys)
	if j.Well {
		return "well, " + at
	}
	return "mains, " + at
}
