package live

import (
	"context"
	"log/slog"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
	"brinebench/scenarios"
	"brinebench/sim"
)

const (
	now    = 1_800_000_000_000
	hourMS = 3_600_000
)

var ctx = context.Background()

// lesson is a class with a call and a sequence drill, and one member who has handed both in.
type lesson struct {
	*Tracker
	class          class.Class
	call, sequence class.Drill
	member         class.Member
}

func newLesson(t *testing.T) *lesson {
	t.Helper()
	s, err := store.Open(ctx, filepath.Join(t.TempDir(), "class.db"))
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	mill, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	standard, err := scenarios.Bench.ReadFile("bench/standard.json")
	require.NoError(t, err)
	x := &lesson{Tracker: New(s, slog.New(slog.DiscardHandler), func() int64 { return now }), class: class.Class{Name: "x", Code: class.NewCode(), MadeMS: now}}
	drills := []class.Drill{{Kind: class.Call, Seed: 5, Body: mill}, {Kind: class.Sequence, Body: standard}}
	require.NoError(t, s.AddClass(ctx, &x.class, drills))
	x.call, x.sequence = drills[0], drills[1]
	x.member = class.Member{Class: x.class.ID, Nickname: "Ada", JoinedMS: now, SeenMS: now}
	require.NoError(t, s.Join(ctx, &x.member, class.Digest("x")))
	for _, d := range drills {
		_, err := s.TakeUp(ctx, x.member.ID, d.ID, sim.Engine, now-hourMS)
		require.NoError(t, err)
	}
	u := class.Upload{Epoch: 1, Engine: sim.Engine, Acts: []sim.LogAct{{Tick: late, Action: sim.Action{Kind: sim.ActTest, ID: "hardness-raw"}}}, Ticks: late, Hash: new(uint64)}
	_, err = s.Keep(ctx, x.member.ID, x.call.ID, &u, nil, now)
	require.NoError(t, err)
	_, err = s.Answer(ctx, x.member.ID, x.sequence.ID, 1, &class.Answer{Text: []byte(`{}`)}, nil, now+1)
	require.NoError(t, err)
	return x
}

// late is the tick of the one act of the call.
const late = turnTicks + 5000

func (x *lesson) attempt(t *testing.T, d *class.Drill) class.Attempt {
	t.Helper()
	a, err := x.store.Attempt(ctx, x.member.ID, d.ID)
	require.NoError(t, err)
	return a
}

// An assessor that is nil stands for an engine that fails at a call.
func TestACallThatTheEngineFailsAtTakesNothingFromTheOthers(t *testing.T) {
	x := newLesson(t)
	broken := []ready{{x.call.ID, nil}}
	x.assessors = broken
	x.Watch(x.class.ID)
	x.keepUp(ctx)
	require.True(t, x.follows[key{x.member.ID, x.call.ID}].foul)
	require.False(t, x.weighOne())

	x.assessors = broken
	require.True(t, x.scoreOne(ctx))
	require.Empty(t, x.assessors, "it may have come to harm")
	a := x.attempt(t, &x.call)
	require.Equal(t, class.Unscored, a.Status)
	require.Contains(t, a.Why, "failed: ")
	require.True(t, x.scoreOne(ctx))
	require.Equal(t, class.Scored, x.attempt(t, &x.sequence).Status)
	require.False(t, x.scoreOne(ctx))
}

// A program that is to end does not wait for work that takes seconds; somebody does it again.
func TestWorkIsBrokenOffWithTheProgram(t *testing.T) {
	x := newLesson(t)
	require.True(t, x.scoreOne(ending{ctx}))
	require.Empty(t, x.assessors)
	require.Equal(t, class.Handed, x.attempt(t, &x.call).Status)
	_, err := x.assessor(ending{ctx}, &x.call)
	require.ErrorIs(t, err, sim.ErrStopped)
}

// ending is a program's last moment: it has ended for who asks, and for nobody else yet.
type ending struct{ context.Context }

func (ending) Err() error { return context.Canceled }

// A call that is far behind lives on in turns: others have theirs between.
func TestACallIsFollowedInTurns(t *testing.T) {
	x := newLesson(t)
	x.Watch(x.class.ID)
	k := key{x.member.ID, x.call.ID}
	require.True(t, x.keepUp(ctx))
	f := x.follows[k]
	require.Zero(t, f.acts)
	require.Equal(t, int64(turnTicks), f.Session().Ticks())
	require.True(t, x.keepUp(ctx))
	require.Equal(t, 1, f.acts)
	require.Equal(t, int64(late), f.Session().Ticks())
	require.False(t, x.keepUp(ctx))
}

// A call that a class's end finds with a part being opened is brought to its end: the part
// is put back, the unit handed back, and what was done by then is scored.
func TestACallUnderWayIsHandedInWithItsPartsPutBack(t *testing.T) {
	x := newLesson(t)
	bo := class.Member{Class: x.class.ID, Nickname: "Bo", JoinedMS: now, SeenMS: now}
	require.NoError(t, x.store.Join(ctx, &bo, class.Digest("y")))
	_, err := x.store.TakeUp(ctx, bo.ID, x.call.ID, sim.Engine, now-hourMS)
	require.NoError(t, err)
	acts := []sim.LogAct{{Tick: 10, Action: sim.Action{Kind: sim.ActPower}}, {Tick: 500, Action: sim.Action{Kind: sim.ActOpen, Part: "motor"}}}
	_, err = x.store.Keep(ctx, bo.ID, x.call.ID, &class.Upload{Epoch: 1, Engine: sim.Engine, Acts: acts, Ticks: 510}, nil, now)
	require.NoError(t, err)
	require.False(t, x.handInOne(ctx), "the class goes on")
	require.NoError(t, x.store.Tell(ctx, &class.Event{Class: x.class.ID, Kind: class.Ended, MS: now - class.GraceMS - 1}))
	x.handInMS = 0
	require.True(t, x.handInOne(ctx))

	kept, err := x.store.Acts(ctx, bo.ID, x.call.ID, 0)
	require.NoError(t, err)
	var did []string
	for _, a := range kept {
		did = append(did, class.Describe(&a.Action))
	}
	require.Equal(t, []string{"power", "open motor", "refit motor", "finish"}, did)
	for x.scoreOne(ctx) {
	}
	a, err := x.store.Attempt(ctx, bo.ID, x.call.ID)
	require.NoError(t, err)
	require.Equal(t, class.Scored, a.Status, a.Why)
}

// What is unsafe keeps the kind of its act, by which the wall tells it without its part.
func TestAnUnsafeActIsNotedWithItsKind(t *testing.T) {
	f := &follow{}
	stopped := sim.Entry{Action: sim.Action{Kind: sim.ActOpen, Part: "injector"}, Unsafe: true, Text: "WARNING: Injector is under 58 psi."}
	f.note(&stopped)
	f.note(&stopped)
	require.True(t, f.insight.Warned)
	require.Equal(t, stopped.Text, f.insight.Told)
	require.Equal(t, 2, f.insight.Unsafe)
	require.Equal(t, []class.Slip{{What: "unsafe: WARNING: Injector is under 58 psi.", Act: sim.ActOpen}}, f.insight.Mistakes, "once")
	f.note(&sim.Entry{Action: sim.Action{Kind: sim.ActReplace}, Needless: true, Text: "Fitted a new one."})
	require.False(t, f.insight.Warned)
	require.Equal(t, class.Slip{What: "needless: Fitted a new one."}, f.insight.Mistakes[1])
}
