package household

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

// The draws of families without visits as they were before there were visits.
func TestFamilysDrawsKeepTheirBits(t *testing.T) {
	for people, bits := range map[int]uint64{1: 0xecf85ccd931f4840, 4: 0x3eccefe1d921ec9e, 9: 0xb74c94a47dc2818e} {
		sp := Standard(people, 42)
		h := repro.NewHash()
		for day := range 60 {
			for _, d := range DayDraws(&sp, day) {
				h.Int64(int64(d.Fixture))
				h.Float64(d.StartS)
				h.Float64(d.EndS)
				h.Float64(d.FlowM3S)
			}
		}
		require.Equal(t, bits, h.Sum(), "%d people: got %#x", people, h.Sum())
	}
}

// without returns the draws that are in all and not in some, and fails if some has
// a draw that is not in all.
func without(t *testing.T, all, some []Draw) []Draw {
	rest := slices.Clone(all)
	for _, d := range some {
		i := slices.Index(rest, d)
		require.GreaterOrEqual(t, i, 0, "%v is not among the draws", d)
		rest = slices.Delete(rest, i, i+1)
	}
	return rest
}

func TestGuestsAddDrawsAndMoveNone(t *testing.T) {
	for _, people := range []int{0, 2, 4, 8} {
		family := Standard(people, 3)
		for day := range 40 {
			before := DayDraws(&family, day)
			for guests := 1; guests <= 5; guests++ {
				sp := family
				sp.Visits = []Visit{{FromDay: 0, People: guests}}
				draws := DayDraws(&sp, day)
				require.NotEmpty(t, without(t, draws, before), "guest %d on day %d", guests, day)
				before = draws
			}
		}
	}
}

func TestAbsenceLeavesOutDrawsAndMovesNone(t *testing.T) {
	family := Standard(4, 3)
	for day := range 40 {
		before := DayDraws(&family, day)
		for away := 1; away <= 4; away++ {
			sp := family
			sp.Visits = []Visit{{People: -away}}
			draws := DayDraws(&sp, day)
			require.NotEmpty(t, without(t, before, draws))
			before = draws
		}
		require.Empty(t, before, "nobody at home")
	}
}

func TestVisitsHoldBetweenTheirDays(t *testing.T) {
	sp := Standard(3, 1)
	sp.Visits = []Visit{{5, 8, 2}, {7, 10, -4}, {9, 0, 1}}
	require.Empty(t, sp.Validate())
	plain := Standard(3, 1)
	for day, people := range []int{3, 3, 3, 3, 3, 5, 5, 1, 0, 0, 4, 4, 4} {
		require.Equal(t, people, sp.PeopleOn(day), "day %d", day)
		same := slices.Equal(DayDraws(&plain, day), DayDraws(&sp, day))
		require.Equal(t, people == 3, same, "day %d", day)
	}
	require.Equal(t, 4, sp.PeopleOn(100000))
}

// DeOreo et al. (2016): 58.6 US gal per person and day, whoever the persons are.
func TestGuestsUseAsMuchAsTheFamily(t *testing.T) {
	for _, c := range []struct{ family, visit int }{{2, 4}, {6, -3}, {0, 2}} {
		sp := Standard(c.family, 7)
		sp.Visits = []Visit{{People: c.visit}}
		total := 0.0
		const days = 200
		for day := range days {
			total += DailyM3(&sp, day)
		}
		people := float64(c.family + c.visit)
		require.InEpsilon(t, 58.6, total/galM3/days/people, 0.08/math.Sqrt(people), "%+v", c)
	}
}

func TestUsesKeepTheFixtureToThemselvesAmongGuests(t *testing.T) {
	sp := Standard(8, 5)
	sp.Visits = []Visit{{People: 9}}
	for day := range 50 {
		free := make([]float64, len(sp.Fixtures))
		for _, d := range DayDraws(&sp, day) {
			require.GreaterOrEqual(t, d.StartS, free[d.Fixture]-1e-9, sp.Fixtures[d.Fixture].ID)
			require.Greater(t, d.EndS, d.StartS)
			require.LessOrEqual(t, d.EndS, 86400.0)
			free[d.Fixture] = d.EndS
		}
	}
}

// A guest's wash does not begin between two fills of the family's.
func TestGuestWaitsForTheWholeUse(t *testing.T) {
	sp := Spec{People: 1, Seed: 1, Fixtures: []Fixture{{
		ID: "washer", FlowM3S: 1e-4, Seconds: 60, Runs: 2, GapS: 600, PerDay: 3, Hours: [24]float64{12: 1},
	}}}
	sp.Visits = []Visit{{People: 3}}
	for day := range 50 {
		draws := DayDraws(&sp, day)
		require.Zero(t, len(draws)%2)
		for i := 0; i < len(draws); i += 2 {
			require.InDelta(t, 600, draws[i+1].StartS-draws[i].EndS, 1e-6, "day %d, draw %d", day, i)
		}
	}
}

func TestVisitFaultsAreAllFound(t *testing.T) {
	sp := Standard(4, 1)
	sp.LeakM3S = -1
	sp.Fixtures[3].Units = math.Inf(1)
	sp.Visits = []Visit{{-1, 0, 1}, {4, 4, 2}, {4, 5, 0}, {1, 3, 17}}
	var got []string
	for _, err := range sp.Validate() {
		got = append(got, err.Error())
	}
	require.Equal(t, []string{
		"leak_m3_s: -1 is outside 0 to 0.001",
		"fixtures[3].units: +Inf is outside 0 to 20",
		"visits[0].from_day: -1 is negative",
		"visits[1].to_day: 4 is not after from_day 4",
		"visits[2].people: 0 is 0 or outside -20 to 20",
		"visits[3].people: with all others makes 22 in the house, more than 20",
	}, got)
}
