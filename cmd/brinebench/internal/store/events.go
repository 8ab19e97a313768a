package store

import (
	"context"
	"slices"

	"brinebench/game/class"
)

// MostEvents are told at a time.
const MostEvents = 500

const eventFields = `class, seq, member, kind, words, at_ms`

func scanEvent(r scanner) (e class.Event, err error) {
	err = r.Scan(&e.Class, &e.Seq, &e.Member, &e.Kind, &e.Text, &e.MS)
	return e, err
}

// Events are those of a class after a number, at most MostEvents.
func (s *Store) Events(ctx context.Context, classID, after int64) ([]class.Event, error) {
	return list(ctx, s.read, s.dialect, scanEvent,
		`SELECT `+eventFields+` FROM events WHERE class = ? AND seq > ? ORDER BY seq LIMIT ?`, classID, after, MostEvents)
}

// Alarms are those of a class after a number.
func (s *Store) Alarms(ctx context.Context, classID, after int64) ([]class.Event, error) {
	return list(ctx, s.read, s.dialect, scanEvent,
		`SELECT `+eventFields+` FROM events WHERE class = ? AND seq > ? AND kind = 'alarm' ORDER BY seq LIMIT ?`, classID, after, MostEvents)
}

// mostHeard are told again to who comes back.
const mostHeard = 30

// Heard are the messages and hints that a member was told since they joined, of many the
// latest.
func (s *Store) Heard(ctx context.Context, m *class.Member) ([]class.Event, error) {
	heard, err := list(ctx, s.read, s.dialect, scanEvent, `SELECT `+eventFields+` FROM events
		WHERE class = ? AND member IN (0, ?) AND kind IN ('message', 'hint') AND at_ms >= ? ORDER BY seq DESC LIMIT ?`,
		m.Class, m.ID, m.JoinedMS, mostHeard)
	slices.Reverse(heard)
	return heard, err
}
