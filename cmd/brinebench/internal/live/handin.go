package live

import (
	"context"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
	"brinebench/sim"
)

// handInEveryMS is between two looks for what is overdue.
const handInEveryMS = 1000

// handInOne hands in one attempt as it stands whose class is over, and reports whether
// there was one: what was done by then counts, whether its page is still there or not.
func (t *Tracker) handInOne(ctx context.Context) bool {
	now := t.nowMS()
	if now < t.handInMS {
		return false
	}
	a, err := t.store.Overdue(ctx, now)
	if err == nil {
		err = t.handIn(ctx, &a)
	}
	if err == nil {
		return true
	}
	t.handInMS = now + handInEveryMS
	if !store.IsNone(err) {
		t.fail(ctx, "hand in", err)
	}
	return false
}

// handIn hands an attempt in; the error is none of its own.
func (t *Tracker) handIn(ctx context.Context, a *class.Attempt) error {
	d, err := t.store.Drill(ctx, a.Drill)
	if err != nil {
		return err
	}
	var last *class.Upload
	done := t.guarded("hand in", key{a.Member, a.Drill}, func() {
		if d.Kind == class.Call {
			last, err = t.ending(ctx, &d, a)
		}
	})
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case !done:
		t.drop(d.ID)
		t.close(ctx, d.Class, a, &class.Refusal{Word: class.Failed, Why: "the server failed at it; its log tells more"})
	case err != nil:
		t.refuse(ctx, d.Class, a, err.Error())
	default:
		return t.store.HandIn(ctx, a, last, t.nowMS())
	}
	return nil
}

// ending lives a call as far as it has come and brings it to its end: what is under way
// ends, open parts are put back, the unit is handed back.
func (t *Tracker) ending(ctx context.Context, d *class.Drill, a *class.Attempt) (*class.Upload, error) {
	assessor, err := t.assessor(ctx, d)
	if err != nil {
		return nil, err
	}
	acts, err := t.store.Acts(ctx, a.Member, a.Drill, 0)
	if err != nil {
		return nil, err
	}
	c := closing{assessor.Follow(), ctx}
	for i := range acts {
		if err := c.do(acts[i].LogAct); err != nil {
			return nil, err
		}
	}
	if err := c.finish(a.Ticks); err != nil {
		return nil, err
	}
	recording, err := c.Session().Recording()
	if err != nil {
		return nil, err
	}
	log, err := sim.LogOf(recording)
	if err != nil {
		return nil, err
	}
	return &class.Upload{From: a.Acts, Acts: log.Acts[a.Acts:], Ticks: log.Ticks, Hash: &log.Hash}, nil
}

// closing is a call that is brought to its end.
type closing struct {
	*sim.Follower
	ctx context.Context
}

// runTo lives on to a tick, in slices: the end of the program does not wait for it.
func (c *closing) runTo(tick int64) error {
	for now := c.Session().Ticks(); now < tick; now = c.Session().Ticks() {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		if err := c.RunTo(min(tick, now+sliceTicks)); err != nil {
			return err
		}
	}
	return nil
}

func (c *closing) do(a sim.LogAct) error {
	if err := c.runTo(a.Tick); err != nil {
		return err
	}
	return c.Do(a)
}

// finish comes to the log's end, and from there to the call's.
func (c *closing) finish(tick int64) error {
	if err := c.runTo(tick); err != nil {
		return err
	}
	if err := c.rest(); err != nil {
		return err
	}
	for _, part := range append([]sim.Part{}, c.Session().Call().Opened...) {
		if err := c.now(sim.Action{Kind: sim.ActRefit, Part: part}); err != nil {
			return err
		}
	}
	if c.Session().Call().Finished {
		return nil
	}
	return c.now(sim.Action{Kind: sim.ActFinish})
}

// now does something and waits until it is done.
func (c *closing) now(a sim.Action) error {
	if err := c.do(sim.LogAct{Tick: c.Session().Ticks(), Action: a}); err != nil {
		return err
	}
	return c.rest()
}

// rest waits until what is under way is done.
func (c *closing) rest() error { return c.runTo(c.Session().Call().BusyUntilTick) }
