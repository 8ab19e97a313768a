package store

import (
	"context"
	"errors"
	"strings"

	"brinebench/game/class"
)

// Reasons why nobody can join.
var (
	ErrLocked = errors.New("the class takes nobody more")
	ErrTaken  = errors.New("the nickname is taken")
	ErrFull   = errors.New("the class is full")
)

const memberFields = `id, class, nickname, joined_ms, seen_ms, out`

func scanMember(r scanner) (m class.Member, err error) {
	err = r.Scan(&m.ID, &m.Class, &m.Nickname, &m.JoinedMS, &m.SeenMS, &m.Out)
	return m, err
}

// Join takes somebody into a class; digest is that of the token. Who is in it with that
// token already is found. The errors are the three above.
func (s *Store) Join(ctx context.Context, m *class.Member, digest []byte) error {
	return s.inTx(ctx, func(t *tx) error {
		before, err := scanMember(t.row(ctx, `SELECT `+memberFields+` FROM members WHERE digest = ? AND class = ?`, digest, m.Class))
		if err = wrap(err); !errors.Is(err, ErrNone) {
			*m = before
			return err
		}
		c, err := scanClass(t.row(ctx, `SELECT `+classFields+` FROM classes WHERE id = ? {lock}`, m.Class))
		switch {
		case err != nil:
			return wrap(err)
		case c.Locked || c.EndMS != 0:
			return ErrLocked
		}
		folded := strings.ToLower(m.Nickname)
		var all, same int
		err = t.row(ctx, `SELECT COUNT(*), COALESCE(SUM(CASE WHEN folded = ? THEN 1 ELSE 0 END), 0) FROM members WHERE class = ?`, folded, m.Class).Scan(&all, &same)
		switch {
		case err != nil:
			return wrap(err)
		case same > 0:
			return ErrTaken
		case all >= class.MaxMembers:
			return ErrFull
		}
		return wrap(t.row(ctx, `INSERT INTO members (class, nickname, folded, digest, joined_ms, seen_ms, out)
			VALUES (?, ?, ?, ?, ?, ?, FALSE) RETURNING id`, m.Class, m.Nickname, folded, digest, m.JoinedMS, m.SeenMS).Scan(&m.ID))
	})
}

// MemberBy finds the member with a token, by its digest.
func (s *Store) MemberBy(ctx context.Context, digest []byte) (class.Member, error) {
	m, err := scanMember(s.row(ctx, `SELECT `+memberFields+` FROM members WHERE digest = ?`, digest))
	return m, wrap(err)
}

// Members are those of a class, in the order they came.
func (s *Store) Members(ctx context.Context, classID int64) ([]class.Member, error) {
	return list(ctx, s.read, s.dialect, scanMember, `SELECT `+memberFields+` FROM members WHERE class = ? ORDER BY id`, classID)
}

// Number counts a member among those of their class, in the order they came. It moves when
// one who came before is erased.
func (s *Store) Number(ctx context.Context, m *class.Member) (n int, err error) {
	err = s.row(ctx, `SELECT COUNT(*) FROM members WHERE class = ? AND id <= ?`, m.Class, m.ID).Scan(&n)
	return n, wrap(err)
}

// Seen notes that something came from a member.
func (s *Store) Seen(ctx context.Context, id, nowMS int64) error {
	return s.exec(ctx, `UPDATE members SET seen_ms = ? WHERE id = ?`, nowMS, id)
}

// SendOut bars a member from the class, or lets them in again; what they did stays.
func (s *Store) SendOut(ctx context.Context, classID, id int64, out bool) error {
	return s.exec(ctx, `UPDATE members SET out = ? WHERE id = ? AND class = ?`, out, id, classID)
}

// NewToken gives a member another token: the old one is no longer any use.
func (s *Store) NewToken(ctx context.Context, classID, id int64, digest []byte) error {
	return s.exec(ctx, `UPDATE members SET digest = ? WHERE id = ? AND class = ?`, digest, id, classID)
}
