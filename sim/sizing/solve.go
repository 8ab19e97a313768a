package sizing

import "brinebench/sim/outfit"

// Step is one step of a worked solution. Texts are English; the id is stable.
type Step struct {
	ID, Name string
	Formula  string    // in symbols
	With     [2]string // the same with its numbers, in US and SI units
	Result   [2]string
	Value    float64 // SI
	Kind     Kind
	Below    float64 // least and most that the trade lets pass, SI
	Above    float64
	Source   string
	Choice   bool // others may be as good
}

// Solution is a job worked out.
type Solution struct {
	Sheet    Sheet
	TankName string
	Steps    []Step
	Faults   []Fault   // what fits in no way; empty where the job can be solved
	Warnings []Warning // what has to be seen to besides
}

// Solve works a job out. It always comes to an answer; where no unit of the bench fits
// the job, Faults tells why not.
func Solve(j *Job) Solution {
	sheet := j.Completed(&Sheet{})
	sol := Solution{Sheet: sheet, TankName: tankName(sheet.Tank), Faults: j.Faults(&sheet)}
	for f := range NumFigures {
		sol.Steps = append(sol.Steps, j.step(&sheet, f))
	}
	sol.Warnings = j.warnings(&sheet)
	return sol
}

func tankName(id string) string {
	set, _ := outfit.Named(id)
	return set.Name
}

func (j *Job) step(s *Sheet, f Figure) Step {
	r, v := &rules[f], s.Value[f]
	st := Step{
		ID: f.ID(), Name: f.Name(), Formula: r.formula, Value: v, Kind: f.Kind(), Source: r.source, Choice: r.choice,
		Below: v - max(float64(r.below*v), r.least), Above: v + max(float64(r.above*v), r.least),
	}
	for _, sys := range []System{US, SI} {
		st.With[sys], st.Result[sys] = r.with(terms{j, s, sys}), f.Kind().Text(v, sys)
	}
	return st
}
