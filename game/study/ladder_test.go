package study_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/study"
)

var ladder = study.NewLadder([]study.Rung{
	{Call: "off-the-ladder"},
	{Call: "d", Rung: 4, Group: "white"},
	{Call: "a", Rung: 1, Group: "white"},
	{Call: "b", Rung: 2, Group: "white"},
	{Call: "c", Rung: 3, Group: "salt"},
	{Call: "e", Rung: 5},
})

// later is the same play, ended a minute later.
func later(x study.Play) study.Play {
	x.EndedS += 60
	return x
}

func next(t *testing.T, p *study.Progress, l study.Ladder, onDay int64) study.Choice {
	t.Helper()
	c, ok := study.Next(p, l, onDay*day+7200)
	require.True(t, ok)
	return c
}

func TestLadderIsClimbedFromBelow(t *testing.T) {
	require.Equal(t, study.Choice{Call: "a", Why: study.NewRung, Seed: 1}, next(t, progressOf(), ladder, 0))
	_, ok := study.Next(progressOf(), nil, 0)
	require.False(t, ok)
}

func TestNextCall(t *testing.T) {
	for _, row := range []struct {
		situation string
		plays     []study.Play
		onDay     int64
		call      string
		why       study.Why
	}{
		{"another family before the next rung", []study.Play{played("a", 0, 80)}, 0, "c", study.NewRung},
		{"back to the rung that was left out", []study.Play{played("a", 0, 80), played("c", 0, 80)}, 0, "b", study.NewRung},
		{"a refresher before anything new", []study.Play{played("a", 0, 80), played("c", 0, 95)}, 2, "a", study.Refresher},
		{"longest due first", []study.Play{played("c", 0, 80), played("a", 1, 80), played("e", 2, 95)}, 9, "c", study.Refresher},
		{"something new rather than the same family again", []study.Play{played("a", 0, 80), played("c", 3, 95), played("a", 4, 30)}, 5, "e", study.NewRung},
		{"the same family where nothing else is due or open", []study.Play{played("c", 3, 95), played("a", 4, 30)}, 5, "a", study.Refresher},
		{"nothing due, nothing new open", []study.Play{played("a", 0, 30), played("c", 0, 30), later(played("b", 0, 30))}, 0, "c", study.Early},
		{"a poor play is due the next day", []study.Play{played("a", 0, 30), played("c", 0, 30), later(played("b", 0, 30))}, 1, "c", study.Refresher},
	} {
		got := next(t, progressOf(row.plays...), ladder, row.onDay)
		require.Equal(t, row.call, got.Call, row.situation)
		require.Equal(t, row.why, got.Why, row.situation)
	}
}

// However well or badly a trainee plays, no two of one family follow each other
// while a call of another is due or open and new, every call is met in the end,
// and none twice with the same seed.
func TestFamiliesAreMixed(t *testing.T) {
	var rungs []study.Rung
	for i := range 24 {
		rungs = append(rungs, study.Rung{Call: fmt.Sprintf("call-%d", i), Rung: i + 1, Group: fmt.Sprintf("family-%d", i/3%4)})
	}
	l := study.NewLadder(rungs)
	for _, scores := range [][]float64{{95}, {80}, {40, 95}, {80, 50, 70, 92}} {
		p := &study.Progress{}
		seeds := map[string]bool{}
		met, repeats := map[string]bool{}, 0
		for i := range 200 {
			now := int64(i) * day / 3
			c, ok := study.Next(p, l, now)
			require.True(t, ok)
			seed := fmt.Sprint(c.Call, c.Seed)
			require.False(t, seeds[seed], seed)
			seeds[seed], met[c.Call] = true, true
			if n := len(p.Plays); n > 0 && l.Find(p.Plays[n-1].Call).Group == l.Find(c.Call).Group {
				repeats++
				for _, s := range study.Standings(p, l, now) {
					if s.Group != l.Find(c.Call).Group && !s.Locked {
						require.Equal(t, study.Learned, s.State, "%s would have been possible", s.Call)
					}
				}
			}
			p.Add(study.Play{Call: c.Call, Seed: c.Seed, StartedS: now, EndedS: now + 1800, Score: scores[i%len(scores)]})
		}
		require.Len(t, met, 24, "scores %v", scores)
		t.Logf("scores %v: %d of 200 plays of the same family as the one before", scores, repeats)
	}
}

func TestHigherRungsAreLockedUntilLowerOnesArePassed(t *testing.T) {
	locked := func(p *study.Progress) (calls string) {
		for _, s := range study.Standings(p, ladder, 3600) {
			if s.Locked {
				calls += s.Call + " "
			}
		}
		return calls
	}
	require.Equal(t, "d e off-the-ladder ", locked(progressOf()))
	require.Equal(t, "d e off-the-ladder ", locked(progressOf(played("a", 0, 59))), "not passed")
	require.Equal(t, "e off-the-ladder ", locked(progressOf(played("a", 0, 60))))
	require.Equal(t, "d off-the-ladder ", locked(progressOf(played("e", 0, 60))), "opened by hand")
}

func TestStandingTellsBestScoreOfPlaysWithoutHelp(t *testing.T) {
	helped := played("a", 2, 100)
	helped.Hints = 2
	s := study.Standings(progressOf(played("a", 0, 70), played("a", 1, 50), helped), ladder, 3*day)[0]
	require.Equal(t, 70.0, s.Best)
	require.Equal(t, 3, s.Reps)
	require.Equal(t, 1, s.Helped)
	require.True(t, s.Passed)
}

func TestSupportFadesAndComesBack(t *testing.T) {
	p := &study.Progress{}
	require.Equal(t, study.Full, p.Support(ladder, "e"))
	var levels []study.Support
	for i, score := range []float64{80, 80, 80, 80, 40, 20, 90, 90, 90} {
		p.Add(played("c", int64(i), score))
		levels = append(levels, p.Support(ladder, "e"))
	}
	require.Equal(t, []study.Support{
		study.Full, study.Some, study.None, study.None, study.Little, study.Some, study.Some, study.Little, study.None,
	}, levels)
}

func TestSupportComesBackForAFamilyThatGoesWorse(t *testing.T) {
	p := progressOf(played("a", 0, 20), played("c", 1, 95), played("c", 2, 95), played("c", 3, 95))
	require.Equal(t, study.Full, p.Support(ladder, "b"), "a looks like b")
	require.Equal(t, study.None, p.Support(ladder, "c"))
	mean, met := p.Efficiency(ladder, "d")
	require.True(t, met)
	require.InDelta(t, 0.2, mean, 1e-9)
	_, met = p.Efficiency(ladder, "e")
	require.False(t, met)
}

func TestHelpedPlayIsNotEfficient(t *testing.T) {
	x := played("a", 0, 100)
	require.Equal(t, 1.0, x.Efficiency())
	x.Shown = true
	require.Zero(t, x.Efficiency())
}
