package live

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
	"brinebench/sim"
)

// ready is an assessor and the drill that it is for.
type ready struct {
	drill    int64
	assessor *sim.Assessor
}

// Name is what a drill's scenario is called in recordings.
func Name(d *class.Drill) string { return fmt.Sprintf("drill-%d.json", d.ID) }

// assessor makes the call of a drill ready, or finds it; the one that was longest
// unused goes when there are too many.
func (t *Tracker) assessor(ctx context.Context, d *class.Drill) (*sim.Assessor, error) {
	for i, r := range t.assessors {
		if r.drill == d.ID {
			t.assessors = append(append(t.assessors[:i:i], t.assessors[i+1:]...), r)
			return r.assessor, nil
		}
	}
	a, err := sim.NewAssessor(Name(d), d.Body, d.Seed, func(float64) bool { return ctx.Err() == nil })
	if err != nil {
		return nil, err
	}
	if len(t.assessors) >= maxAssessors {
		t.assessors = t.assessors[1:]
	}
	t.assessors = append(t.assessors, ready{d.ID, a})
	return a, nil
}

// drop lets go of an assessor that may have come to harm.
func (t *Tracker) drop(drill int64) {
	t.assessors = slices.DeleteFunc(t.assessors, func(r ready) bool { return r.drill == drill })
}

// scoreOne scores one attempt that was handed in, and reports whether there was one. What
// is broken off by the end of ctx is done again by whoever claims it next.
func (t *Tracker) scoreOne(ctx context.Context) bool {
	a, err := t.store.Claim(ctx, t.nowMS())
	if err != nil {
		if !store.IsNone(err) {
			t.fail(ctx, "claim", err)
		}
		return false
	}
	began := time.Now()
	d, err := t.store.Drill(ctx, a.Drill)
	if err != nil {
		t.fail(ctx, "drill", err)
		return true
	}
	var result *class.Result
	var why string
	done := t.guarded("score", key{a.Member, a.Drill}, func() { result, why, err = t.score(ctx, &d, &a) })
	ended := ctx.Err() != nil
	ctx = context.WithoutCancel(ctx) // what has come out is kept
	switch {
	case ended && err != nil:
	case !done:
		t.drop(d.ID)
		t.close(ctx, d.Class, &a, &class.Refusal{Word: class.Failed, Why: "the server failed at it; its log tells more"})
	case err != nil:
		t.fail(ctx, "score", err) // somebody claims it again
	case why != "":
		t.refuse(ctx, d.Class, &a, why)
	default:
		result.Member, result.Drill, result.MS = a.Member, a.Drill, t.nowMS()
		t.fail(ctx, "result", t.store.PutResult(ctx, result))
		t.Scored.Add(1)
	}
	t.ScoringNS.Add(int64(time.Since(began)))
	return true
}

// score works out what an attempt came to; why tells that it cannot be true.
func (t *Tracker) score(ctx context.Context, d *class.Drill, a *class.Attempt) (r *class.Result, why string, err error) {
	if d.Kind != class.Call {
		answer, err := t.store.AnswerOf(ctx, a.Member, a.Drill)
		if err != nil {
			return nil, "", err
		}
		return Mark(ctx, d, answer)
	}
	assessor, err := t.assessor(ctx, d)
	if err != nil {
		return nil, "", err
	}
	acts, err := t.store.Acts(ctx, a.Member, a.Drill, 0)
	if err != nil {
		return nil, "", err
	}
	log := sim.Log{Ticks: a.Ticks, Hash: a.Hash}
	for i := range acts {
		log.Acts = append(log.Acts, acts[i].LogAct)
	}
	report, err := assessor.Judge(&log, func() bool { return ctx.Err() == nil })
	switch {
	case errors.Is(err, sim.ErrStopped):
		return nil, "", err
	case err != nil:
		return nil, err.Error(), nil
	}
	return callResult(&report)
}

func callResult(report *sim.Report) (*class.Result, string, error) {
	text, err := json.Marshal(report)
	if err != nil {
		return nil, "", err
	}
	var truth []string
	for _, f := range report.True {
		truth = append(truth, f.ID)
	}
	return &class.Result{
		Score: report.Score, Minutes: report.Minutes, Unsafe: len(report.Unsafe),
		Named: report.Named.ID, Right: class.Right(report.Named.ID, truth), Report: text,
	}, "", nil
}

// refuse closes an attempt that cannot be true; one that was begun with another engine
// may have been, with that.
func (t *Tracker) refuse(ctx context.Context, classID int64, a *class.Attempt, why string) {
	refusal := &class.Refusal{Word: class.Diverged, Why: why}
	if a.Engine != sim.Engine {
		refusal = &class.Refusal{Word: class.WrongEngine, Why: fmt.Sprintf("begun with %q, and this is %q: %s", a.Engine, sim.Engine, why)}
	}
	t.close(ctx, classID, a, refusal)
}

func (t *Tracker) close(ctx context.Context, classID int64, a *class.Attempt, why *class.Refusal) {
	t.Refused.Add(1)
	t.log.Warn("attempt closed", "class", classID, "member", a.Member, "drill", a.Drill, "word", why.Word, "why", why.Why)
	t.fail(ctx, "refuse", t.store.Refuse(ctx, classID, a.Member, a.Drill, why, t.nowMS()))
}
