package store

import (
	"context"
	"errors"
)

// Setting reads a setting; ErrNone where it was never put.
func (s *Store) Setting(ctx context.Context, name string) (value []byte, err error) {
	err = s.row(ctx, `SELECT value FROM settings WHERE name = ?`, name).Scan(&value)
	return value, wrap(err)
}

// PutFirst puts a setting that was never put; of several at once one gets true.
func (s *Store) PutFirst(ctx context.Context, name string, value []byte) (first bool, err error) {
	n, err := s.change(ctx, `INSERT INTO settings (name, value) VALUES (?, ?) ON CONFLICT (name) DO NOTHING`, name, value)
	return n == 1, err
}

// PutSetting puts a setting.
func (s *Store) PutSetting(ctx context.Context, name string, value []byte) error {
	return s.exec(ctx, `INSERT INTO settings (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value`, name, value)
}

// DropSetting takes a setting out.
func (s *Store) DropSetting(ctx context.Context, name string) error {
	return s.exec(ctx, `DELETE FROM settings WHERE name = ?`, name)
}

// AddSession keeps the digest of a session of the instructor, and forgets those that
// have run out.
func (s *Store) AddSession(ctx context.Context, digest []byte, nowMS, untilMS int64) error {
	return s.inTx(ctx, func(t *tx) error {
		if err := t.exec(ctx, `DELETE FROM sessions WHERE until_ms < ?`, nowMS); err != nil {
			return err
		}
		return t.exec(ctx, `INSERT INTO sessions (digest, until_ms) VALUES (?, ?)`, digest, untilMS)
	})
}

// HasSession reports whether a session is one and has not run out.
func (s *Store) HasSession(ctx context.Context, digest []byte, nowMS int64) (bool, error) {
	var until int64
	err := wrap(s.row(ctx, `SELECT until_ms FROM sessions WHERE digest = ?`, digest).Scan(&until))
	if errors.Is(err, ErrNone) {
		return false, nil
	}
	return err == nil && until >= nowMS, err
}

// DropSession ends a session; nil ends all of them.
func (s *Store) DropSession(ctx context.Context, digest []byte) error {
	if digest == nil {
		return s.exec(ctx, `DELETE FROM sessions`)
	}
	return s.exec(ctx, `DELETE FROM sessions WHERE digest = ?`, digest)
}
