package sim

import (
	"errors"

	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/fault"
	"brinebench/sim/signature"
)

// Judge replays a recording and its counterfactuals and returns the debrief. It
// is long work; progress, if given, hears how far it has come, 0..1. Errors are
// those of Replay.
func Judge(recording []byte, progress func(done float64)) (Report, error) {
	s, err := Replay(recording)
	if err != nil {
		return Report{}, err
	}
	if !s.call.Finished {
		return Report{}, errors.New("recording: acts: the call was not finished")
	}
	c := debrief.Case{File: s.file, Model: s.model, Found: s.found, Call: s.call}
	for _, a := range s.acts {
		c.Deeds = append(c.Deeds, adviser.Deed{
			Tick: a.Tick, Act: call.Act{Kind: ActionKind(a.Kind), Part: Part(a.Part), ID: a.ID, Text: a.Text, Value: a.Value},
		})
	}
	return s.report(c.Judge(progress)), nil
}

func (s *Session) report(r debrief.Result) Report {
	out := Report{
		Score: r.Score, Minutes: s.call.Minutes(), Unsafe: r.Unsafe, Unneeded: r.Unneeded, Better: r.Better.Steps,
		Expert: ExpertRun{Score: r.Better.Score, Minutes: r.Better.Minutes, Tests: r.Better.Tests},
		Hash:   s.Hash(),
	}
	for _, it := range r.Items {
		out.Items = append(out.Items, ScoreItem(it))
	}
	for _, id := range r.Causes {
		out.Candidates = append(out.Candidates, verdictInfo(id))
	}
	for _, id := range r.True {
		out.True = append(out.True, faultInfo(id))
	}
	if v := s.call.Verdict; v != nil {
		out.Named, out.Confidence = verdictInfo(v.ID), v.Value
	}
	for _, st := range r.Steps {
		out.Steps = append(out.Steps, StepReport{
			Minute: float64(st.Entry.Tick) * TickS / 60, Text: st.Entry.Text, Reading: st.Entry.Reading,
			Belief: st.Belief, GainBits: st.GainBits, BestBits: st.BestBits, BestTest: st.BestTest,
			Ratio: st.Ratio, Spare: st.Ratio >= 0 && !st.Counts, Unsafe: st.Entry.Unsafe, Against: causeIDs(st.Against), For: causeIDs(st.For),
		})
	}
	return out
}

// causeIDs turns places in the list of candidates into IDs.
func causeIDs(causes []int) (ids []string) {
	for _, c := range causes {
		ids = append(ids, signature.Causes()[c])
	}
	return ids
}

// verdictInfo is a verdict as one entry: where it names several causes, its place
// is that of the first.
func verdictInfo(id string) FaultInfo {
	info := faultInfo(call.VerdictIDs(id)[0])
	return FaultInfo{ID: id, Name: call.VerdictName(id), Where: info.Where}
}

func faultInfo(id string) FaultInfo {
	info := FaultInfo{ID: id, Name: call.FaultName(id)}
	if f, ok := fault.Find(id); ok {
		info.Where = f.Where
	}
	return info
}
