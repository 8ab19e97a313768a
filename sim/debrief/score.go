package debrief

import (
	"fmt"
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/signature"
)

// What each part of the score can bring.
const (
	maxCause, maxEvidence, maxEconomy, maxSafety, maxProof = 35, 20, 15, 15, 15

	brierPoints  = 10  // of the cause's points, for a confidence that fits
	asGood       = 0.5 // the share of the best one's worth from which a test is as good: nobody in a cellar tells them closer
	hunch        = 0.7 // the most that a test earns by having told more than it promised
	speaks       = 0.8 // the support from which a search was ended in time, and what it saved counts in full
	unsafeCost   = 7.5
	needlessCost = 4
)

// caps are the most that a call can bring after one, two, three and more stops:
// a good diagnosis does not pay for an injury.
var caps = []float64{100, 85, 70, 55}

// score fills in the items and their sum.
func (c *Case) score(r *Result) {
	v := c.verdict(r)
	for i := range r.Steps {
		r.Steps[i].Counts = r.Steps[i].Counts && i <= v.known
	}
	r.Items = []Item{
		v.cause(r), v.evidence(r), v.economy(r), c.safety(r), c.proof(r),
	}
	r.chargeNeedless()
	c.chargeHelp(r)
	for _, it := range r.Items {
		r.Score += it.Got
	}
	if limit := caps[min(len(r.Unsafe), len(caps)-1)]; r.Score > limit {
		r.Score = limit
		r.Items[3].Reason += fmt.Sprintf(" The score is held at %.0f.", limit)
	}
}

// isTalk reports whether an act leaves unit and instruments alone.
func isTalk(k call.Kind) bool {
	switch k {
	case call.Plan, call.Conclude, call.Diagnose, call.Tell, call.Hint:
		return true
	}
	return false
}

func isRepair(k call.Kind) bool { return k == call.Clean || k == call.Adjust || k == call.Replace }

func (v *verdict) evidence(r *Result) Item {
	it := Item{Name: "Evidence", Max: maxEvidence}
	if v.tests == 0 {
		it.Reason = "Nothing was tested before the cause was named or a repair was tried."
		return it
	}
	start, left := signature.Entropy(r.Told.Belief), signature.Entropy(r.Steps[v.known].Belief)
	solved := max(0, 1-left/start)
	heeded := 0.5 + float64(0.5*min(1, v.support/v.top))
	it.Got = float64(maxEvidence * solved * heeded)
	it.Reason = fmt.Sprintf("What was read (%d) took away %.0f %% of the doubt between %d explanations, causes alone or together (from %.1f to %.1f bits; one bit settles an even question of yes or no).",
		v.tests, 100*solved, len(r.Causes), start, left)
	if len(v.namings) > 0 && heeded < 0.9 {
		it.Reason += " They spoke for another cause than the one you named."
	}
	return it
}

func (v *verdict) economy(r *Result) Item {
	it := Item{Name: "Economy", Max: maxEconomy}
	if v.tests == 0 {
		it.Reason = "Nothing was tested, so nothing was saved."
		return it
	}
	full, weight := 0.0, 0.0
	for _, s := range r.Steps[:v.known+1] {
		if s.Ratio >= 0 && s.Counts {
			full += float64(s.earned() * s.Minutes)
			weight += s.Minutes
		}
	}
	earned := 1.0
	if weight > 0 {
		earned = full / weight
	}
	heeded := min(1, v.support/speaks)
	it.Got = float64(maxEconomy * float64(earned*heeded))
	it.Reason = fmt.Sprintf("By the minutes they took, your tests earned %.0f %%: each by what it promised beside the best one that could have been chosen then, in full from %.0f %% of that; one that told more than it promised up to %.0f %%.", 100*earned, 100*asGood, 100*hunch)
	if heeded < 1 {
		it.Reason += fmt.Sprintf(" Of that %.0f %% counts: so far do the readings speak for what was named.", 100*heeded)
	}
	return it
}

// earned is the share that a test earns of its minutes: by what it promised, or, less of it,
// by what it told, for who has a hunch and is right has not wasted his time.
func (s *Step) earned() float64 {
	return max(min(1, s.Ratio/asGood), min(hunch, s.Told/asGood))
}

func (c *Case) safety(r *Result) Item {
	it := Item{Name: "Safety", Max: maxSafety}
	worked := slices.ContainsFunc(c.entries, func(e *call.Entry) bool {
		return !isTalk(e.Action.Kind) && e.Action.Kind != call.Finish
	})
	switch n := len(r.Unsafe); {
	case !worked:
		it.Reason = "Nothing was done at the unit."
	case n == 0:
		it.Got, it.Reason = maxSafety, "No unsafe act."
	case n == 1:
		it.Got, it.Reason = maxSafety-unsafeCost, "Once somebody could have been hurt."
	default:
		it.Got = max(0, maxSafety-float64(unsafeCost*float64(n)))
		it.Reason = fmt.Sprintf("%d times somebody could have been hurt.", n)
	}
	return it
}

// chargeNeedless takes the price of repairs that changed nothing from economy,
// then from evidence, then from the cause: what is mended by trying everything
// was not diagnosed.
func (r *Result) chargeNeedless() {
	n := len(r.Unneeded)
	r.charge(float64(needlessCost*float64(n)), []int{2, 1, 0}, fmt.Sprintf("for repairs that changed nothing (%d)", n))
}

// charge takes points from items, from the first as long as it has any.
func (r *Result) charge(owed float64, items []int, what string) {
	for _, i := range items {
		it := &r.Items[i]
		taken := min(owed, it.Got)
		it.Got -= taken
		owed -= taken
		if taken > 0 {
			it.Reason += fmt.Sprintf(" Less %.1f %s.", taken, what)
		}
	}
}
