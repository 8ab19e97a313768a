package store

import (
	"context"
	"errors"
	"os"

	"brinebench/game/class"
)

// Erase takes a class out of the store with all that anybody did in it.
func (s *Store) Erase(ctx context.Context, classID int64) error {
	return s.exec(ctx, `DELETE FROM classes WHERE id = ?`, classID)
}

// EraseMember takes one member out, with all that they did.
func (s *Store) EraseMember(ctx context.Context, classID, member int64) error {
	return s.exec(ctx, `DELETE FROM members WHERE id = ? AND class = ?`, member, classID)
}

// Expire erases the classes in which nothing has happened since a time, and tells how
// many there were.
func (s *Store) Expire(ctx context.Context, beforeMS int64) (int64, error) {
	return s.change(ctx, `DELETE FROM classes WHERE made_ms < ? AND end_ms < ?
		AND NOT EXISTS (SELECT 1 FROM members m WHERE m.class = classes.id AND m.seen_ms >= ?)
		AND NOT EXISTS (SELECT 1 FROM events e WHERE e.class = classes.id AND e.at_ms >= ?)`, beforeMS, beforeMS, beforeMS, beforeMS)
}

// Export is all that is kept of a class, but for secrets.
type Export struct {
	Class    class.Class     `json:"class"`
	Drills   []class.Drill   `json:"drills"`
	Members  []class.Member  `json:"members"`
	Attempts []class.Attempt `json:"attempts"`
	Acts     []ExportActs    `json:"acts"`
	Results  []class.Result  `json:"results"`
	Events   []class.Event   `json:"events"`
}

// ExportActs are the acts of one attempt.
type ExportActs struct {
	Member int64       `json:"member"`
	Drill  int64       `json:"drill"`
	Acts   []class.Act `json:"acts"`
}

// Export gathers all that is kept of a class.
func (s *Store) Export(ctx context.Context, classID int64) (x Export, err error) {
	if x.Class, err = s.Class(ctx, classID); err != nil {
		return x, err
	}
	var errs [5]error
	x.Drills, errs[0] = s.Drills(ctx, classID)
	x.Members, errs[1] = s.Members(ctx, classID)
	x.Attempts, errs[2] = s.Attempts(ctx, classID)
	x.Results, errs[3] = s.Results(ctx, classID)
	x.Events, errs[4] = s.allEvents(ctx, classID)
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
