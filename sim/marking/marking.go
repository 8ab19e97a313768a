// Package marking marks an answer to a job sheet in three parts, 100 points in all.
//
//   - Figures, and consistency: 50 points, shared out among the figures
//     ([sizing.Figure.Points]). A figure earns its points if it is near enough to the
//     worked one (compensated hardness: with any usual factor for iron), or to what the
//     worked rules give for the trainee's own tank, dose and parts; a choice, if nothing
//     speaks against it; and any figure if it follows rightly from the trainee's own
//     earlier ones, wrong as they may be. What is earned in this last way is told apart,
//     as the points for consistency.
//   - Outcome: 50 points, of the answered unit in the household for 90 days, times the
//     share of the figures it is made of that were answered: 10 for parts that fit (3
//     less for each thing that does not), 20 for soft water (all up to 1 % of hard
//     water, none from 11 % on), 10 for salt and 4 for water to the drain (all up to 1.15
//     and 1.35 times those of the worked answer, none from 2.5 times on; as far as the
//     water is soft), 6 for the pressure at the peak (all where the unit takes 15 psi or
//     no more than 2 psi more than the worked one, none at 10 psi more).
//
// Another good design therefore earns as much as the worked one.
package marking

import (
	"math"

	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// Verdict is what became of a figure.
type Verdict string

// The verdicts.
const (
	Right   Verdict = "right"   // near enough to the worked figure
	Fits    Verdict = "fits"    // a choice with nothing against it
	Follows Verdict = "follows" // from the trainee's own earlier figures
	Wrong   Verdict = "wrong"
	Missing Verdict = "missing"
)

// Figure is one figure of an answer, marked.
type Figure struct {
	Figure     sizing.Figure
	Verdict    Verdict
	Points, Of float64
	Got        float64 // SI; 0 where it is missing
	Want       float64 // SI: worked, with the trainee's own choices where they fit
	Own        float64 // SI: what the trainee's own earlier figures lead to
	Low, High  float64 // SI: from and to where a figure is near enough to Want
	Against    []sizing.Fault
}

// Item is one line of the outcome's points.
type Item struct {
	ID, Name   string
	Points, Of float64
}

// Marks are the marks of an answer.
type Marks struct {
	Figures     []Figure
	Right       float64         // points for figures that are right or fit
	Consistency float64         // points for figures that follow from wrong ones
	Answered    float64         // share of what the unit is made of that was answered, 0..1
	Silent      []sizing.Figure // what it is made of and was not answered
	Outcome     []Item
	Faults      []sizing.Fault // all that does not fit
	Score       float64        // 0..100
}

// Mark marks an answer whose unit, completed, came to an outcome in the household, as
// the worked one did.
func Mark(j *sizing.Job, answer *sizing.Sheet, answered, worked outcome.Outcome) Marks {
	full := j.Completed(answer)
	m := Marks{Faults: j.Faults(&full)}
	m.share(j, answer)
	m.figures(j, answer, &full)
	m.outcome(answered, worked)
	m.Score = m.Right + m.Consistency
	for _, it := range m.Outcome {
		m.Score += it.Points
	}
	return m
}

// figures marks each figure.
func (m *Marks) figures(j *sizing.Job, answer, full *sizing.Sheet) {
	reference := m.reference(j, full)
	var own sizing.Sheet // the answer's figures so far
	for f := range sizing.NumFigures {
		x := Figure{Figure: f, Of: f.Points(), Want: reference.Value[f], Own: j.Follows(&own, f)}
		x.Low, x.High = j.Near(f, x.Want)
		own.Take(full, f)
		if answer.Given[f] {
			x.Got, x.Against = answer.Value[f], sizing.Against(m.Faults, f)
		}
		x.Verdict = verdict(j, f, &x, answer.Given[f])
		switch x.Verdict {
		case Right, Fits:
			x.Points = x.Of
			m.Right += x.Points
		case Follows:
			x.Points = x.Of
			m.Consistency += x.Points
		}
		m.Figures = append(m.Figures, x)
	}
}

func verdict(j *sizing.Job, f sizing.Figure, x *Figure, given bool) Verdict {
	switch {
	case !given:
		return Missing
	case f.Choice() && len(x.Against) == 0:
		if j.Right(f, x.Got, x.Want) {
			return Right
		}
		return Fits
	case !f.Choice() && j.Right(f, x.Got, x.Want):
		return Right
	case j.Right(f, x.Got, x.Own):
		return Follows
	}
	return Wrong
}

// reference is the worked solution with those choices of the answer that fit. Without
// the tank the others go with, none does.
func (m *Marks) reference(j *sizing.Job, full *sizing.Sheet) sizing.Sheet {
	fits := func(f sizing.Figure) bool { return len(sizing.Against(m.Faults, f)) == 0 }
	var s sizing.Sheet
	if fits(sizing.Resin) {
		s = sizing.NewSheet(full.Tank, "", nil, nil)
		s.Program = full.Program
		for f := range sizing.NumFigures {
			if f.Choice() && fits(f) {
				s.Value[f], s.Given[f] = full.Value[f], true
			}
		}
	}
	return j.Completed(&s)
}

// made are the figures that a unit is made of, for each kind of controller.
var (
	made     = []sizing.Figure{sizing.Resin, sizing.SaltDose, sizing.DrainControl, sizing.Nozzle, sizing.Throat, sizing.RefillControl, sizing.RefillTime}
	byClock  = []sizing.Figure{sizing.EveryDays}
	byDemand = []sizing.Figure{sizing.SetHardness, sizing.SetCapacity, sizing.SetReserve, sizing.OverrideDays}
)

// share notes which figures of the unit were answered.
func (m *Marks) share(j *sizing.Job, answer *sizing.Sheet) {
	list := append(append([]sizing.Figure(nil), made...), byClock...)
	if j.Demand {
		list = append(append([]sizing.Figure(nil), made...), byDemand...)
	}
	for _, f := range list {
		if !answer.Given[f] {
			m.Silent = append(m.Silent, f)
		}
	}
	m.Answered = float64(len(list)-len(m.Silent)) / float64(len(list))
}

// outcome marks what came of the unit.
func (m *Marks) outcome(a, w outcome.Outcome) {
	soft := fading(hardShare(a), 0.01, 0.11)
	thrift := func(mine, best, full float64) float64 {
		return float64(soft * fading(mine, float64(full*best), float64(2.5*best)))
	}
	add := func(id, name string, of, part float64) {
		m.Outcome = append(m.Outcome, Item{id, name, float64(of * float64(part*m.Answered)), of})
	}
	const each = 0.3 // of the points for what fits
	add("fits", "What fits together and fits the job", 10, math.Max(0, 1-float64(each*float64(len(m.Faults)))))
	add("soft", "Soft water in the house", 20, soft)
	add("salt", "Salt used", 10, thrift(a.SaltKg, w.SaltKg, 1.15))
	add("water", "Water to the drain", 4, thrift(a.DrainM3, w.DrainM3, 1.35))
	bearable := math.Max(15*unit.PSI, w.PeakLossPa+2*unit.PSI)
	add("pressure", "Pressure at the peak", 6, fading(a.PeakLossPa, bearable, bearable+8*unit.PSI))
}

func hardShare(o outcome.Outcome) float64 {
	if o.HouseM3 <= 0 {
		return 0
	}
	return o.HardM3 / o.HouseM3
}

// fading is 1 up to full, 0 from none on, and falls evenly between.
func fading(x, full, none float64) float64 {
	if none <= full {
		if x <= full {
			return 1
		}
		return 0
	}
	return math.Max(0, math.Min(1, (none-x)/(none-full)))
}

// Comparison is the outcome of an answer beside those of the worked one and of the
// usual rule of thumb.
type Comparison struct {
	Answer, Worked, Thumb outcome.Outcome
}

// Compare lets the three units live. progress and error are those of outcome.Run.
func Compare(j *sizing.Job, answer *sizing.Sheet, progress func(done float64) bool) (c Comparison, ok bool, err error) {
	answered, thumb := j.Completed(answer), j.Thumb()
	worked := j.Completed(&sizing.Sheet{})
	for i, x := range []struct {
		s  *sizing.Sheet
		to *outcome.Outcome
	}{{&answered, &c.Answer}, {&worked, &c.Worked}, {&thumb, &c.Thumb}} {
		var part func(done float64) bool
		if progress != nil {
			part = func(done float64) bool { return progress((float64(i) + done) / 3) }
		}
		if *x.to, ok, err = outcome.Run(j, x.s, part); err != nil || !ok {
			return c, ok, err
		}
	}
	return c, true, nil
}
