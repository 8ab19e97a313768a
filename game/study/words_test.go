package study_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/study"
)

func TestStandingIsSaidInWords(t *testing.T) {
	for _, row := range []struct {
		locked bool
		state  study.State
		dueIn  int64
		want   string
	}{
		{true, study.New, 0, "New, for later"},
		{false, study.New, 0, "New"},
		{false, study.Due, -1, "Due now"},
		{false, study.Learned, 1, "Learned, due within a day"},
		{false, study.Learned, day, "Learned, due within a day"},
		{false, study.Learned, day + 1, "Learned, due in 2 days"},
		{false, study.Learned, 30 * day, "Learned, due in 30 days"},
	} {
		s := study.Standing{Locked: row.locked, State: row.state, Card: study.Card{DueS: 1000 + row.dueIn}}
		require.Equal(t, row.want, s.Words(1000))
	}
}

func TestLevelsOfSupportHaveNames(t *testing.T) {
	for s := study.Full; s <= study.None; s++ {
		got, ok := study.SupportNamed(s.String())
		require.True(t, ok)
		require.Equal(t, s, got)
		require.NotEmpty(t, s.Name()+s.Words())
	}
	_, ok := study.SupportNamed("")
	require.False(t, ok)
}
