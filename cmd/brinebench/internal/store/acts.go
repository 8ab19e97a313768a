package store

import (
	"context"
	"errors"
	"math"

	"brinebench/game/class"
	"brinebench/sim"
)

const attemptFields = `a.member, a.drill, a.epoch, a.opened_ms, a.acts, a.ticks, a.last_ms, a.last, a.status, a.hash, a.why, a.engine, a.answered, a.asked`

func scanAttempt(r scanner) (class.Attempt, error) { return scanAttemptAnd(r) }

// scanAttemptAnd takes what was asked for behind attemptFields too.
func scanAttemptAnd(r scanner, more ...any) (a class.Attempt, err error) {
	var hash int64
	err = r.Scan(append([]any{&a.Member, &a.Drill, &a.Epoch, &a.OpenedMS, &a.Acts, &a.Ticks, &a.LastMS, &a.Last, &a.Status, &hash, &a.Why, &a.Engine, &a.Answered, &a.Asked}, more...)...)
	a.Hash = uint64(hash)
	return a, err
}

// TakeUp begins a member's attempt at a drill, or takes it over to another device: from
// then on the device that had it writes no more. The attempt keeps the engine of its
// first act.
func (s *Store) TakeUp(ctx context.Context, member, drill int64, engine string, nowMS int64) (a class.Attempt, err error) {
	err = s.inTx(ctx, func(t *tx) error {
		err := t.exec(ctx, `INSERT INTO attempts (member, drill, epoch, opened_ms, acts, ticks, last_ms, last, last_tick, status, hash, why, claimed_ms, engine)
			VALUES (?, ?, 1, ?, 0, 0, ?, '', 0, 'going', 0, '', 0, ?) ON CONFLICT (member, drill) DO UPDATE SET epoch = attempts.epoch + 1,
			engine = CASE WHEN attempts.acts = 0 AND attempts.status = 'going' THEN excluded.engine ELSE attempts.engine END`,
			member, drill, nowMS, nowMS, engine)
		if err != nil {
			return err
		}
		a, err = scanAttempt(t.row(ctx, `SELECT `+attemptFields+` FROM attempts a WHERE member = ? AND drill = ?`, member, drill))
		return wrap(err)
	})
	return a, err
}

// Attempt finds an attempt.
func (s *Store) Attempt(ctx context.Context, member, drill int64) (class.Attempt, error) {
	a, err := scanAttempt(s.row(ctx, `SELECT `+attemptFields+` FROM attempts a WHERE member = ? AND drill = ?`, member, drill))
	return a, wrap(err)
}

// Attempts are those of a class.
func (s *Store) Attempts(ctx context.Context, classID int64) ([]class.Attempt, error) {
	return list(ctx, s.read, s.dialect, scanAttempt,
		`SELECT `+attemptFields+` FROM attempts a JOIN drills d ON d.id = a.drill WHERE d.class = ? ORDER BY a.member, d.place`, classID)
}

// Keep keeps what an upload brings that was not kept before, all of it or nothing, and
// returns the attempt as it is then. What was kept before may come again. The error is a
// class.Refusal where the log cannot be what it says, and halted where that is an error
// and there is something new, or it is handed in. What comes to an attempt that is closed
// proves nothing: the server may have closed it before all of it had come.
func (s *Store) Keep(ctx context.Context, member, drill int64, u *class.Upload, halted error, nowMS int64) (a class.Attempt, err error) {
	err = s.inTx(ctx, func(t *tx) error {
		var lastTick int64
		a, lastTick, err = t.held(ctx, member, drill)
		if err != nil {
			return err
		}
		kept, err := t.keptAmong(ctx, &a, u)
		if err != nil {
			return err
		}
		if err := u.Check(&a, nowMS); err != nil {
			return err
		}
		fresh, err := u.Fresh(a.Acts, kept)
		switch {
		case a.Status != class.Going && err == nil && len(fresh) == 0 && (u.Hash == nil || *u.Hash == a.Hash):
			return nil // what is known already
		case a.Status != class.Going:
			return &class.Refusal{Word: class.Closed, Why: "the drill was handed in before"}
		case err != nil:
			return err
		case halted != nil && len(fresh) == 0 && u.Hash == nil:
			return nil // somebody is there
		case halted != nil:
			return halted
		case len(fresh) > 0 && fresh[0].Tick < lastTick, u.Hash != nil && u.Ticks < lastTick:
			return &class.Refusal{Word: class.Order, Why: "before the last act that was kept"}
		}
		return t.add(ctx, &a, u, fresh, lastTick, nowMS)
	})
	return a, err
}

// held reads an attempt and holds it: uploads to it come one after the other.
func (t *tx) held(ctx context.Context, member, drill int64) (a class.Attempt, lastTick int64, err error) {
	a, err = scanAttemptAnd(t.row(ctx, `SELECT `+attemptFields+`, a.last_tick FROM attempts a WHERE a.member = ? AND a.drill = ? {lock}`, member, drill), &lastTick)
	return a, lastTick, wrap(err)
}

// keptAmong reads those acts of an upload that were kept before.
func (t *tx) keptAmong(ctx context.Context, a *class.Attempt, u *class.Upload) ([]class.Act, error) {
	if u.From >= a.Acts || len(u.Acts) == 0 || len(u.Acts) > class.MaxBatch {
		return nil, nil
	}
	return list(ctx, t, t.dialect, scanAct, `SELECT `+actFields+` FROM acts WHERE member = ? AND drill = ? AND seq >= ? AND seq < ? ORDER BY seq`,
		a.Member, a.Drill, u.From, u.From+len(u.Acts))
}

// add writes new acts and what they make of the attempt.
func (t *tx) add(ctx context.Context, a *class.Attempt, u *class.Upload, fresh []sim.LogAct, lastTick, nowMS int64) error {
	for i := range fresh {
		x := &fresh[i]
		err := t.exec(ctx, `INSERT INTO acts (member, drill, seq, kept_ms, tick, kind, part, ref, words, bits) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			a.Member, a.Drill, a.Acts+i, nowMS, x.Tick, string(x.Kind), string(x.Part), x.ID, x.Text, int64(math.Float64bits(x.Value)))
		if err != nil {
			return err
		}
		a.Last, a.LastMS, lastTick = class.Describe(&x.Action), nowMS, x.Tick
	}
	a.Acts += len(fresh)
	a.Ticks = max(a.Ticks, u.Ticks)
	if u.Hash != nil {
		a.Status, a.Hash, a.Ticks = class.Handed, *u.Hash, u.Ticks
	}
	return t.exec(ctx, `UPDATE attempts SET acts = ?, ticks = ?, last_ms = ?, last = ?, last_tick = ?, status = ?, hash = ? WHERE member = ? AND drill = ?`,
		a.Acts, a.Ticks, a.LastMS, a.Last, lastTick, string(a.Status), int64(a.Hash), a.Member, a.Drill)
}

const actFields = `seq, kept_ms, tick, kind, part, ref, words, bits`

func scanAct(r scanner) (a class.Act, err error) {
	var bits int64
	err = r.Scan(&a.Seq, &a.MS, &a.Tick, &a.Kind, &a.Part, &a.ID, &a.Text, &bits)
	a.Value = math.Float64frombits(uint64(bits))
	return a, err
}

// Acts are those of an attempt from a number on.
func (s *Store) Acts(ctx context.Context, member, drill int64, from int) ([]class.Act, error) {
	return list(ctx, s.read, s.dialect, scanAct, `SELECT `+actFields+` FROM acts WHERE member = ? AND drill = ? AND seq >= ? ORDER BY seq`, member, drill, from)
}

// Refuse closes an attempt that is not to be scored, and tells the instructor why.
func (s *Store) Refuse(ctx context.Context, classID, member, drill int64, why *class.Refusal, nowMS int64) error {
	return s.inTx(ctx, func(t *tx) error {
		n, err := t.change(ctx, `UPDATE attempts SET status = ?, why = ? WHERE member = ? AND drill = ? AND status IN ('going', 'handed')`,
			string(why.Status()), why.Kept(), member, drill)
		if err != nil || n == 0 {
			return err
		}
		return t.tell(ctx, &class.Event{Class: classID, Member: member, Kind: class.Alarm, Text: why.Kept(), MS: nowMS})
	})
}

// IsNone reports whether an error says that something is not there.
func IsNone(err error) bool { return errors.Is(err, ErrNone) }
