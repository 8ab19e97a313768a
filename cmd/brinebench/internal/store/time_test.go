package store

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
)

// The time of a class waits until it is started, over a restart of the server too, and is
// started once.
func TestTheTimeOfAClassWaitsUntilItIsStarted(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		s := opened(t, address)
		c, free := class.Class{Name: "Tuesday", Code: class.NewCode(), LengthMS: 3_600_000}, class.Class{Name: "no limit", Code: class.NewCode()}
		require.NoError(t, s.AddClass(ctx, &c, nil))
		require.NoError(t, s.AddClass(ctx, &free, nil))
		require.NoError(t, s.Close())

		s = opened(t, address)
		kept, err := s.Class(ctx, c.ID)
		require.NoError(t, err)
		require.True(t, kept.Waits())
		require.NoError(t, s.Tell(ctx, &class.Event{Class: c.ID, Kind: class.Freeze, MS: now - 1000}))
		for _, id := range []int64{c.ID, c.ID, free.ID} {
			require.NoError(t, s.StartTime(ctx, id, now))
		}
		require.NoError(t, s.Tell(ctx, &class.Event{Class: c.ID, Kind: class.Thaw, MS: now + 5000}))
		kept, last, err := s.Now(ctx, c.ID)
		require.NoError(t, err)
		require.Equal(t, int64(now+5000+3_600_000), kept.DueMS, "the clock stood still while it was started")
		events, err := s.Events(ctx, c.ID, 0)
		require.NoError(t, err)
		require.Equal(t, int64(3), last, "pages are told of the start once")
		require.Equal(t, []class.EventKind{class.Freeze, class.Extend, class.Thaw}, []class.EventKind{events[0].Kind, events[1].Kind, events[2].Kind})
		kept, last, err = s.Now(ctx, free.ID)
		require.NoError(t, err)
		require.Zero(t, last)
		require.Zero(t, kept.DueMS, "there is no limit")
		require.ErrorIs(t, s.StartTime(ctx, 999, now), ErrNone)
	})
}

// A class that was made before times were started keeps the end that it has.
func TestAClassOfBeforeKeepsItsTime(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		all := migrations
		defer func() { migrations = all }()
		const before = 5
		migrations = all[:before]
		s := opened(t, address)
		require.NoError(t, s.exec(ctx, `INSERT INTO classes (name, code, made_ms, locked, frozen, due_ms, end_ms, events) VALUES ('old', 'OLD', ?, FALSE, FALSE, ?, 0, 0)`, now, now+60_000))
		require.NoError(t, s.Close())
		migrations = all
		c, err := opened(t, address).ClassByCode(ctx, "OLD")
		require.NoError(t, err)
		require.Equal(t, int64(now+60_000), c.DueMS)
		require.Zero(t, c.LengthMS)
		require.False(t, c.Waits())
	})
}
