//go:build !js && !arm64

// Judging runs on one processor here; testdata/replays shows that scores are the
// same on all.

package sim_test

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// reports are of the scripts that have been judged.
var reports = map[string]sim.Report{}

// judge judges a recorded script, with what an expert would have done.
func judge(t *testing.T, script string) sim.Report {
	t.Helper()
	if _, ok := reports[script]; !ok {
		reports[script] = judgeScript(t, script)
	}
	return reports[script]
}

func judgeScript(t *testing.T, script string) sim.Report {
	t.Helper()
	rec, err := os.ReadFile(replays + script + ".msgp")
	require.NoError(t, err)
	last := 0.0
	r, err := sim.Judge(rec, func(done float64) {
		require.Greater(t, done, last)
		last = done
	})
	require.NoError(t, err)
	require.Equal(t, 1.0, last)
	sum := 0.0
	for _, it := range r.Items {
		require.GreaterOrEqual(t, it.Got, 0.0, it.Name)
		require.LessOrEqual(t, it.Got, it.Max, it.Name)
		require.NotEmpty(t, it.Reason)
		sum += it.Got
	}
	require.InDelta(t, sum, r.Score, 1e-9)
	for _, st := range r.Steps {
		total := 0.0
		for _, p := range st.Belief {
			total += p
		}
		require.InDelta(t, 1, total, 1e-9)
	}
	return r
}

// judged plays a call with other faults than the scenario's and judges it.
func judged(t *testing.T, faults string, play func(p trainee)) sim.Report {
	t.Helper()
	data := millWith(t, faults)
	p := trainee{t, openFile(t, data, 5)}
	play(p)
	p.do(sim.Action{Kind: sim.ActFinish})
	return p.assess(data, 5)
}

// assessors are of the scenarios that have been assessed, with a seed.
var assessors = map[string]*sim.Assessor{}

// assess judges a finished call as Judge does, without what an expert would have done
// (see TestAnAssessorJudgesLikeJudge).
func (p trainee) assess(scenario []byte, seed uint64) sim.Report {
	p.tb.Helper()
	rec, err := p.s.Recording()
	require.NoError(p.tb, err)
	log, err := sim.LogOf(rec)
	require.NoError(p.tb, err)
	key := fmt.Sprint(seed, string(scenario))
	if assessors[key] == nil {
		assessors[key], err = sim.NewAssessor(mill, scenario, seed, nil)
		require.NoError(p.tb, err)
	}
	r, err := assessors[key].Judge(&log, nil)
	require.NoError(p.tb, err)
	return r
}

func ids(list []sim.FaultInfo) (ids []string) {
	for _, f := range list {
		ids = append(ids, f.ID)
	}
	return ids
}

// believed is what the report believes of a cause after the last deed.
func believed(r sim.Report, id string) float64 {
	return r.Steps[len(r.Steps)-1].Belief[slices.Index(ids(r.Candidates), id)]
}

func TestOneOfTwoFaultsIsHalfTheCause(t *testing.T) {
	r := judged(t, `{"id": "salt-bridge", "severity": 1}, {"id": "bypass-leak", "severity": 0.6}`, func(p trainee) {
		p.test("hardness-valve")
		p.test("hardness-house")
		p.test("brine-strength")
		p.test("salt-probe")
		p.do(sim.Action{Kind: sim.ActDiagnose, ID: "salt-bridge", Value: 0.9})
	})
	require.Equal(t, []string{"salt-bridge", "bypass-leak"}, ids(r.True))
	require.InDelta(t, 22, item(r, "Cause").Got, 2.0, "half of 25 and a confidence that fits")
	require.Contains(t, item(r, "Cause").Reason, "not all that was wrong")
}

func TestAFaultThatNothingMendsIsNotHeldAgainstTheTrainee(t *testing.T) {
	r := judged(t, `{"id": "feed-iron", "severity": 0.7}`, func(p trainee) {
		p.test("iron-raw")
		p.test("ask-water")
		p.do(sim.Action{Kind: sim.ActDiagnose, ID: "feed-iron", Value: 0.9})
		p.test("hardness-house")
	})
	require.Greater(t, believed(r, "feed-iron"), 0.8)
	require.Contains(t, item(r, "Proof and set-up").Reason, "Nothing is left that work on the call can put right.")
}

func TestAWrongSettingThatHasGrownIsNamedAndSetRight(t *testing.T) {
	r := judged(t, `{"id": "dose-wrong", "severity": 0.9, "onset": "growing"}`, func(p trainee) {
		p.test("set-refill")
		p.test("brine-level")
		p.do(sim.Action{Kind: sim.ActDiagnose, ID: "dose-wrong", Value: 0.9})
		p.do(sim.Action{Kind: sim.ActAdjust, Part: sim.PartController})
	})
	require.Equal(t, []string{"dose-wrong"}, ids(r.True))
	require.Greater(t, item(r, "Cause").Got, 25.0)
	require.Contains(t, item(r, "Proof and set-up").Reason, "Nothing is left that work on the call can put right.")
	require.Empty(t, r.Unneeded)
}

func item(r sim.Report, name string) sim.ScoreItem {
	for _, it := range r.Items {
		if it.Name == name {
			return it
		}
	}
	panic("no item " + name)
}

func TestEvidenceIsRewardedAndGuessingIsNot(t *testing.T) {
	expert, guesser := judge(t, "expert"), judge(t, "guesser")

	require.Greater(t, expert.Score, 85.0)
	require.Equal(t, "nozzle-plugged", expert.Named.ID)
	require.Len(t, expert.True, 1)
	require.Empty(t, expert.Unsafe)
	require.Empty(t, expert.Unneeded)
	require.Greater(t, item(expert, "Cause").Got, 30.0)
	proof := item(expert, "Proof and set-up")
	require.Equal(t, proof.Max-0.75, proof.Got, "all but the seals")
	require.Contains(t, proof.Reason, "its seals went in without silicone")
	require.NotEmpty(t, expert.Better)

	require.Less(t, guesser.Score, 60.0)
	require.Less(t, item(guesser, "Cause").Got, 12.0, "right, but by luck")
	require.Zero(t, item(guesser, "Evidence").Got)
	require.Len(t, guesser.Unsafe, 1)
	require.NotEmpty(t, guesser.Unneeded, "the screen was sound")
}

func TestAConfidentWrongNameCosts(t *testing.T) {
	r := judge(t, "drain-blocked")
	require.Equal(t, "drain-line-blocked", r.True[0].ID)
	require.Less(t, item(r, "Cause").Got, 4.0, "90 % sure, wrong, and the readings speak little for it")
	require.Less(t, item(r, "Proof and set-up").Got, 8.0, "nothing was mended or proven")
}

// A call that is judged while it goes on is judged like one that has ended, and the
// expert's call comes with it.
func TestACallIsJudgedAheadLikeAfterIt(t *testing.T) {
	const script = "expert"
	whole, err := os.ReadFile(replays + script + ".msgp")
	require.NoError(t, err)
	s, err := sim.Resume(whole)
	require.NoError(t, err)
	for s.Prepare(1000) < 1 {
	}
	nobody := func(float64) {}
	j, err := sim.BeginJudging(whole, nobody)
	require.NoError(t, err)
	_, err = j.Report(nobody)
	require.ErrorContains(t, err, "not finished")

	parts := 0
	for last, more := 0, true; more; {
		more, err = s.Relive()
		require.NoError(t, err)
		if n := len(s.Call().Journal); n < last+3 && more {
			continue
		} else {
			last = n
		}
		part, err := s.Recording() // often in the middle of an act
		require.NoError(t, err)
		finished, err := j.Follow(part, nobody)
		require.NoError(t, err)
		require.Equal(t, s.Call().Finished, finished)
		parts++
	}
	require.Greater(t, parts, 3)
	got, err := j.Report(nobody)
	require.NoError(t, err)
	require.Equal(t, judge(t, script), got)

	demo, err := j.Demo()
	require.NoError(t, err)
	played, err := sim.Replay(demo.Recording)
	require.NoError(t, err)
	require.True(t, played.Call().Finished)
	require.Equal(t, got.Expert.Minutes, played.Call().Minutes)

	other, err := os.ReadFile(replays + "guesser.msgp")
	require.NoError(t, err)
	_, err = j.Follow(other, nobody)
	require.ErrorIs(t, err, sim.ErrDiverged, "another call than was followed")
}

func BenchmarkJudge(b *testing.B) {
	for _, script := range scripts {
		rec, err := os.ReadFile(replays + script.name + ".msgp")
		require.NoError(b, err)
		b.Run(script.name, func(b *testing.B) {
			for range b.N {
				_, err := sim.Judge(rec, nil)
				require.NoError(b, err)
			}
		})
	}
}
