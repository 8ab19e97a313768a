package debrief

import (
	"fmt"
	"slices"
	"strings"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/signature"
)

// naming is one verdict that counts, and what was known by then.
type naming struct {
	ids    []string
	sure   float64
	known  int       // the deed up to which evidence counts; −1 for none
	forced bool      // named only after a repair had been tried: the confidence is hindsight
	causes []float64 // belief by cause that it is present, at that deed
}

// verdict is all of them together.
type verdict struct {
	namings []naming
	known   int     // the deed up to which evidence counts
	tests   int     // readings up to it
	support float64 // belief in what was named, the mean
	top     float64 // belief in the likeliest candidate
}

// verdict finds the namings that count: see the package's comment.
func (c *Case) verdict(r *Result) (v verdict) {
	cond := c.File.Condition()
	for from := 0; from < len(c.entries); {
		end, after := c.episode(from, cond)
		n, known, given := c.naming(from, end)
		if given && (from == 0 || !v.names(n.ids)) {
			n.causes = r.lib.Present(r.belief(n.known))
			v.namings = append(v.namings, n)
		}
		if given || from == 0 {
			v.known = known
		}
		from, cond = end, after
		if len(fault.Wrong(cond)) == 0 {
			break
		}
	}
	for i := 0; i <= v.known; i++ {
		if r.Steps[i].Ratio >= 0 {
			v.tests++
		}
	}
	v.top = slices.Max(r.belief(v.known))
	n := 0
	for _, x := range v.namings {
		for _, id := range x.ids {
			v.support += x.belief(id)
			n++
		}
	}
	v.support /= float64(max(1, n))
	return v
}

// belief over the candidates after a deed; −1 is before the first.
func (r *Result) belief(deed int) []float64 {
	if deed < 0 {
		return append(slices.Clone(r.Told.Belief), make([]float64, len(r.Causes)-len(r.Told.Belief))...)
	}
	return r.Steps[deed].Belief
}

// episode is where the episode that begins with a deed ends, and the condition of
// the unit then.
func (c *Case) episode(from int, cond plant.Condition) (end int, after plant.Condition) {
	mended := false
	for i := from; i < len(c.entries); i++ {
		e := c.entries[i]
		if mended && e.Reading != nil {
			return i, cond
		}
		mended = c.mends(e, &cond) || mended
	}
	return len(c.entries), cond
}

// naming finds the verdict that counts among the deeds from one up to another, and
// up to which deed evidence counts in them.
func (c *Case) naming(from, end int) (n naming, known int, given bool) {
	repair := end
	for i := end - 1; i >= from; i-- {
		if e := c.entries[i]; !e.Unsafe && isRepair(e.Action.Kind) {
			repair = i
		}
	}
	named := -1
	for i := from; i < end; i++ {
		if c.entries[i].Action.Kind == call.Diagnose && (i < repair || named < 0) {
			named = i
		}
	}
	if named < 0 {
		return n, repair - 1, false
	}
	act := c.entries[named].Action
	known = min(named, repair-1)
	return naming{ids: call.VerdictIDs(act.ID), sure: act.Value, known: known, forced: named > repair}, known, true
}

// names reports whether all of some causes were named already.
func (v *verdict) names(ids []string) bool {
	for _, id := range ids {
		if !slices.ContainsFunc(v.namings, func(n naming) bool { return slices.Contains(n.ids, id) }) {
			return false
		}
	}
	return true
}

func (n *naming) belief(id string) float64 { return n.causes[slices.Index(signature.Causes(), id)] }

// right reports whether a name is that of something that was wrong.
func (r *Result) right(id string) bool {
	if id == call.NoFault {
		return len(r.True) == 0
	}
	return slices.Contains(r.True, id)
}

func (v *verdict) cause(r *Result) Item {
	it := Item{Name: "Cause", Max: maxCause}
	if len(v.namings) == 0 {
		it.Reason = "No cause was named."
		return it
	}
	support, right, wrong := 0.0, 0, 0
	var seen []string
	for i := range v.namings {
		n := &v.namings[i]
		for _, id := range n.ids {
			is := "is wrong"
			switch {
			case slices.Contains(seen, id):
				continue
			case r.right(id):
				is = "is right"
				support += n.belief(id)
				right++
			default:
				wrong++
			}
			seen = append(seen, id)
			it.Reason += fmt.Sprintf("%q %s. The readings you had by then support it, alone or beside another cause, with %.0f %%. ", call.FaultName(id), is, 100*n.belief(id))
		}
	}
	share := float64(right) / float64(right+wrong)
	it.Got = float64((maxCause-brierPoints)*share*support) / float64(max(1, len(r.True)))
	if missed := len(r.True) - right; missed > 0 && right > 0 {
		it.Reason += "It was not all that was wrong. "
	}
	brier := 0.0
	for i := range v.namings {
		points, reason := v.namings[i].confidence(r)
		brier += points / float64(len(v.namings))
		if !strings.HasSuffix(it.Reason, reason) { // of two verdicts alike once
			it.Reason = strings.TrimRight(it.Reason, " ") + " " + reason
		}
	}
	it.Got += brier
	return it
}

// confidence is what the confidence of a verdict earns: by Brier's rule, the mean over what
// may be so by what had been read. Luck earns nothing, and nobody is better off for saying
// anything but what the readings give.
func (n *naming) confidence(r *Result) (points float64, reason string) {
	tests := 0
	for i := 0; i <= n.known; i++ {
		if r.Steps[i].Ratio >= 0 {
			tests++
		}
	}
	switch {
	case n.forced:
		return 0, "It was named only after a repair had been tried, so that the confidence earns nothing."
	case tests == 0:
		return 0, "Nothing had been tested, so that the confidence earns nothing."
	}
	likely := 1.0
	for _, id := range n.ids {
		likely = min(likely, n.belief(id))
	}
	right, wrong := 1-n.sure, n.sure
	points = float64(brierPoints * (1 - float64(likely*float64(right*right)) - float64((1-likely)*float64(wrong*wrong))))
	return points, fmt.Sprintf("You said %.0f %%, where the readings say %.0f %%: that earns %.1f of %d.", 100*n.sure, 100*likely, points, brierPoints)
}
