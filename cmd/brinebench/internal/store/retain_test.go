package store

import (
	"bytes"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
	"brinebench/sim"
)

func TestWhatIsErasedIsGoneAndWhatIsOldExpires(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		_, err := r.keep(t, upload(0, 3))
		require.NoError(t, err)
		require.NoError(t, r.Tell(ctx, &class.Event{Class: r.class.ID, Kind: class.Message, Text: "hello", MS: now}))
		require.NoError(t, r.Tell(ctx, &class.Event{Class: r.class.ID, Member: r.member.ID, Kind: class.Hint, Text: "you alone", MS: now}))
		sheet := class.Drill{Class: r.class.ID, Kind: class.Sizing, Body: []byte("{}")}
		require.NoError(t, r.AddDrill(ctx, &sheet, now))
		_, err = r.TakeUp(ctx, r.member.ID, sheet.ID, sim.Engine, now)
		require.NoError(t, err)
		_, err = r.Answer(ctx, r.member.ID, sheet.ID, 1, &class.Answer{Text: []byte(`{"a": 1}`)}, nil, now)
		require.NoError(t, err)
		x, err := r.Export(ctx, r.class.ID)
		require.NoError(t, err)
		require.Len(t, x.Acts[0].Acts, 3)
		require.Equal(t, []ExportAnswer{{r.member.ID, sheet.ID, []byte(`{"a": 1}`)}}, x.Answers)
		require.Len(t, x.Members, 1)
		require.Len(t, x.Events, 3)
		require.Equal(t, r.member.ID, x.Events[1].Member)

		require.NoError(t, r.Seen(ctx, r.member.ID, now+1000))
		n, err := r.Expire(ctx, now+1000)
		require.NoError(t, err)
		require.Zero(t, n, "somebody came later")
		other := class.Class{Name: "old", Code: class.NewCode(), MadeMS: now - 1}
		require.NoError(t, r.AddClass(ctx, &other, nil))
		n, err = r.Expire(ctx, now)
		require.NoError(t, err)
		require.Equal(t, int64(1), n)
		require.NoError(t, r.EraseMember(ctx, r.class.ID, r.member.ID))
		r.empty(t, "members", "attempts", "acts")
		events, err := r.Events(ctx, r.class.ID, 0)
		require.NoError(t, err)
		require.Len(t, events, 2, "what was told to all stays")
		require.NoError(t, r.Erase(ctx, r.class.ID))
		r.empty(t, "classes", "drills", "events", "results")
	})
}

func TestWhatIsErasedStandsInNoFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "class.db")
	r := newRoom(t, file)
	names := []string{"Wilhelmina-the-first", "Wilhelmina-the-second"}
	standing := func(name string) bool {
		files, err := filepath.Glob(file + "*")
		require.NoError(t, err)
		for _, f := range files {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			if bytes.Contains(data, []byte(name)) {
				return true
			}
		}
		return false
	}
	first, _ := r.join(t, names[0]), r.join(t, names[1])
	require.True(t, standing(names[0]) && standing(names[1]))
	require.NoError(t, r.EraseMember(ctx, r.class.ID, first.ID))
	require.False(t, standing(names[0]))
	require.True(t, standing(names[1]))
	require.NoError(t, r.Erase(ctx, r.class.ID))
	require.False(t, standing(names[1]))
}

func (r room) empty(t *testing.T, tables ...string) {
	t.Helper()
	for _, table := range tables {
		var n int
		require.NoError(t, r.row(ctx, "SELECT COUNT(*) FROM "+table).Scan(&n))
		require.Zero(t, n, table)
	}
}

func TestABackupIsMadeWhileWorkGoesOn(t *testing.T) {
	dir := t.TempDir()
	r := newRoom(t, filepath.Join(dir, "class.db"))
	stop := make(chan bool)
	var work sync.WaitGroup
	work.Go(func() {
		for from := 0; ; from++ {
			select {
			case <-stop:
				return
			default:
				_, err := r.keep(t, upload(from, 1))
				assert.NoError(t, err)
			}
		}
	})
	more := func() {
		a, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		require.Eventually(t, func() bool {
			b, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
			return err == nil && b.Acts > a.Acts+2
		}, time.Minute, time.Millisecond)
	}
	more()
	file := filepath.Join(dir, "copy.db")
	require.NoError(t, r.Backup(ctx, file))
	more()
	close(stop)
	work.Wait()
	require.Error(t, r.Backup(ctx, file), "nothing is written over")
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	s := opened(t, file)
	a, err := s.Attempt(ctx, r.member.ID, r.drill.ID)
	require.NoError(t, err)
	acts, err := s.Acts(ctx, r.member.ID, r.drill.ID, 0)
	require.NoError(t, err)
	require.GreaterOrEqual(t, a.Acts, 3)
	require.Len(t, acts, a.Acts, "one moment's state")
	after, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
	require.NoError(t, err)
	require.Greater(t, after.Acts, a.Acts, "work has gone on")
}
