package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// relive lives all that was recorded.
func relive(t *testing.T, s *sim.Session) {
	t.Helper()
	last := 0.0
	for more := true; more; {
		var err error
		more, err = s.Relive()
		require.NoError(t, err)
		require.GreaterOrEqual(t, s.Relived(), last)
		last = s.Relived()
	}
	require.Equal(t, 1.0, last)
}

func TestACallIsTakenUpInTheMidstOfAnAct(t *testing.T) {
	p := trainee{t, open(t, 5)}
	p.test("hardness-house")
	p.do(sim.Action{Kind: sim.ActStartRegen})
	p.wait(14)
	require.NoError(t, p.s.Do(sim.Action{Kind: sim.ActTest, ID: "brine-draw"}))
	p.wait(1)
	require.Positive(t, p.s.Call().BusyUntilTick, "under way")
	rec, err := p.s.Recording()
	require.NoError(t, err)

	again, err := sim.Resume(rec)
	require.NoError(t, err)
	for again.Prepare(500) < 1 {
	}
	relive(t, again)
	require.Equal(t, *p.s.Call(), *again.Call())
	require.Equal(t, p.s.Seed(), again.Seed())

	for _, s := range []*sim.Session{p.s, again} {
		q := trainee{t, s}
		q.wait(10)
		q.test("brine-level")
	}
	require.Equal(t, p.s.Hash(), again.Hash(), "they go on alike")
	more, err := again.Relive()
	require.NoError(t, err)
	require.False(t, more, "nothing is left to relive")
	first, err := p.s.Recording()
	require.NoError(t, err)
	second, err := again.Recording()
	require.NoError(t, err)
	require.Equal(t, first, second)
}

func TestACopyLivesByItselfAndCanFollow(t *testing.T) {
	p := trainee{t, open(t, 5)}
	p.test("hardness-raw")
	copied := p.s.Clone()
	then := p.s.Hash()
	require.Equal(t, then, copied.Hash())

	p.do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
	p.do(sim.Action{Kind: sim.ActPower})
	p.do(sim.Action{Kind: sim.ActOpen, Part: sim.PartScreen})
	require.Equal(t, then, copied.Hash(), "what the one does leaves the other alone")
	now := p.s.Hash()
	third := copied.Clone()
	trainee{t, copied}.do(sim.Action{Kind: sim.ActStartRegen})
	require.Equal(t, now, p.s.Hash())

	third.Follow(p.s)
	relive(t, third)
	require.Equal(t, now, third.Hash())
	require.Equal(t, p.s.Call().Journal, third.Call().Journal)
}
