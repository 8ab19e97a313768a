package store

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
)

func TestAnAnswerIsKeptAsFarAsItHasComeUntilItIsHandedIn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		draft := func(text string, n int) (class.Attempt, error) {
			return r.Draft(ctx, r.member.ID, r.drill.ID, 1, &class.Answer{Text: []byte(text), Answered: n, Asked: 9}, nil, now)
		}
		a, err := draft(`{"a": 1}`, 1)
		require.NoError(t, err)
		require.Equal(t, []any{class.Going, 1, 9}, []any{a.Status, a.Answered, a.Asked})
		a, err = draft(`{"a": 1, "b": 2}`, 2)
		require.NoError(t, err)
		require.Equal(t, 2, a.Answered)
		kept, err := r.AnswerOf(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		require.JSONEq(t, `{"a": 1, "b": 2}`, string(kept))

		late := &class.Refusal{Word: class.Late}
		_, err = r.Draft(ctx, r.member.ID, r.drill.ID, 1, &class.Answer{Text: []byte(`{}`)}, late, now)
		require.ErrorIs(t, err, late)
		_, err = r.Answer(ctx, r.member.ID, r.drill.ID, 1, &class.Answer{Text: []byte(`{"a": 1, "b": 2}`), Answered: 2, Asked: 9}, nil, now)
		require.NoError(t, err)
		_, err = draft(`{"a": 3}`, 1)
		refusal, ok := class.AsRefusal(err)
		require.True(t, ok)
		require.Equal(t, class.Closed, refusal.Word, "it is handed in")
	})
}

func TestWhatIsOverdueIsFoundByTheClassesClock(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		due := int64(now + 10_000)
		overdue := func(ms int64) bool {
			_, err := r.Overdue(ctx, ms)
			return err == nil
		}
		tell := func(kind class.EventKind, ms int64, text string) class.Event {
			e := class.Event{Class: r.class.ID, Kind: kind, MS: ms, Text: text}
			require.NoError(t, r.Tell(ctx, &e))
			return e
		}
		tell(class.Extend, now, strconv.FormatInt(due, 10))
		require.False(t, overdue(due+class.GraceMS+1), "nothing is done in it")
		_, err := r.keep(t, upload(0, 2))
		require.NoError(t, err)
		require.False(t, overdue(due+class.GraceMS))
		require.True(t, overdue(due+class.GraceMS+1))

		tell(class.Freeze, now+4000, "")
		require.False(t, overdue(due+10*class.GraceMS), "the clock stands")
		thaw := tell(class.Thaw, now+100_000, "")
		require.Equal(t, strconv.FormatInt(due+96_000, 10), thaw.Text)
		require.False(t, overdue(due+96_000+class.GraceMS))
		require.True(t, overdue(due+96_000+class.GraceMS+1))

		a, err := r.Overdue(ctx, due+10*class.GraceMS)
		require.NoError(t, err)
		hash := uint64(1 << 63)
		require.NoError(t, r.HandIn(ctx, &a, &class.Upload{From: 2, Acts: upload(2, 1).Acts, Ticks: 99, Hash: &hash}, now+200_000))
		a, err = r.Attempt(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		require.Equal(t, []any{class.Handed, 3, hash}, []any{a.Status, a.Acts, a.Hash})
		require.False(t, overdue(due+10*class.GraceMS))
	})
}
