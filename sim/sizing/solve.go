package sizing

import (
	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// Step is one step of a worked solution. Texts are English; the id is stable.
type Step struct {
	ID, Name string
	Formula  [2]string // in symbols; this and the next in US and SI units
	Sign     [2]string // between them: "=", "≈" where a number is rounded, "" where With tells it in words
	With     [2]string // the same with its numbers
	Why      [2]string // what it rests on besides, such as what stopped another choice; "" nothing
	Result   [2]string
	Unit     [2]string // of the result
	Value    float64   // SI
	Kind     Kind
	Below    float64 // least and most that the trade lets pass, SI
	Above    float64
	Source   [2]string
	Choice   bool // others may be as good
}

// Solution is a job worked out.
type Solution struct {
	Sheet    Sheet
	TankName [2]string
	Steps    []Step
	Faults   []Fault   // what fits in no way; empty where the job can be solved
	Warnings []Warning // what has to be seen to besides
}

// Solve works a job out. It always comes to an answer; where no unit of the bench fits
// the job, Faults tells why not.
func Solve(j *Job) Solution {
	sheet := j.Completed(&Sheet{})
	sol := Solution{Sheet: sheet, TankName: tankNames(sheet.Tank), Faults: j.Faults(&sheet)}
	for f := range NumFigures {
		sol.Steps = append(sol.Steps, j.step(&sheet, f))
	}
	sol.Warnings = j.warnings(&sheet)
	return sol
}

// line writes the formula with its numbers, and the sign that it is told with.
func (r *rule) line(j *Job, s *Sheet, sys System) (sign, with string) {
	if r.words {
		return "", r.with(terms{j: j, s: s, sys: sys})
	}
	rough := false
	with = r.with(terms{j, s, sys, &rough})
	if rough {
		return "≈", with
	}
	return "=", with
}

// tankNames names a tank in both systems.
func tankNames(id string) [2]string {
	set, _ := outfit.Named(id)
	return [2]string{tankName(&set, US), tankName(&set, SI)}
}

// tankName names a tank: by inches and ft³, as the trade sells it, with what that is in
// SI units for who reads those.
func tankName(set *outfit.Set, sys System) string {
	if sys == US {
		return set.Name
	}
	return number(set.TankDiameterIn) + " in (" + Length.Text(float64(set.TankDiameterIn*unit.Inch), SI) + ") tank, " + Bed.Text(float64(set.ResinFt3*unit.CubicFoot), SI)
}

func (j *Job) step(s *Sheet, f Figure) Step {
	r, v := &rules[f], s.Value[f]
	st := Step{
		ID: f.ID(), Name: f.Name(), Value: v, Kind: f.Kind(), Choice: r.choice,
	}
	st.Below, st.Above = j.Near(f, v)
	for _, sys := range []System{US, SI} {
		st.Formula[sys], st.Source[sys] = f.Rule(sys), inUnits(r.source, sys)
		st.Sign[sys], st.With[sys] = r.line(j, s, sys)
		st.Result[sys], st.Unit[sys] = j.result(f, v, sys)
		st.Why[sys] = terms{j: j, s: s, sys: sys}.why(f)
	}
	return st
}
