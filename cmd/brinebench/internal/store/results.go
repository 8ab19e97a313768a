package store

import (
	"context"

	"brinebench/game/class"
)

// claimMS is how long a program has for scoring an attempt before another may take it.
const claimMS = 120_000

// Claim takes one attempt that was handed in and is nobody's work yet, the oldest
// first; ErrNone where there is none. Of several programs one gets it.
func (s *Store) Claim(ctx context.Context, nowMS int64) (a class.Attempt, err error) {
	var waiting int
	err = s.row(ctx, `SELECT COUNT(*) FROM attempts WHERE status = 'handed' AND claimed_ms < ?`, nowMS-claimMS).Scan(&waiting)
	if err != nil {
		return a, wrap(err)
	}
	if waiting == 0 {
		return a, ErrNone // most often: nobody who writes has to wait for that
	}
	err = s.inTx(ctx, func(t *tx) error {
		skip := ""
		if s.postgres {
			skip = "FOR UPDATE SKIP LOCKED"
		}
		a, err = scanAttempt(t.row(ctx, `SELECT `+attemptFields+` FROM attempts a WHERE status = 'handed' AND claimed_ms < ?
			ORDER BY last_ms LIMIT 1 `+skip, nowMS-claimMS))
		if err != nil {
			return wrap(err)
		}
		return t.exec(ctx, `UPDATE attempts SET claimed_ms = ? WHERE member = ? AND drill = ?`, nowMS, a.Member, a.Drill)
	})
	return a, err
}

// PutResult keeps what an attempt came to that was handed in; of one that was refused
// since, or scored, it keeps nothing.
func (s *Store) PutResult(ctx context.Context, r *class.Result) error {
	return s.inTx(ctx, func(t *tx) error {
		n, err := t.change(ctx, `UPDATE attempts SET status = 'scored' WHERE member = ? AND drill = ? AND status = 'handed'`, r.Member, r.Drill)
		if err != nil || n == 0 {
			return err
		}
		return t.exec(ctx, `INSERT INTO results (member, drill, score, minutes, unsafe, named, fits, report, at_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			r.Member, r.Drill, r.Score, r.Minutes, r.Unsafe, r.Named, r.Right, r.Report, r.MS)
	})
}

const resultFields = `r.member, r.drill, r.score, r.minutes, r.unsafe, r.named, r.fits, r.report, r.at_ms`

func scanResult(row scanner) (r class.Result, err error) {
	err = row.Scan(&r.Member, &r.Drill, &r.Score, &r.Minutes, &r.Unsafe, &r.Named, &r.Right, &r.Report, &r.MS)
	return r, err
}

// Results are those of a class, with their reports.
func (s *Store) Results(ctx context.Context, classID int64) ([]class.Result, error) {
	return list(ctx, s.read, s.dialect, scanResult,
		`SELECT `+resultFields+` FROM results r JOIN drills d ON d.id = r.drill WHERE d.class = ? ORDER BY r.member, d.place`, classID)
}

// Result finds a result.
func (s *Store) Result(ctx context.Context, member, drill int64) (class.Result, error) {
	r, err := scanResult(s.row(ctx, `SELECT `+resultFields+` FROM results r WHERE member = ? AND drill = ?`, member, drill))
	return r, wrap(err)
}

// Scores are the results of a class without the reports of calls, which are long.
func (s *Store) Scores(ctx context.Context, classID int64) ([]class.Result, error) {
	return list(ctx, s.read, s.dialect, func(row scanner) (r class.Result, err error) {
		err = row.Scan(&r.Member, &r.Drill, &r.Score, &r.Minutes, &r.Unsafe, &r.Named, &r.Right, &r.MS, &r.Report)
		return r, err
	}, `SELECT r.member, r.drill, r.score, r.minutes, r.unsafe, r.named, r.fits, r.at_ms,
		CASE WHEN d.kind <> 'call' THEN r.report END
		FROM results r JOIN drills d ON d.id = r.drill WHERE d.class = ? ORDER BY r.member, d.place`, classID)
}
