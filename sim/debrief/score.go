package debrief

import (
	"fmt"
	"slices"
	"strings"

	"brinebench/sim/call"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// What each part of the score can bring.
const (
	maxCause, maxEvidence, maxEconomy, maxSafety, maxProof = 35, 20, 15, 15, 15

	brierPoints  = 5 // of the cause's points, for a confidence that fits
	unsafeCost   = 7.5
	unneededCost = 2.5
)

// score fills in the items and their sum.
func (c *Case) score(r *Result) {
	named := c.verdict()
	r.Items = []Item{
		c.scoreCause(r, named),
		c.scoreEvidence(r, named),
		c.scoreEconomy(r, named),
		scoreSafety(r),
		c.scoreProof(),
	}
	for _, it := range r.Items {
		r.Score += it.Got
	}
}

// verdict is the place in the journal of the naming that counts, the last; -1 for none.
func (c *Case) verdict() int {
	for i := len(c.Call.Journal) - 1; i >= 0; i-- {
		if e := &c.Call.Journal[i]; e.Action.Kind == call.Diagnose && !e.Unsafe {
			return i
		}
	}
	return -1
}

// right reports whether a verdict names something that was wrong.
func (r *Result) right(id string) bool {
	if id == call.NoFault {
		return len(r.True) == 0
	}
	return slices.Contains(r.True, id)
}

func (c *Case) scoreCause(r *Result, named int) Item {
	it := Item{Name: "Cause", Max: maxCause}
	if named < 0 {
		it.Reason = "No cause was named."
		return it
	}
	a := c.Call.Journal[named].Action
	support := r.Steps[named].Belief[slices.Index(r.Causes, a.ID)]
	outcome := 0.0
	if r.right(a.ID) {
		outcome = 1
		it.Got = float64((maxCause - brierPoints) * support)
	}
	miss := a.Value - outcome
	brier := float64(brierPoints * (1 - float64(miss*miss)))
	it.Got += brier
	verdict := "is right"
	if outcome == 0 {
		verdict = "is wrong"
	}
	it.Reason = fmt.Sprintf("%q %s. The readings you had by then support it with %.0f %%; you said %.0f %% (confidence earns %.1f of %d).",
		call.FaultName(a.ID), verdict, 100*support, 100*a.Value, brier, brierPoints)
	return it
}

func (c *Case) scoreEvidence(r *Result, named int) Item {
	it := Item{Name: "Evidence", Max: maxEvidence}
	last, tests := c.before(r, named)
	if tests == 0 {
		it.Reason = "Nothing was tested before the cause was named."
		return it
	}
	start := entropy(c.startBelief(r))
	left := entropy(r.Steps[last].Belief)
	solved := max(0, 1-left/start)
	it.Got = float64(maxEvidence * solved)
	it.Reason = fmt.Sprintf("%d readings took the doubt between %d causes from %.1f to %.1f bits: %.0f %% of it is gone.",
		tests, len(r.Causes), start, left, 100*solved)
	return it
}

// before returns the last deed up to the naming and the number of tests till then.
func (c *Case) before(r *Result, named int) (last, tests int) {
	last = named
	if last < 0 {
		last = len(r.Steps) - 1
	}
	for i := 0; i <= last; i++ {
		if r.Steps[i].Ratio >= 0 {
			tests++
		}
	}
	return last, tests
}

// startBelief is the prior over the causes.
func (c *Case) startBelief(r *Result) []float64 {
	p := make([]float64, len(r.Causes))
	for _, h := range hypotheses() {
		p[h.cause] += h.prior
	}
	return p
}

func (c *Case) scoreEconomy(r *Result, named int) Item {
	it := Item{Name: "Economy", Max: maxEconomy}
	last, tests := c.before(r, named)
	if tests == 0 {
		it.Reason = "Nothing was tested, so nothing was saved."
		return it
	}
	sum, weight := 0.0, 0.0
	for _, s := range r.Steps[:last+1] {
		if s.Ratio >= 0 {
			sum += float64(s.Ratio * s.Minutes)
			weight += s.Minutes
		}
	}
	ratio := sum / weight
	it.Got = max(0, float64(maxEconomy*ratio)-float64(unneededCost*float64(len(r.Unneeded))))
	it.Reason = fmt.Sprintf("Minute by minute your tests were worth %.0f %% of the best ones you could have chosen.", 100*ratio)
	if n := len(r.Unneeded); n > 0 {
		it.Reason += fmt.Sprintf(" %d of your repairs changed nothing that was wrong.", n)
	}
	return it
}

func scoreSafety(r *Result) Item {
	it := Item{Name: "Safety", Max: maxSafety}
	it.Got = max(0, maxSafety-float64(unsafeCost*float64(len(r.Unsafe))))
	it.Reason = "No unsafe act."
	if n := len(r.Unsafe); n > 0 {
		it.Reason = fmt.Sprintf("Work had to be stopped %d times before somebody got hurt.", n)
		if n == 1 {
			it.Reason = "Work had to be stopped once before somebody got hurt."
		}
	}
	return it
}

// scoreProof asks whether the unit was mended, regenerated and shown to soften,
// and how it was left.
func (c *Case) scoreProof() Item {
	it := Item{Name: "Proof and set-up", Max: maxProof}
	var told []string
	for _, p := range []struct {
		points  float64
		done    bool
		yes, no string
	}{
		{5, len(fault.Wrong(c.Call.Plant.Cond)) == 0, "Nothing is wrong with the unit any more.", "Something is still wrong with the unit."},
		{3, c.drawnSince(c.mendedAt()), "It was seen to draw brine after the repair.", "It was not seen to draw brine after the repair."},
		{4, c.provenSoft(c.mendedAt()), "A test showed soft water at the house.", "No test showed soft water at the house after the repair."},
		{3, c.leftRight(), "It was left in service.", "It was not left as it should be: in service, bypass and taps set back, plugged in."},
	} {
		told = append(told, p.no)
		if p.done {
			it.Got += p.points
			told[len(told)-1] = p.yes
		}
	}
	it.Reason = strings.Join(told, " ")
	return it
}

// mendedAt is the tick at which the last repair that changed something was done;
// 0 when none did.
func (c *Case) mendedAt() int64 {
	at := int64(0)
	for i := range c.Call.Journal {
		if e := &c.Call.Journal[i]; e.Mended {
			at = e.EndTick
		}
	}
	return at
}

// drawnSince reports whether a reading of the brine line after a tick shows a draw.
func (c *Case) drawnSince(tick int64) bool {
	return c.readSince(tick, func(r *call.Reading) bool {
		return r.Instrument == "brine-draw" && r.Value > 0.1*unit.GPM
	})
}

// provenSoft reports whether the house was shown to have soft water after a tick:
// at most 1 gpg, the limit of NSF/ANSI 44's capacity test (secondary source).
func (c *Case) provenSoft(tick int64) bool {
	return c.readSince(tick, func(r *call.Reading) bool {
		return r.Instrument == "hardness-house" && r.Value <= 1.0001*unit.GPG
	})
}

func (c *Case) readSince(tick int64, shows func(*call.Reading) bool) bool {
	for i := range c.Call.Journal {
		e := &c.Call.Journal[i]
		if e.Reading != nil && e.Tick >= tick && e.Reading.Unit != instrument.Sighting && shows(e.Reading) {
			return true
		}
	}
	return false
}

func (c *Case) leftRight() bool {
	s := c.Call.Plant
	return s.Bypass == plant.BypassService && !s.ShutOff && s.Powered && s.HouseTap == 0 && s.RawTap == 0 &&
		len(c.Call.Opened) == 0 && !s.Control.Regenerating
}
