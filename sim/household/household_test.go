package household

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

const galM3 = 3.785411784e-3

func volume(draws []Draw) float64 {
	v := 0.0
	for _, d := range draws {
		v += (d.EndS - d.StartS) * d.FlowM3S
	}
	return v
}

// DeOreo et al. (2016): 58.6 US gal per person and day indoors.
// The allowance is about three standard errors of 200 days.
func TestMeanUseIsThatOfTheStudy(t *testing.T) {
	for _, people := range []int{1, 2, 4, 6} {
		sp := Standard(people, 7)
		require.Empty(t, sp.Validate())
		total := 0.0
		const days = 200
		for day := range days {
			total += volume(DayDraws(&sp, day))
		}
		require.InEpsilon(t, 58.6, total/galM3/days/float64(people), 0.08/math.Sqrt(float64(people)), "%d people", people)
	}
}

func TestMorningAndEveningAreBusyAndNightsQuiet(t *testing.T) {
	sp := Standard(4, 11)
	var hour [24]float64
	nightToilets := 0
	const days = 200
	for day := range days {
		for _, d := range DayDraws(&sp, day) {
			hour[int(d.StartS/3600)] += (d.EndS - d.StartS) * d.FlowM3S
			if d.StartS < 5*3600 && d.EndS > 3600 {
				require.Equal(t, "toilet", sp.Fixtures[d.Fixture].ID)
				nightToilets++
			}
		}
	}
	peak := func(from, to int) float64 {
		m := 0.0
		for _, v := range hour[from:to] {
			m = math.Max(m, v)
		}
		return m
	}
	noon := (hour[13] + hour[14] + hour[15]) / 3
	require.Greater(t, peak(6, 9), 1.5*noon)
	require.Greater(t, peak(17, 21), 1.3*noon)
	require.Positive(t, nightToilets)
	require.Less(t, float64(nightToilets)/days, 0.5, "per night")
}

func TestDayIsMadeAgainFromSeedAndNumber(t *testing.T) {
	sp := Standard(4, 3)
	other := Standard(4, 4)
	require.Equal(t, DayDraws(&sp, 17), DayDraws(&sp, 17))
	require.NotEqual(t, DayDraws(&sp, 17), DayDraws(&sp, 18))
	require.NotEqual(t, DayDraws(&sp, 17), DayDraws(&other, 17))
}

func TestFixtureLeavesTheOthersAlone(t *testing.T) {
	sp, less := Standard(4, 3), Standard(4, 3)
	less.Fixtures = less.Fixtures[:2]
	var kept []Draw
	for _, d := range DayDraws(&sp, 5) {
		if d.Fixture < 2 {
			kept = append(kept, d)
		}
	}
	require.Equal(t, kept, DayDraws(&less, 5))
}

func TestDrawsKeepWithinTheDayAndOneUseAtATime(t *testing.T) {
	sp := Standard(6, 5)
	for day := range 50 {
		free := make([]float64, len(sp.Fixtures))
		last := 0.0
		for _, d := range DayDraws(&sp, day) {
			require.GreaterOrEqual(t, d.StartS, last)
			require.GreaterOrEqual(t, d.StartS, free[d.Fixture]-1e-9)
			require.Greater(t, d.EndS, d.StartS)
			require.LessOrEqual(t, d.EndS, 86400.0)
			last, free[d.Fixture] = d.StartS, d.EndS
		}
	}
}

func TestFollowingEveryChangeDrawsTheDaysVolume(t *testing.T) {
	sp := Standard(4, 9)
	s := Start(&sp, 0, 0)
	drawn, want := 0.0, 0.0
	for day := range 5 {
		want += volume(DayDraws(&sp, day))
	}
	for s.Day < 5 {
		dt := NextChange(&s)
		require.Positive(t, dt)
		drawn += dt * FlowAt(&sp, &s)
		Advance(&sp, &s, dt)
	}
	require.InEpsilon(t, want, drawn, 1e-9)
}

func TestLengthOfStepsDoesNotMatter(t *testing.T) {
	sp := Standard(4, 9)
	for _, dt := range []float64{0.25, 60, 3600, 2.5 * 86400} {
		s := Start(&sp, 1, 43200)
		for left := 2.5 * 86400; left > 0; left -= dt {
			Advance(&sp, &s, math.Min(left, dt))
		}
		require.Equal(t, Start(&sp, 4, 0), s, dt)
	}
}

func TestEmptyHouseDrawsNothing(t *testing.T) {
	sp := Standard(0, 9)
	s := Start(&sp, 0, 0)
	require.Zero(t, FlowAt(&sp, &s))
	require.Equal(t, 86400.0, NextChange(&s))
}

func TestSpecFaultsAreAllFound(t *testing.T) {
	sp := Standard(21, 1)
	sp.Fixtures[0].FlowM3S = math.NaN()
	sp.Fixtures[1].Hours = [24]float64{}
	sp.Fixtures[2].Runs = 0
	require.Len(t, sp.Validate(), 4)
}

func BenchmarkDayDraws(b *testing.B) {
	sp := Standard(4, 1)
	for i := range b.N {
		DayDraws(&sp, i)
	}
}

func BenchmarkTick(b *testing.B) {
	sp := Standard(4, 1)
	s := Start(&sp, 0, 0)
	for range b.N {
		Advance(&sp, &s, 0.25)
		FlowAt(&sp, &s)
	}
}

func TestBlocksDrawTheSameWaterOneAfterTheOther(t *testing.T) {
	each := Standard(4, 7)
	hourly := each
	hourly.BlockS = 3600
	for day := range 20 {
		draws, last := DayDraws(&hourly, day), 0.0
		require.Less(t, len(draws), 25)
		for _, d := range draws {
			require.GreaterOrEqual(t, d.StartS, last)
			require.LessOrEqual(t, d.EndS, 86400.0)
			require.Greater(t, d.EndS, d.StartS)
			last = d.EndS
		}
		require.InEpsilon(t, DailyM3(&each, day), DailyM3(&hourly, day), 1e-12)
	}
}
