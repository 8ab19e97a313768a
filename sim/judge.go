package sim

import (
	"errors"

	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/record"
	"brinebench/sim/signature"
)

// Judge replays a recording and its counterfactuals and returns the debrief. It
// is long work; progress, if given, hears how far it has come, 0..1. Errors are
// those of Replay, and of a call that was not finished.
func Judge(recording []byte, progress func(done float64)) (Report, error) {
	s, err := Replay(recording)
	if err != nil {
		return Report{}, err
	}
	if !s.call.Finished {
		return Report{}, errUnfinished
	}
	progress = rising(progress)
	j, err := BeginJudging(recording, progress)
	if err != nil {
		return Report{}, err
	}
	j.s = s
	return j.Report(progress)
}

// rising passes on only what goes further; progress may be nil.
func rising(progress func(done float64)) func(done float64) {
	last := 0.0
	return func(done float64) {
		if done > last && progress != nil {
			last = done
			progress(done)
		}
	}
}

// Parts of the judging done when all units have lived, and when the expert has played.
const judgeLived, judgePlayed = 0.4, 0.8

var errUnfinished = errors.New("recording: acts: the call was not finished")

// Judging is the judging of a call that may still be going on.
type Judging struct {
	assessor *Assessor
	better   debrief.Better
	s        *Session // the call as far as it has been followed
	walk     *debrief.Walk
}

// BeginJudging does the long part of Judge, which needs the call but nothing of what is
// done in it: a recording of its beginning will do. Errors are those of Open and of a
// recording that cannot be read.
func BeginJudging(recording []byte, progress func(done float64)) (*Judging, error) {
	r, err := record.Decode(recording)
	if err != nil {
		return nil, err
	}
	j, err := newJudging(r.Name, r.Scenario, r.Seed, progress)
	if err != nil {
		return nil, err
	}
	j.s, j.walk = j.assessor.opened.Clone(), debrief.NewWalk(j.assessor.lib.Fork())
	return j, nil
}

// newJudging has the expert play a call; nobody is followed yet.
func newJudging(name string, scenarioJSON []byte, seed uint64, progress func(done float64)) (*Judging, error) {
	a, err := NewAssessor(name, scenarioJSON, seed, func(done float64) bool {
		progress(judgeLived * done)
		return true
	})
	if err != nil {
		return nil, err
	}
	c := debrief.Case{File: a.opened.file, Model: a.opened.model, Found: a.opened.found, Call: a.opened.call}
	better := c.Play(a.lib.Fork(), func(done float64) { progress(judgeLived + float64((judgePlayed-judgeLived)*done)) })
	progress(judgePlayed)
	return &Judging{assessor: a, better: better}, nil
}

// Follow lives on as far as a recording of the call goes, and weighs what was read until
// then. It reports whether the call is finished. Errors are those of Resume and Relive,
// and of a recording that does not go on where the last one ended.
func (j *Judging) Follow(recording []byte, progress func(done float64)) (finished bool, err error) {
	log, err := LogOf(recording)
	if err != nil {
		return false, err
	}
	if err := j.s.liveAs(j.assessor, &log, nil); err != nil {
		return false, err
	}
	j.walk.Follow(j.s.deeds(), j.s.call.Journal, ending(progress))
	return j.s.call.Finished, nil
}

// ending is progress of the last part of the judging.
func ending(progress func(done float64)) func(done float64) {
	return func(done float64) { progress(judgePlayed + float64((1-judgePlayed)*done)) }
}

// Report judges the call, which must have been followed to its end.
func (j *Judging) Report(progress func(done float64)) (Report, error) {
	if !j.s.call.Finished {
		return Report{}, errUnfinished
	}
	report := j.s.judge(j.walk, ending(progress))
	report.Better = j.better.Steps
	report.Expert = ExpertRun{Score: j.better.Score, Minutes: j.better.Minutes, Tests: j.better.Tests}
	return report, nil
}

// Demo is the call that the expert has played for the judging.
func (j *Judging) Demo() (Demo, error) {
	k, run := j.better.Call, j.better.Run
	log := Log{Ticks: k.Ticks, Hash: k.Hash()}
	for _, d := range run.Deeds {
		log.Acts = append(log.Acts, LogAct{Tick: d.Tick, Action: d.Act})
	}
	rec, err := j.assessor.Recording(&log)
	d := Demo{Recording: rec, Reasons: run.Reasons}
	for i := range run.Steps {
		d.Would = append(d.Would, wouldOf(&run.Steps[i]))
	}
	return d, err
}

func (s *Session) report(r debrief.Result) Report {
	out := Report{
		Score: r.Score, Minutes: s.call.Minutes(), Unsafe: r.Unsafe, Unneeded: r.Unneeded, Hash: s.Hash(),
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
	for _, id := range s.file.Says {
		c, _ := instrument.FindComplaint(id)
		out.Says = append(out.Says, c.Name)
	}
	out.Told = StepReport{Belief: r.Told.Belief, Ratio: r.Told.Ratio, Against: causeIDs(r.Told.Against), For: causeIDs(r.Told.For)}
	truth := out.Truth()
	for i := range r.Steps {
		st := &r.Steps[i]
		out.Steps = append(out.Steps, StepReport{
			Minute: float64(st.Entry.Tick) * TickS / 60, Text: st.Entry.Text, Reading: st.Entry.Reading,
			Belief: st.Belief, GainBits: st.GainBits, BestBits: st.BestBits, BestTest: st.BestTest,
			Ratio: st.Ratio, Spare: st.Ratio >= 0 && !st.Counts, Unsafe: st.Entry.Unsafe, Against: causeIDs(st.Against), For: causeIDs(st.For),
			Would: wouldOf(&st.Step, truth...),
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
