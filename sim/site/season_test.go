package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/water"
)

// Burch and Christensen, Towards Development of an Algorithm for Mains Water
// Temperature, NREL 2007, from memory, in °F: the air's mean of the year and the
// difference of its extreme months give the mains.
func TestMainsFollowTheSeasons(t *testing.T) {
	for _, c := range []struct {
		place              string
		meanF, differenceF float64
	}{
		{"cold", 45, 60}, {"temperate", 52, 46}, {"warm", 68, 30},
	} {
		ratio, lag := 0.4+0.01*(c.meanF-44), 35-(c.meanF-44)
		sp := Steady(0, 20)
		sp.Feed = Season{MeanC: (c.meanF + 6 - 32) / 1.8, AmplitudeC: ratio * c.differenceF / 2 / 1.8, ColdestDay: 15 + lag}
		sp.DayOfYear = 200
		require.Empty(t, sp.Validate())
		for day := range 730 {
			degrees := 0.986*(float64(sp.DayOfYear+day)-15-lag) - 90
			mainsF := c.meanF + 6 + ratio*c.differenceF/2*math.Sin(degrees*math.Pi/180)
			require.InDelta(t, (mainsF-32)/1.8, sp.FeedC(day), 0.56, "%s, day %d", c.place, day)
		}
	}
}

// Kusuda and Achenbach, ASHRAE Trans. 71 (1965) 61: the ground's season fades and
// lags with depth; soil of 0.05 m²/day under air of ±12 K.
func TestWellIsNearlyConstant(t *testing.T) {
	for _, c := range []struct {
		depthM float64
		values int
	}{
		{3, 7}, {10, 1}, {30, 1},
	} {
		fade := c.depthM * math.Sqrt(math.Pi/(365*0.05))
		sp := Steady(0, 20)
		sp.Feed = Season{MeanC: 11, AmplitudeC: 12 * math.Exp(-fade), ColdestDay: math.Mod(20+fade*365/(2*math.Pi), 365)}
		require.Empty(t, sp.Validate())
		seen := map[float64]bool{}
		for day := range 365 {
			year := 2*math.Pi*float64(day+1-20)/365 - fade
			require.InDelta(t, 11-12*math.Exp(-fade)*math.Cos(year), sp.FeedC(day), 0.5+1e-9)
			seen[sp.FeedC(day)] = true
		}
		require.Len(t, seen, c.values, "%v m", c.depthM)
	}
}

func TestFeedGoesInWholeStepsFromItsMean(t *testing.T) {
	sp := Steady(10.4, 20)
	sp.Feed.AmplitudeC, sp.Feed.ColdestDay = 7, 40
	sum, low, high := 0.0, math.Inf(1), math.Inf(-1)
	for day := range 365 {
		c := sp.FeedC(day)
		require.InDelta(t, math.Round(c-10.4), c-10.4, 1e-12)
		require.LessOrEqual(t, math.Abs(sp.FeedC(day+1)-c), 1+1e-12, "day %d", day)
		require.Equal(t, c, sp.FeedC(day+365))
		sum, low, high = sum+c, math.Min(low, c), math.Max(high, c)
	}
	require.InDelta(t, 10.4, sum/365, 0.02)
	require.InDelta(t, 3.4, low, 1e-12)
	require.InDelta(t, 17.4, high, 1e-12)
	require.InDelta(t, low, sp.FeedC(39), 1e-12, "day 0 is the first of the year")
	require.InDelta(t, high, sp.FeedC(39+182), 1e-12)
}

func TestNothingChangesAtASteadySite(t *testing.T) {
	sp := Steady(12.3, 21.7)
	require.Empty(t, sp.Validate())
	first := water.ComposeFeed(3, 0.7, 1, 0.1)
	for day := range 400 {
		require.Equal(t, 12.3, sp.FeedC(day))
		require.Equal(t, 21.7, sp.AirC(day, float64(day*200)))
		require.Equal(t, 21.7, sp.AroundC(day, 43200))
		ions, iron := sp.Water(day, first)
		require.Equal(t, first, ions)
		require.Zero(t, iron)
	}
}

// yard is outdoors, with frost in January and sun.
func yard() Spec {
	sp := Steady(10, 0)
	sp.Outdoors, sp.SwingC, sp.SunC = true, 6, 15
	sp.Air = Season{MeanC: 9, AmplitudeC: 11, ColdestDay: 20}
	return sp
}

func TestAirHasItsDayAndItsYear(t *testing.T) {
	sp := yard()
	require.Empty(t, sp.Validate())
	for _, day := range []int{0, 19, 110, 201, 300, 364} {
		mean, coldest, warmest := 0.0, 0, 0
		for hour := range 24 {
			c := sp.AirC(day, float64(hour)*3600)
			mean += c / 24
			if c < sp.AirC(day, float64(coldest)*3600) {
				coldest = hour
			}
			if c > sp.AirC(day, float64(warmest)*3600) {
				warmest = hour
			}
		}
		year := 9 - 11*math.Cos(2*math.Pi*(float64(day+1)+0.48-20)/365)
		require.InDelta(t, year, mean, 0.01, "day %d", day)
		require.Equal(t, []int{3, 15}, []int{coldest, warmest}, "day %d", day)
		require.InDelta(t, sp.AirC(day+1, 0), sp.AirC(day, 86400), 1e-9)
	}
	require.InDelta(t, -8, sp.AirC(19, 10800), 0.01)
	require.InDelta(t, 26, sp.AirC(201, 54000), 0.01)
}

func TestSunWarmsByDayOnly(t *testing.T) {
	sp := yard()
	sum := 0.0
	for minute := range 1440 {
		at := float64(minute) * 60
		sun := sp.AroundC(150, at) - sp.AirC(150, at)
		if minute < 360 || minute > 1080 {
			require.Zero(t, sun)
		}
		sum += sun / 1440
	}
	require.InDelta(t, 15/math.Pi, sum, 1e-4, "mean of a half wave")
	require.InDelta(t, 15, sp.AroundC(150, 43200)-sp.AirC(150, 43200), 1e-12)
}

// A first-order lag passes a wave of ω weakened by √(1+ω²τ²) and late by
// atan(ωτ)/ω (any textbook of control).
func TestTankFollowsTheDayLateAndWeakened(t *testing.T) {
	sp := yard()
	sp.Air.AmplitudeC, sp.SunC = 0, 0
	const step, omega = 60, 2 * math.Pi / 86400
	c := sp.Air.MeanC
	for day := range 20 {
		for at := 0.0; at < 86400; at += step {
			c = Follow(c, sp.AirC(day, at+step/2), sp.TankLagS, step)
			if day < 15 {
				continue
			}
			wave := math.Cos(omega*(at+step-54000) - math.Atan(omega*sp.TankLagS))
			want := 9 + 6*wave/math.Sqrt(1+math.Pow(omega*sp.TankLagS, 2))
			require.InDelta(t, want, c, 1e-3)
		}
	}
}

func TestFollowingIsNewtonsCoolingInStepsOfAnyLength(t *testing.T) {
	require.InEpsilon(t, 5+15/math.E, Follow(20, 5, 1000, 1000), 1e-15)
	require.Equal(t, 20.0, Follow(20, 20, 1000, 5))
	require.Equal(t, 5.0, Follow(20, 5, 1000, 1e6))
	c := 20.0
	for range 1000 {
		c = Follow(c, 5, 1000, 1)
	}
	require.InEpsilon(t, Follow(20, 5, 1000, 1000), c, 1e-13)
}
