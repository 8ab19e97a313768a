package store

import (
	"context"
	"encoding/json"
	"errors"
	"os"

	"brinebench/game/class"
)

// Erase takes a class out of the store with all that anybody did in it.
func (s *Store) Erase(ctx context.Context, classID int64) error {
	if err := s.exec(ctx, `DELETE FROM classes WHERE id = ?`, classID); err != nil {
		return err
	}
	return s.scrub(ctx)
}

// EraseMember takes one member out, with all that they did and were told. Its events leave
// gaps in the numbers of the class's.
func (s *Store) EraseMember(ctx context.Context, classID, member int64) error {
	err := s.inTx(ctx, func(t *tx) error {
		n, err := t.change(ctx, `DELETE FROM members WHERE id = ? AND class = ?`, member, classID)
		if err != nil || n == 0 {
			return err
		}
		if err := t.exec(ctx, `DELETE FROM drills WHERE class = ? AND member = ?`, classID, member); err != nil {
			return err
		}
		return t.exec(ctx, `DELETE FROM events WHERE class = ? AND member = ?`, classID, member)
	})
	if err != nil {
		return err
	}
	return s.scrub(ctx)
}

// scrub takes what was erased out of SQLite's log too, where it would stand until the log
// is used again. Where somebody reads just then it is done the next time.
func (s *Store) scrub(ctx context.Context) error {
	if s.postgres {
		return nil // which clears up by itself
	}
	_, err := s.write.ExecContext(context.WithoutCancel(ctx), `PRAGMA wal_checkpoint(TRUNCATE)`)
	return wrap(err)
}

// Expire erases the classes in which nothing has happened since a time, and tells how
// many there were.
func (s *Store) Expire(ctx context.Context, beforeMS int64) (int64, error) {
	n, err := s.change(ctx, `DELETE FROM classes WHERE made_ms < ? AND end_ms < ?
		AND NOT EXISTS (SELECT 1 FROM members m WHERE m.class = classes.id AND m.seen_ms >= ?)
		AND NOT EXISTS (SELECT 1 FROM events e WHERE e.class = classes.id AND e.at_ms >= ?)`, beforeMS, beforeMS, beforeMS, beforeMS)
	if err != nil {
		return n, err
	}
	return n, s.scrub(ctx)
}

// Export is all that is kept of a class, but for secrets.
type Export struct {
	Class    class.Class     `json:"class"`
	Drills   []class.Drill   `json:"drills"`
	Members  []class.Member  `json:"members"`
	Attempts []class.Attempt `json:"attempts"`
	Acts     []ExportActs    `json:"acts"`
	Answers  []ExportAnswer  `json:"answers"`
	Results  []class.Result  `json:"results"`
	Events   []class.Event   `json:"events"`
}

// ExportActs are the acts of one attempt.
type ExportActs struct {
	Member int64       `json:"member"`
	Drill  int64       `json:"drill"`
	Acts   []class.Act `json:"acts"`
}

// ExportAnswer is the answer to a drill that is no call, as far as it has come.
type ExportAnswer struct {
	Member int64           `json:"member"`
	Drill  int64           `json:"drill"`
	Answer json.RawMessage `json:"answer"`
}

// Export gathers all that is kept of a class.
func (s *Store) Export(ctx context.Context, classID int64) (x Export, err error) {
	if x.Class, err = s.Class(ctx, classID); err != nil {
		return x, err
	}
	var errs [6]error
	x.Drills, errs[0] = s.Drills(ctx, classID)
	x.Members, errs[1] = s.Members(ctx, classID)
	x.Attempts, errs[2] = s.Attempts(ctx, classID)
	x.Results, errs[3] = s.Results(ctx, classID)
	x.Events, errs[4] = s.allEvents(ctx, classID)
	x.Answers, errs[5] = list(ctx, s.read, s.dialect, func(r scanner) (a ExportAnswer, err error) {
		err = r.Scan(&a.Member, &a.Drill, (*[]byte)(&a.Answer))
		return a, err
	}, `SELECT a.member, a.drill, a.answer FROM attempts a JOIN drills d ON d.id = a.drill
		WHERE d.class = ? AND a.answer IS NOT NULL ORDER BY a.member, d.place`, classID)
	for _, a := range x.Attempts {
		acts, err := s.Acts(ctx, a.Member, a.Drill, 0)
		if err != nil {
			return x, err
		}
		x.Acts = append(x.Acts, ExportActs{a.Member, a.Drill, acts})
	}
	return x, errors.Join(errs[:]...)
}

func (s *Store) allEvents(ctx context.Context, classID int64) (all []class.Event, err error) {
	for {
		var after int64
		if n := len(all); n > 0 {
			after = all[n-1].Seq
		}
		more, err := s.Events(ctx, classID, after)
		if err != nil || len(more) == 0 {
			return all, err
		}
		all = append(all, more...)
	}
}

// ErrNoBackup is for a database that has its own means.
var ErrNoBackup = errors.New("PostgreSQL is backed up with its own tools")

// Backup writes the whole of a SQLite store into a file that must not be there, while
// work goes on.
func (s *Store) Backup(ctx context.Context, file string) error {
	if s.postgres {
		return ErrNoBackup
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return wrap(err)
	}
	f.Close() // VACUUM INTO takes a file that is empty
	_, err = s.read.ExecContext(ctx, `VACUUM INTO ?`, file)
	return wrap(err)
}
