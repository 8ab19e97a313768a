package store

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
	"brinebench/sim"
)

func TestMain(m *testing.M) { os.Exit(storetest.Run(m)) }

var ctx = context.Background()

const now = 1_800_000_000_000

// opened opens a store.
func opened(t *testing.T, address string) *Store {
	t.Helper()
	s, err := Open(ctx, address)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

// room is a class with one drill and one member who has taken it up.
type room struct {
	*Store
	class  class.Class
	drill  class.Drill
	member class.Member
}

func newRoom(t *testing.T, address string) room {
	t.Helper()
	r := room{Store: opened(t, address), class: class.Class{Name: "Tuesday", Code: class.NewCode(), MadeMS: now}}
	drills := []class.Drill{{Kind: class.Call, Ref: "mill", Title: "Hard water", Seed: 1<<63 + 5, Body: []byte(`{"id": "mill"}`)}}
	require.NoError(t, r.AddClass(ctx, &r.class, drills))
	r.drill = drills[0]
	r.member = r.join(t, "Ada")
	_, err := r.TakeUp(ctx, r.member.ID, r.drill.ID, sim.Engine, now)
	require.NoError(t, err)
	return r
}

func (r room) join(t *testing.T, nickname string) class.Member {
	t.Helper()
	m := class.Member{Class: r.class.ID, Nickname: nickname, JoinedMS: now, SeenMS: now}
	require.NoError(t, r.Join(ctx, &m, class.Digest(nickname)))
	return m
}

func act(tick int64, id string) sim.LogAct {
	return sim.LogAct{Tick: tick, Action: sim.Action{Kind: sim.ActTest, ID: id, Text: "what's \"it\"? ½", Value: 0.1}}
}

// upload is a stretch of a log with acts at ticks 10, 20, ….
func upload(from, n int) *class.Upload {
	u := &class.Upload{Epoch: 1, Engine: sim.Engine, From: from, Ticks: int64(from+n)*10 + 5}
	for i := range n {
		u.Acts = append(u.Acts, act(int64(from+i+1)*10, "test-"+strconv.Itoa(from+i)))
	}
	return u
}

func (r room) keep(t *testing.T, u *class.Upload) (class.Attempt, error) {
	t.Helper()
	return r.Keep(ctx, r.member.ID, r.drill.ID, u, nil, now+1000)
}

func TestWhatWasPutIsFoundAfterTheStoreWasClosed(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		a, err := r.keep(t, upload(0, 3))
		require.NoError(t, err)
		require.Equal(t, 3, a.Acts)
		require.NoError(t, r.Seen(ctx, r.member.ID, now+1000))
		require.NoError(t, r.Close())

		s := opened(t, address)
		c, err := s.ClassByCode(ctx, r.class.Code)
		require.NoError(t, err)
		require.Equal(t, r.class, c)
		drills, err := s.Drills(ctx, c.ID)
		require.NoError(t, err)
		require.Equal(t, []class.Drill{r.drill}, drills)
		m, err := s.MemberBy(ctx, class.Digest("Ada"))
		require.NoError(t, err)
		r.member.SeenMS = now + 1000
		require.Equal(t, r.member, m)
		again, err := s.Attempt(ctx, m.ID, r.drill.ID)
		require.NoError(t, err)
		require.Equal(t, a, again)
		acts, err := s.Acts(ctx, m.ID, r.drill.ID, 1)
		require.NoError(t, err)
		require.Equal(t, []class.Act{{Seq: 1, MS: now + 1000, LogAct: act(20, "test-1")}, {Seq: 2, MS: now + 1000, LogAct: act(30, "test-2")}}, acts)
		_, err = s.ClassByCode(ctx, "none")
		require.ErrorIs(t, err, ErrNone)
	})
}

func TestAnActIsKeptOnceHoweverOftenItComes(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		for _, u := range []*class.Upload{upload(0, 2), upload(0, 2), upload(1, 3), upload(0, 4), upload(2, 1)} {
			_, err := r.keep(t, u)
			require.NoError(t, err)
		}
		acts, err := r.Acts(ctx, r.member.ID, r.drill.ID, 0)
		require.NoError(t, err)
		require.Len(t, acts, 4)
		for i, a := range acts {
			require.Equal(t, i, a.Seq)
			require.Equal(t, act(int64(i+1)*10, "test-"+strconv.Itoa(i)), a.LogAct)
		}
	})
}

func TestALogThatCannotBeIsRefusedAndLeavesNoTrace(t *testing.T) {
	change := func(f func(u *class.Upload)) *class.Upload {
		u := upload(2, 2)
		f(u)
		return u
	}
	tests := []struct {
		word string
		u    *class.Upload
	}{
		{class.WrongEngine, change(func(u *class.Upload) { u.Engine = "brinebench-engine-1" })},
		{class.TakenOver, change(func(u *class.Upload) { u.Epoch = 2 })},
		{class.Gap, upload(3, 1)},
		{class.Doubled, change(func(u *class.Upload) { u.From, u.Acts[0].Tick = 1, 19 })},
		{class.Order, change(func(u *class.Upload) { u.Acts[0], u.Acts[1] = u.Acts[1], u.Acts[0] })},
		{class.Order, change(func(u *class.Upload) { u.Acts[0].Tick = 15 })},
		{class.Order, &class.Upload{Epoch: 1, Engine: sim.Engine, From: 2, Ticks: 19, Hash: new(uint64)}},
		{class.Future, change(func(u *class.Upload) { u.Ticks = 39 })},
		{class.Future, change(func(u *class.Upload) { u.Acts[1].Tick, u.Ticks = 30_000, 30_000 })},
		{class.Malformed, change(func(u *class.Upload) { u.Acts[0].Kind = "" })},
		{class.Malformed, change(func(u *class.Upload) { u.Acts[0].ID = "a\x00" })},
		{class.Malformed, change(func(u *class.Upload) { u.Acts[0].Text = "\xff" })},
		{class.Malformed, change(func(u *class.Upload) { u.From = -1 })},
		{class.Malformed, upload(2, class.MaxBatch+1)},
	}
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		_, err := r.keep(t, upload(0, 2))
		require.NoError(t, err)
		before, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		for i, test := range tests {
			_, err := r.keep(t, test.u)
			refusal, ok := class.AsRefusal(err)
			require.True(t, ok, "%d %s: %v", i, test.word, err)
			require.Equal(t, test.word, refusal.Word, "%d %v", i, err)
			after, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
			require.NoError(t, err)
			require.Equal(t, before, after, test.word)
		}
		_, err = r.keep(t, upload(2, 2))
		require.NoError(t, err, "the true log goes on")
	})
}

func TestAnAttemptThatWasHandedInIsClosed(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		end, hash := upload(0, 2), uint64(1<<63+7)
		end.Hash = &hash
		for range 2 {
			a, err := r.keep(t, end)
			require.NoError(t, err, "the same again is known")
			require.Equal(t, class.Handed, a.Status)
			require.Equal(t, hash, a.Hash)
		}
		_, err := r.keep(t, upload(2, 1))
		refusal, ok := class.AsRefusal(err)
		require.True(t, ok)
		require.Equal(t, class.Closed, refusal.Word)

		got, err := r.Claim(ctx, now+5000)
		require.NoError(t, err)
		require.Equal(t, r.member.ID, got.Member)
		_, err = r.Claim(ctx, now+6000)
		require.ErrorIs(t, err, ErrNone, "it is somebody's work")
		_, err = r.Claim(ctx, now+5000+claimMS+1)
		require.NoError(t, err, "who never came back with it")
		result := class.Result{Member: r.member.ID, Drill: r.drill.ID, Score: 95.17866868573626, Minutes: 1.0 / 3, Named: "nozzle-plugged", Right: true, Report: []byte(`{}`), MS: now}
		require.NoError(t, r.PutResult(ctx, &result))
		require.NoError(t, r.PutResult(ctx, &class.Result{Member: r.member.ID, Drill: r.drill.ID, Score: 1, Report: []byte(`{}`)}), "the first stands")
		results, err := r.Results(ctx, r.class.ID)
		require.NoError(t, err)
		require.Equal(t, []class.Result{result}, results)
		a, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		require.Equal(t, class.Scored, a.Status)
	})
}

func TestTheLastDeviceAloneWrites(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		_, err := r.keep(t, upload(0, 2))
		require.NoError(t, err)
		a, err := r.TakeUp(ctx, r.member.ID, r.drill.ID, sim.Engine, now+9)
		require.NoError(t, err)
		require.Equal(t, int64(2), a.Epoch)
		require.Equal(t, sim.Engine, a.Engine)
		a, err = r.TakeUp(ctx, r.member.ID, r.drill.ID, "another", now+9)
		require.NoError(t, err)
		require.Equal(t, sim.Engine, a.Engine, "that of its acts")
		require.Equal(t, int64(now), a.OpenedMS)
		_, err = r.keep(t, upload(2, 1))
		require.Error(t, err)
		u := upload(2, 1)
		u.Epoch = 3
		_, err = r.keep(t, u)
		require.NoError(t, err)
	})
}

func TestWhoMayJoin(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		join := func(name string) error {
			return r.Join(ctx, &class.Member{Class: r.class.ID, Nickname: name, JoinedMS: now, SeenMS: now}, class.Digest(name+"2"))
		}
		require.ErrorIs(t, join("ADA"), ErrTaken)
		require.NoError(t, join("Bo"))
		require.NoError(t, r.SetLocked(ctx, r.class.ID, true))
		require.ErrorIs(t, join("Cy"), ErrLocked)
		require.NoError(t, r.SetLocked(ctx, r.class.ID, false))
		require.NoError(t, join("Cy"))
		require.NoError(t, r.Tell(ctx, &class.Event{Class: r.class.ID, Kind: class.Ended, MS: now}))
		require.ErrorIs(t, join("Di"), ErrLocked)
		require.NoError(t, r.SendOut(ctx, r.class.ID, r.member.ID, true))
		members, err := r.Members(ctx, r.class.ID)
		require.NoError(t, err)
		require.Len(t, members, 3)
		require.True(t, members[0].Out)
		require.NoError(t, r.NewToken(ctx, r.class.ID, r.member.ID, class.Digest("other")))
		_, err = r.MemberBy(ctx, class.Digest("Ada"))
		require.ErrorIs(t, err, ErrNone)
	})
}

func TestEventsHaveOneOrderAndNoGapOnTwoPrograms(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		programs := []*Store{r.Store, r.Store}
		if IsPostgres(address) {
			programs[1] = opened(t, address)
		}
		const each = 20
		var all sync.WaitGroup
		for _, s := range programs {
			all.Go(func() {
				for range each {
					require.NoError(t, s.Tell(ctx, &class.Event{Class: r.class.ID, Kind: class.Message, Text: "<b>", MS: now}))
				}
			})
		}
		all.Wait()
		events, err := programs[1].Events(ctx, r.class.ID, 5)
		require.NoError(t, err)
		require.Len(t, events, 2*each-5)
		for i, e := range events {
			require.Equal(t, int64(i+6), e.Seq)
		}
		for _, e := range []class.Event{{Kind: class.Freeze}, {Kind: class.Extend, Text: "123456789012345"}} {
			e.Class, e.MS = r.class.ID, now
			require.NoError(t, r.Tell(ctx, &e))
		}
		c, last, err := r.Now(ctx, r.class.ID)
		require.NoError(t, err)
		require.True(t, c.Frozen)
		require.Equal(t, int64(123456789012345), c.DueMS)
		require.Equal(t, int64(2*each+2), last)
		extra := class.Drill{Class: c.ID, Kind: class.Call, Ref: "lock", Body: []byte("{}")}
		require.NoError(t, r.AddDrill(ctx, &extra, now))
		require.Equal(t, 2, extra.Place)
	})
}

// Of two programs that find the same attempt to score, one gets it.
func TestAnAttemptIsClaimedOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		programs := []*Store{r.Store, r.Store}
		if IsPostgres(address) {
			programs[1] = opened(t, address)
		}
		const members = 6
		for i := range members {
			m := r.join(t, "m"+strconv.Itoa(i))
			_, err := r.TakeUp(ctx, m.ID, r.drill.ID, sim.Engine, now)
			require.NoError(t, err)
			u := upload(0, 1)
			u.Hash = new(uint64)
			_, err = r.Keep(ctx, m.ID, r.drill.ID, u, nil, now)
			require.NoError(t, err)
		}
		var mu sync.Mutex
		got := map[int64]int{}
		var all sync.WaitGroup
		for _, s := range programs {
			all.Go(func() {
				for {
					a, err := s.Claim(ctx, now)
					if IsNone(err) {
						return
					}
					require.NoError(t, err)
					mu.Lock()
					got[a.Member]++
					mu.Unlock()
				}
			})
		}
		all.Wait()
		require.Len(t, got, members)
		for m, n := range got {
			require.Equal(t, 1, n, m)
		}
	})
}

func TestARefusedAttemptIsShown(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		why := &class.Refusal{Word: class.Future, Why: "too soon"}
		for range 2 {
			require.NoError(t, r.Refuse(ctx, r.class.ID, r.member.ID, r.drill.ID, why, now))
		}
		a, err := r.Attempt(ctx, r.member.ID, r.drill.ID)
		require.NoError(t, err)
		require.Equal(t, class.Refused, a.Status)
		require.Equal(t, "future: too soon", a.Why)
		require.NoError(t, r.PutResult(ctx, &class.Result{Member: r.member.ID, Drill: r.drill.ID, Report: []byte(`{}`)}))
		results, err := r.Results(ctx, r.class.ID)
		require.NoError(t, err)
		require.Empty(t, results, "who was at it meanwhile brings nothing")
		events, err := r.Events(ctx, r.class.ID, 0)
		require.NoError(t, err)
		require.Len(t, events, 1)
		require.Equal(t, class.Alarm, events[0].Kind)
		require.False(t, events[0].For(r.member.ID))
	})
}

// Who is no longer there to hear takes nothing from those who wait with them.
func TestSomebodyWhoGivesUpDisturbsNobody(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		r := newRoom(t, address)
		var all sync.WaitGroup
		for i := range 40 {
			all.Go(func() {
				asks, stop := context.WithCancel(ctx)
				if i%2 == 0 {
					go stop()
				}
				err := r.Tell(asks, &class.Event{Class: r.class.ID, Kind: class.Message, Text: strconv.Itoa(i), MS: now})
				if i%2 == 1 {
					require.NoError(t, err)
				}
				stop()
			})
		}
		all.Wait()
		events, err := r.Events(ctx, r.class.ID, 0)
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(events), 20)
		for i, e := range events {
			require.Equal(t, int64(i+1), e.Seq)
		}
		require.NoError(t, r.Close())
		require.Error(t, r.Tell(ctx, &class.Event{Class: r.class.ID, Kind: class.Message, MS: now}))
	})
}

func TestAPanicInOneJobIsThatJobsAlone(t *testing.T) {
	r := newRoom(t, filepath.Join(t.TempDir(), "class.db"))
	err := r.inTx(ctx, func(t *tx) error {
		if err := t.exec(ctx, `UPDATE classes SET name = 'half'`); err != nil {
			return err
		}
		panic("x")
	})
	require.ErrorContains(t, err, "panic: x")
	c, err := r.Class(ctx, r.class.ID)
	require.NoError(t, err)
	require.Equal(t, "Tuesday", c.Name, "nothing is half done")
	require.NoError(t, r.SetLocked(ctx, r.class.ID, true))
}

// A program that ends, however, leaves the file to the next.
func TestAFileServesOneProgram(t *testing.T) {
	file := filepath.Join(t.TempDir(), "class.db")
	first := opened(t, file)
	_, err := Open(ctx, file)
	require.ErrorIs(t, err, ErrInUse)
	require.NoError(t, first.PutSetting(ctx, "x", []byte("y")))
	require.NoError(t, first.Close())
	opened(t, file)
}

func TestTheFirstPasswordStands(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		s := opened(t, address)
		_, err := s.Setting(ctx, "password")
		require.ErrorIs(t, err, ErrNone)
		for i, want := range []bool{true, false} {
			first, err := s.PutFirst(ctx, "password", []byte{byte(i)})
			require.NoError(t, err)
			require.Equal(t, want, first)
		}
		value, err := s.Setting(ctx, "password")
		require.NoError(t, err)
		require.Equal(t, []byte{0}, value)
		require.NoError(t, s.PutSetting(ctx, "password", []byte{2}))

		require.NoError(t, s.AddSession(ctx, []byte("one"), now, now+10))
		for at, want := range map[int64]bool{now + 10: true, now + 11: false} {
			has, err := s.HasSession(ctx, []byte("one"), at)
			require.NoError(t, err)
			require.Equal(t, want, has)
		}
		require.NoError(t, s.DropSession(ctx, []byte("one")))
		has, err := s.HasSession(ctx, []byte("one"), now)
		require.NoError(t, err)
		require.False(t, has)
	})
}

func TestTablesOfALaterProgramAreLeftAlone(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		s := opened(t, address)
		require.NoError(t, s.exec(ctx, `INSERT INTO schema_version (version) VALUES (?)`, len(migrations)+1))
		require.NoError(t, s.Close())
		_, err := Open(ctx, address)
		require.ErrorContains(t, err, "older than the data")
	})
}

func TestProgramsThatStartAtOnceMakeTheTablesOnce(t *testing.T) {
	address := storetest.Postgres(t)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			s, err := Open(ctx, address)
			if err == nil {
				s.Close()
			}
			require.NoError(t, err)
		})
	}
	all.Wait()
}
