package game

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// aGame is a real call being played, and the clock of its person.
func aGame(t *testing.T, s *sim.Session) *Game {
	t.Helper()
	nowS := 0.0
	g := New(s, func() float64 { nowS += 1e-4; return nowS })
	for g.Prepare(1) < 1 {
	}
	return g
}

var once struct {
	game  *Game
	views []sim.View
}

// played is a call in which something was done, and its views tick by tick. It
// is played once for all tests, which only look at it.
func played(t *testing.T) (*Game, []sim.View) {
	t.Helper()
	if once.game == nil {
		once.game, once.views = play(t)
	}
	once.game.EndScrub()
	return once.game, once.views
}

func play(t *testing.T) (*Game, []sim.View) {
	t.Helper()
	g := aGame(t, aSession(t))
	g.SetPace(0)
	views := []sim.View{g.cur}
	run := func(ticks int) {
		for range ticks {
			g.tick()
			v := g.cur
			v.Opened = append([]sim.Part(nil), v.Opened...)
			views = append(views, v)
		}
	}
	do := func(a sim.Action) {
		require.NoError(t, g.Do(a))
		for g.Busy() {
			run(1)
		}
	}
	do(sim.Action{Kind: sim.ActTest, ID: "hardness-house"})
	do(sim.Action{Kind: sim.ActStartRegen})
	run(2400)
	do(sim.Action{Kind: sim.ActOpen, Part: sim.PartInjector}) // stopped as unsafe
	do(sim.Action{Kind: sim.ActBypass, ID: "bypass"})
	do(sim.Action{Kind: sim.ActPower})
	run(40)
	do(sim.Action{Kind: sim.ActOpen, Part: sim.PartScreen})
	run(1)
	do(sim.Action{Kind: sim.ActDiagnose, ID: "screen-plugged", Value: 0.5})
	do(sim.Action{Kind: sim.ActRefit, Part: sim.PartScreen})
	do(sim.Action{Kind: sim.ActFinish})
	return g, views
}

// settle lets frames pass until the moment wanted is shown, and counts them.
func settle(t *testing.T, g *Game) (frames int) {
	t.Helper()
	for !g.Scrub().There() {
		g.Frame(1.0 / 60)
		frames++
		require.Less(t, frames, 10_000)
	}
	return frames
}

func TestScrubShowsEveryMomentAsItWasAndTouchesNothing(t *testing.T) {
	g, views := played(t)
	before := g.Hash()
	shown := *g.View()
	s := g.BeginScrub()
	end := s.EndTick()
	require.Equal(t, int64(len(views)-1), end)
	require.Equal(t, views[end].Tick, g.View().Tick, "it begins with the present")
	for _, tick := range []int64{end - 1, 0, 1, 700, 699, end / 2, 3, end, 1200, 1201, end - 500, -5, end + 5} {
		s.GoTo(tick)
		settle(t, g)
		at := min(max(tick, 0), end)
		got, want := *g.View(), views[at]
		require.Equal(t, at, s.Tick())
		require.ElementsMatch(t, want.Opened, got.Opened, "tick %d", tick)
		want.Opened, got.Opened = nil, nil
		require.Equal(t, want, got, "tick %d", tick)
	}
	require.Equal(t, before, g.Hash())
	g.EndScrub()
	require.Equal(t, shown.Tick, g.View().Tick)
	require.Nil(t, g.Scrub())
	require.Equal(t, before, g.Hash())
}

// TestScrubTellsWhatIsUnderWay looks at an act that takes its time in its middle, as it
// begins, and when it is done.
func TestScrubTellsWhatIsUnderWay(t *testing.T) {
	g, _ := played(t)
	s := g.BeginScrub()
	at := slices.IndexFunc(s.Moments(), func(m Moment) bool {
		return m.Entry.Action.Part == sim.PartScreen && m.Entry.Action.Kind == sim.ActOpen
	})
	e := s.Moments()[at].Entry
	for tick, want := range map[int64]int{(e.Tick + e.EndTick) / 2: at, e.EndTick: -1} {
		s.GoTo(tick)
		settle(t, g)
		line, doing := s.Doing()
		require.Equal(t, want, line)
		require.Equal(t, want >= 0, doing == "Opening: Injector screen", doing)
	}
	s.GoTo(e.Tick)
	settle(t, g)
	line, _ := s.Doing()
	require.NotEqual(t, at, line, "it is not begun yet")
}

func TestScrubJumpsFromTheNearestCopy(t *testing.T) {
	g, _ := played(t)
	s := g.BeginScrub()
	s.GoTo(0)
	settle(t, g)
	s.GoTo(s.EndTick() - 1)
	settle(t, g)
	for _, tick := range []int64{s.EndTick() / 3, s.EndTick() - 2, 1, s.EndTick() / 2} {
		s.GoTo(tick)
		require.LessOrEqual(t, tick-s.now.Ticks(), int64(keepEveryS/sim.TickS)+1, "lived again at most")
		require.GreaterOrEqual(t, tick, s.now.Ticks())
		settle(t, g)
	}
}

func TestScrubKeepsFewCopiesOfALongCall(t *testing.T) {
	g, _ := played(t)
	s := g.BeginScrub()
	s.everyS = sim.TickS
	s.GoTo(0)
	settle(t, g)
	s.GoTo(s.EndTick() - 1)
	settle(t, g)
	require.Less(t, len(s.kept), mostKept)
	require.Greater(t, s.everyS, sim.TickS)
	for i := 1; i < len(s.kept); i++ {
		require.Less(t, s.kept[i-1].Ticks(), s.kept[i].Ticks())
	}
	require.Zero(t, s.kept[0].Ticks())
}

func TestScrubPlaysToTheEndAndStops(t *testing.T) {
	g, views := played(t)
	s := g.BeginScrub()
	s.Play(600)
	require.Equal(t, 600.0, g.Speed())
	last := int64(-1)
	for s.Pace() > 0 {
		g.Frame(1.0 / 60)
		require.GreaterOrEqual(t, g.View().Tick, last)
		last = g.View().Tick
	}
	require.Equal(t, s.EndTick(), last)
	require.Equal(t, views[last].Controller, g.View().Controller)
	require.Zero(t, g.Speed())
}

func TestScrubGoesFromActToAct(t *testing.T) {
	g, _ := played(t)
	s := g.BeginScrub()
	require.Nil(t, func() *sim.Entry { s.GoTo(0); return s.Last() }())
	var kinds []sim.ActionKind
	for s.Tick() < s.EndTick() {
		s.GoTo(s.Neighbour(true))
		kinds = append(kinds, s.Last().Action.Kind)
	}
	require.Equal(t, []sim.ActionKind{
		sim.ActTest, sim.ActStartRegen, sim.ActOpen, sim.ActBypass, sim.ActPower, sim.ActOpen, sim.ActDiagnose, sim.ActRefit, sim.ActFinish,
	}, kinds)
	require.True(t, s.Moments()[2].Entry.Unsafe)
	for range kinds {
		s.GoTo(s.Neighbour(false))
	}
	require.Zero(t, s.Tick())
}
