package sizing

import (
	"strings"

	"brinebench/sim/household"
)

// Line is one line of a job sheet as people read it.
type Line struct {
	ID, Label, Text string
	Into            string // the unit that an answer converts the figure into, "" none
}

// Lines tells the job sheet, in a system of units; hardness as it was written.
func (j *Job) Lines(sys System) []Line {
	lines := []Line{
		{ID: "people", Label: "People", Text: number(float64(j.People))},
		{ID: "fixtures", Label: "Fixtures", Text: j.fixtureText()},
		{ID: "hardness", Label: "Hardness", Text: j.Hardness.String(), Into: j.asked(sys).Name},
		{ID: "iron", Label: "Iron, manganese", Text: j.Iron.String() + ", " + j.Manganese.String()},
		{ID: "salts", Label: "Dissolved solids, sodium", Text: j.TDS.String() + ", " + j.Sodium.String()},
		{ID: "chlorine", Label: "Chlorine, pH", Text: j.Chlorine.String() + ", " + number(j.PH)},
		{ID: "temperature", Label: "Temperature", Text: Temperature.Text(j.Temperature.SI, sys)},
		{ID: "supply", Label: "Supply", Text: j.supplyText(sys)},
		{ID: "drain", Label: "Drain", Text: "rises " + Distance.Text(j.DrainRise.SI, sys) + ", " + Distance.Text(j.DrainLength.SI, sys) + " long, takes up to " + Flow.Text(j.DrainMost.SI, sys)},
		{ID: "space", Label: "Place", Text: Length.Text(j.FloorWidth.SI, sys) + " wide, " + Length.Text(j.Height.SI, sys) + " high"},
		{ID: "controller", Label: "Controller", Text: "time clock"},
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
		lines = append(lines, Line{ID: "wishes", Label: "Wishes", Text: strings.Join(wishes, ", ")})
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
