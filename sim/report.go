package sim

import (
	"slices"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/expert"
	"brinebench/sim/instrument"
)

// Report is the debrief of a finished call.
type Report struct {
	Score      float64 // 0..100
	Items      []ScoreItem
	True       []FaultInfo // what was really wrong; empty for a healthy unit
	Named      FaultInfo   // what the trainee named; ID "" when nothing was named
	Confidence float64
	Minutes    float64     // of call time
	Candidates []FaultInfo // what may be wrong: the catalogue, then verdicts of several causes that came to mind
	Says       []string    // what the customer told when he called
	Told       StepReport  // what that brought, as a step before the first; its belief is over the catalogue's Candidates alone, nil in reports of old
	Steps      []StepReport
	Unsafe     []string
	Unneeded   []string // repairs that changed nothing that was wrong
	Better     []string // what an expert did at the same unit, act by act, with reasons
	Expert     ExpertRun
	Hash       uint64 // state hash at the end
}

// ScoreItem is one part of the score.
type ScoreItem struct {
	Name   string
	Got    float64
	Max    float64
	Reason string
}

// StepReport is one act of the call as the debrief sees it.
type StepReport struct {
	Minute   float64
	Text     string
	Reading  *Reading
	Belief   []float64 // over Candidates, after this step; sums to 1
	GainBits float64   // information that the test was worth when chosen, bits
	BestBits float64   // the same for the best test per minute at that moment
	BestTest string
	Ratio    float64 // value per minute over the best available, 0..1; -1 where the step is no test
	Spare    bool    // a test that economy leaves out: none was worth much, it was for safety, or it came after the verdict or the repair
	Unsafe   bool
	Against  []string // causes, by ID, that the reading all but ruled out: from 2 % and more to less than a tenth of it
	For      []string // causes that it more than doubled, to 2 % and more
	Would    []Would  // what the test was to show by what was wrong, by what it was to tell apart and did, and by a sound unit; nil where the step is no test or was a duty, and once somebody has worked at the unit
}

// Would is what a test was to show if any of some things is what is wrong.
type Would struct {
	If    []FaultInfo // of Report.Candidates
	Shown []Reading   // numbers first: the least and the greatest, equal or not; then what else may be seen
}

// wouldOf is what a step's test was to show by candidates that are worth telling, as far
// as they were followed: some that are named first, those that it was best made to tell
// apart, those that it raised and ruled out most, and a sound unit. Those that show the
// same are told together.
func wouldOf(st *adviser.Step, first ...string) (list []Would) {
	const most = 2 // of those raised, and of those ruled out
	in, _ := instrument.Find(st.Test)
	raised, out := causeIDs(st.For), causeIDs(st.Against)
	told := map[string]bool{}
	for _, id := range slices.Concat(first, st.Apart, raised[:min(most, len(raised))], out[:min(most, len(out))], []string{NoFault}) {
		k := slices.IndexFunc(st.Would, func(w adviser.Would) bool { return w.ID == id })
		if k < 0 || told[id] {
			continue
		}
		told[id] = true
		w := Would{If: []FaultInfo{verdictInfo(id)}}
		for _, r := range st.Would[k].Shown {
			w.Shown = append(w.Shown, call.ReadingOf(in, r))
		}
		if i := slices.IndexFunc(list, func(x Would) bool { return slices.Equal(x.Shown, w.Shown) }); i >= 0 {
			list[i].If = append(list[i].If, w.If...)
			continue
		}
		list = append(list, w)
	}
	return list
}

// Truth are the candidates that are what was wrong: all of it together, or, where that
// never came to mind, each part of it; NoFault where nothing was.
func (r *Report) Truth() (ids []string) {
	for _, t := range r.True {
		ids = append(ids, t.ID)
	}
	slices.Sort(ids)
	for _, c := range r.Candidates {
		if slices.Equal(slices.Sorted(slices.Values(VerdictIDs(c.ID))), ids) {
			return []string{c.ID}
		}
	}
	if len(ids) == 0 {
		return []string{NoFault}
	}
	return ids
}

// ExpertRun is how the expert fared at the same unit.
type ExpertRun struct {
	Score   float64 // 0..100
	Minutes float64 // of call time
	Tests   int     // readings up to the first verdict
}

// Worth says in a word what a test is worth by its StepReport.GainBits.
func Worth(bits float64) string { return expert.Worth(bits) }

// WorthFrom is the least for "little", "some" and "much", bits.
func WorthFrom() (little, some, much float64) {
	return expert.WorthBits[0], expert.WorthBits[1], expert.WorthBits[2]
}
