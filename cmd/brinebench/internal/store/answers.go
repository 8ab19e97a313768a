package store

import (
	"context"

	"brinebench/game/class"
)

// Answer hands in an attempt at a drill that asks for an answer and no acts. The same
// answer may come again. halted is as with Keep.
func (s *Store) Answer(ctx context.Context, member, drill, epoch int64, x *class.Answer, halted error, nowMS int64) (class.Attempt, error) {
	return s.answer(ctx, member, drill, epoch, x, class.Handed, halted, nowMS)
}

// Draft keeps an answer as far as it has come. halted is as with Keep.
func (s *Store) Draft(ctx context.Context, member, drill, epoch int64, x *class.Answer, halted error, nowMS int64) (class.Attempt, error) {
	return s.answer(ctx, member, drill, epoch, x, class.Going, halted, nowMS)
}

func (s *Store) answer(ctx context.Context, member, drill, epoch int64, x *class.Answer, status class.Status, halted error, nowMS int64) (a class.Attempt, err error) {
	err = s.inTx(ctx, func(t *tx) error {
		a, _, err = t.held(ctx, member, drill)
		if err != nil {
			return err
		}
		var before []byte
		if err := t.row(ctx, `SELECT answer FROM attempts WHERE member = ? AND drill = ?`, member, drill).Scan(&before); err != nil {
			return wrap(err)
		}
		same := string(before) == string(x.Text)
		switch {
		case a.Epoch != epoch:
			return &class.Refusal{Word: class.TakenOver, Why: "the drill was taken up on another device"}
		case same && (a.Status != class.Going || status == class.Going):
			return nil
		case a.Status != class.Going:
			return &class.Refusal{Word: class.Closed, Why: "the drill was handed in before"}
		case halted != nil:
			return halted
		}
		a.Status, a.LastMS, a.Last, a.Answered, a.Asked = status, nowMS, class.AnswerAct, x.Answered, x.Asked
		return t.exec(ctx, `UPDATE attempts SET status = ?, last_ms = ?, last = ?, answer = ?, answered = ?, asked = ? WHERE member = ? AND drill = ?`,
			string(a.Status), nowMS, a.Last, x.Text, x.Answered, x.Asked, member, drill)
	})
	return a, err
}

// AnswerOf reads the answer as far as it has come, or was handed in; nil for none.
func (s *Store) AnswerOf(ctx context.Context, member, drill int64) (answer []byte, err error) {
	err = s.row(ctx, `SELECT answer FROM attempts WHERE member = ? AND drill = ?`, member, drill).Scan(&answer)
	return answer, wrap(err)
}

// overdue are attempts under way, with something done in them, of classes that were over
// so long ago that nothing more is taken. A freeze stops a class's clock.
const overdue = ` FROM attempts a JOIN drills d ON d.id = a.drill JOIN classes c ON c.id = d.class
	WHERE a.status = 'going' AND (a.acts > 0 OR a.answer IS NOT NULL) AND (c.end_ms <> 0 AND c.end_ms < ?
	OR c.due_ms <> 0 AND c.due_ms < CASE WHEN c.frozen AND c.frozen_ms < ? THEN c.frozen_ms - ? ELSE ? END)`

// Overdue finds an attempt that is to be handed in as it stands; ErrNone where there is none.
func (s *Store) Overdue(ctx context.Context, nowMS int64) (class.Attempt, error) {
	a, err := scanAttempt(s.row(ctx, `SELECT `+attemptFields+overdue+` ORDER BY a.last_ms LIMIT 1`,
		nowMS-class.GraceMS, nowMS, int64(class.GraceMS), nowMS-class.GraceMS))
	return a, wrap(err)
}

// HandIn hands an attempt in as it stands, with the acts that bring a call to its end. One
// that has come on since it was read, or was closed, is left as it is.
func (s *Store) HandIn(ctx context.Context, a *class.Attempt, u *class.Upload, nowMS int64) error {
	return s.inTx(ctx, func(t *tx) error {
		now, lastTick, err := t.held(ctx, a.Member, a.Drill)
		if err != nil || now.Status != class.Going || now.Acts != a.Acts || now.LastMS != a.LastMS {
			return err
		}
		if u != nil {
			return t.add(ctx, &now, u, u.Acts, lastTick, nowMS)
		}
		return t.exec(ctx, `UPDATE attempts SET status = 'handed' WHERE member = ? AND drill = ?`, a.Member, a.Drill)
	})
}
