package study_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/study"
	"brinebench/sim"
)

const day = 86400

// played is a play of a call that ended on a day.
func played(call string, onDay int64, score float64) study.Play {
	return study.Play{
		Call: call, Seed: 1, Hash: uint64(onDay), StartedS: onDay*day + 60, EndedS: onDay*day + 3600,
		Score: score, Economy: score / 100, Minutes: 40, Named: "nozzle-plugged", True: []string{"nozzle-plugged"},
	}
}

func progressOf(plays ...study.Play) *study.Progress {
	p := &study.Progress{}
	p.Add(plays...)
	return p
}

func TestDebriefIsKeptAsAPlay(t *testing.T) {
	r := &sim.Report{
		Score: 71.5, Minutes: 42, Hash: 1 << 63, Named: sim.FaultInfo{ID: sim.NoFault},
		True:  []sim.FaultInfo{{ID: "nozzle-plugged"}, {ID: "bypass-leak"}},
		Items: []sim.ScoreItem{{Name: "Cause", Got: 35, Max: 35}, {Name: "Economy", Got: 6, Max: 15}},
	}
	require.Equal(t, study.Play{
		Call: "a", Seed: 3, Hash: 1 << 63, StartedS: 100, EndedS: 200, Score: 71.5, Economy: 0.4, Minutes: 42,
		Named: sim.NoFault, True: []string{"nozzle-plugged", "bypass-leak"},
	}, study.NewPlay("a", 3, 100, 200, r))
	require.EqualValues(t, 300, study.NewPlay("a", 3, 300, 200, r).EndedS, "the clock was set back in between")
}

func TestPlayIsRecordedOnce(t *testing.T) {
	x := played("a", 1, 80)
	p := progressOf(x)
	require.Zero(t, p.Add(x), "the page was loaded again")
	for _, other := range []func(*study.Play){
		func(x *study.Play) { x.Call = "b" },
		func(x *study.Play) { x.Seed++ },
		func(x *study.Play) { x.Hash++ },
		func(x *study.Play) { x.StartedS++ },
	} {
		y := x
		other(&y)
		require.Equal(t, 1, p.Add(y, y))
	}
	require.Len(t, p.Plays, 5)
}

func TestMergingGivesOneRecordFromEitherSide(t *testing.T) {
	a := []study.Play{played("a", 1, 80), played("b", 4, 50), played("a", 9, 90)}
	b := []study.Play{played("b", 4, 50), played("c", 2, 70), played("b", 4, 50)}
	ab, ba := progressOf(a...), progressOf(b...)
	require.Equal(t, 1, ab.Add(b...))
	require.Equal(t, 2, ba.Add(a...))
	require.Equal(t, ab, ba)
	require.Equal(t, []study.Play{a[0], b[1], a[1], a[2]}, ab.Plays, "in the order of their ends")
	require.Equal(t, []study.Play{a[0], a[2]}, ab.Of("a"))
}

func TestRecordStaysBounded(t *testing.T) {
	p := &study.Progress{}
	for i := range int64(study.MaxPlays + 10) {
		p.Plays = append(p.Plays, played("a", i, 80))
	}
	p.Add(played("b", 1, 80))
	require.Len(t, p.Plays, study.MaxPlays)
	require.EqualValues(t, study.MaxPlays+9, p.Plays[study.MaxPlays-1].Hash, "the newest stays")
}

func TestPlaysAreGradedByScoreUnlessHelped(t *testing.T) {
	for _, row := range []struct {
		score float64
		hints int
		shown bool
		want  study.Grade
	}{
		{0, 0, false, study.Again},
		{59.9, 0, false, study.Again},
		{60, 0, false, study.Hard},
		{75, 0, false, study.Good},
		{89.9, 0, false, study.Good},
		{90, 0, false, study.Easy},
		{100, 1, false, study.Again},
		{100, 0, true, study.Again},
	} {
		x := study.Play{Score: row.score, Hints: row.hints, Shown: row.shown}
		require.Equal(t, row.want, x.Grade(), "%+v", row)
	}
}

// The first stabilities are the published default parameters w0 to w3 themselves,
// and with a wanted recall of 90 % the interval is the stability in whole days.
func TestFirstPlayHasThePublishedStability(t *testing.T) {
	for score, want := range map[float64]struct {
		stability float64
		days      int64
	}{30: {0.212, 1}, 60: {1.2931, 1}, 80: {2.3065, 2}, 95: {8.2956, 8}} {
		x := played("a", 10, score)
		c := progressOf(x).Card("a")
		require.InDelta(t, want.stability, c.Stability, 1e-9)
		require.Equal(t, x.EndedS+want.days*day, c.DueS, "score %v", score)
		require.Equal(t, study.Learned, c.State(c.DueS-1))
		require.Equal(t, study.Due, c.State(c.DueS))
	}
	c := progressOf().Card("a")
	require.Equal(t, study.New, c.State(0))
}

func TestRefreshersSpreadAndComeBackAfterALapse(t *testing.T) {
	p := progressOf(played("a", 0, 80))
	last := int64(0)
	for range 5 {
		c := p.Card("a")
		gap := (c.DueS - p.Plays[len(p.Plays)-1].EndedS) / day
		require.Greater(t, gap, last)
		last = gap
		p.Add(played("a", c.DueS/day, 80))
	}
	x := played("a", p.Card("a").DueS/day, 20)
	p.Add(x)
	c := p.Card("a")
	require.Less(t, (c.DueS-x.EndedS)/day, last/4)
	require.Equal(t, 1, c.Lapses)
}
