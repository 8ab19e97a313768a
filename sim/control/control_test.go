package control

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/valve"
)

var powered = Inputs{Plugged: true, Mains: true}

func fixture() (*valve.Program, *Settings) {
	p := valve.Standard()
	return &p, &Settings{EveryDays: 3, StartS: 7200, RefillS: 300}
}

// starts runs for so many days and returns the days on which a regeneration began.
func starts(p *valve.Program, set *Settings, s *State, days int, dtS float64) []int {
	var got []int
	was := s.Regenerating
	for range int(float64(days*dayS) / dtS) {
		Step(p, set, &Wear{}, s, powered, dtS)
		if s.Regenerating && !was {
			got = append(got, s.Day)
		}
		was = s.Regenerating
	}
	return got
}

func TestRegeneratesOnTheDaysSet(t *testing.T) {
	rows := []struct {
		name string
		set  Settings
		from State
		want []int
	}{
		{"every third night", Settings{EveryDays: 3, StartS: 7200}, State{}, []int{0, 3, 6, 9, 12}},
		{"every third night, one skipped yet", Settings{EveryDays: 3, StartS: 7200}, State{Skip: 1}, []int{1, 4, 7, 10, 13}},
		{"every night", Settings{EveryDays: 1, StartS: 7200}, State{}, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}},
		{"at midnight", Settings{EveryDays: 7, StartS: 0}, State{ClockS: 3600}, []int{1, 8}},
		{"two weekdays", Settings{Weekdays: [7]bool{1: true, 4: true}, StartS: 7200}, State{}, []int{1, 4, 8, 11}},
		{"no weekday chosen", Settings{StartS: 7200}, State{}, nil},
		{"start time of the day has passed", Settings{EveryDays: 3, StartS: 7200}, State{ClockS: 8000}, []int{1, 4, 7, 10, 13}},
	}
	p := valve.Standard()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			s := row.from
			s.Powered = true
			if d := DaysToRegen(&row.set, &s); len(row.want) > 0 {
				require.Equal(t, row.want[0]*dayS+int(row.set.StartS), int(s.ClockS+NextChange(&p, &row.set, &Wear{}, &s)))
				require.GreaterOrEqual(t, d, 0)
			} else {
				require.Equal(t, -1, d)
				require.True(t, math.IsInf(NextChange(&p, &row.set, &Wear{}, &s), 1))
			}
			require.Equal(t, row.want, starts(&p, &row.set, &s, 14, 60))
		})
	}
}

func TestManualStartDrivesThroughTheProgramOnce(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: 43200, Skip: 2}
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true, Mains: true, StartNow: true}, 0.25)
	require.True(t, s.Moving && s.Regenerating)
	require.Equal(t, 1, s.Station)
	require.InDelta(t, 0.75, s.DrumDeg, 1e-12)

	var at []float64 // time of arrival at each stop
	elapsed, last := 0.25, true
	for s.Regenerating {
		Step(p, set, &Wear{}, &s, powered, 0.25)
		elapsed += 0.25
		if last && !s.Moving {
			at = append(at, elapsed)
			require.Equal(t, p.Stops[s.Station].AngleDeg, s.DrumDeg)
		}
		last = s.Moving
	}
	// 72° at 3°/s is 24 s between stops.
	require.Equal(t, []float64{24, 648, 4272, 4896, 5220}, at)
	require.Equal(t, State{ClockS: 43200 + 5220, Skip: 2, Powered: true}, s)
}

func TestAdvanceGoesToTheNextStopAtOnce(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: 43200}
	press := Inputs{Plugged: true, Mains: true, AdvanceNow: true}
	for _, want := range []int{1, 2, 3, 4, 0} {
		Step(p, set, &Wear{}, &s, press, 0.25)
		require.True(t, s.Moving)
		require.Equal(t, want, s.Station)
		Step(p, set, &Wear{}, &s, press, 1) // while the motor drives, the button does nothing
		require.Equal(t, want, s.Station)
		Step(p, set, &Wear{}, &s, powered, 23)
		require.False(t, s.Moving)
		require.Equal(t, p.Stops[want].AngleDeg, s.DrumDeg)
		require.Equal(t, want != 0, s.Regenerating)
	}
	Step(p, set, &Wear{}, &s, Inputs{AdvanceNow: true, StartNow: true}, 60)
	require.Zero(t, s.Station, "unplugged")
}

func TestUnpluggedStandsStillAndThenRunsLate(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: 43200}
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true, Mains: true, StartNow: true}, 10)
	was := s
	Step(p, set, &Wear{}, &s, Inputs{}, 5*dayS)
	was.Powered = false
	require.Equal(t, was, s)
	require.True(t, math.IsInf(NextChange(p, set, &Wear{}, &s), 1))
	Step(p, set, &Wear{}, &s, powered, 14)
	require.False(t, s.Moving)
	require.Equal(t, 43224.0, s.ClockS)
}

func TestLengthOfStepsDoesNotMatter(t *testing.T) {
	p, set := fixture()
	for _, dtS := range []float64{0.25, 7, 60, 3600, 8 * dayS} {
		s := State{ClockS: 3600}
		for left := 8.0 * dayS; left > 0; left -= dtS {
			Step(p, set, &Wear{}, &s, powered, math.Min(dtS, left))
		}
		s.StationS = 0
		require.Equal(t, State{Day: 8, ClockS: 3600, DaysSince: 1, Skip: 1, Powered: true}, s, dtS)
	}
}

func TestNextChangeLeadsToEveryChange(t *testing.T) {
	p, set := fixture()
	s := State{Powered: true}
	var stations []int
	for range 22 {
		Step(p, set, &Wear{}, &s, powered, NextChange(p, set, &Wear{}, &s))
		stations = append(stations, s.Station)
	}
	round := []int{1, 1, 2, 2, 3, 3, 4, 4, 0, 0}
	require.Equal(t, append(append(round, round...), 1, 1), stations)
	require.Equal(t, 6, s.Day)
}

func TestRefillTimeIsTheSettingsOwn(t *testing.T) {
	p, set := fixture()
	require.Equal(t, 300.0, StationSeconds(p, set, 4))
	require.Equal(t, 600.0, StationSeconds(p, set, 1))
	set.RefillS = 0
	s := State{ClockS: 43200}
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true, Mains: true, StartNow: true}, 24+600+24+3600+24+600+24+1)
	require.Equal(t, 0, s.Station, "no refill: the drum drives on")
	require.True(t, s.Moving)
}

func TestStartTimeDuringARegenerationPasses(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: 7000}
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true, Mains: true, StartNow: true}, 100)
	Step(p, set, &Wear{}, &s, powered, 3*3600)
	require.False(t, s.Regenerating)
	require.Equal(t, 2, s.Skip)
	require.Equal(t, 2, DaysToRegen(set, &s))
}

func TestRemainingCountsDown(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: 43200}
	require.Zero(t, Remaining(p, set, &s))
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true, Mains: true, StartNow: true}, 24+100)
	require.Equal(t, 500.0, Remaining(p, set, &s))
}

func TestSettingsFaultsAreAllFound(t *testing.T) {
	bad := Settings{EveryDays: -1, StartS: math.NaN(), RefillS: math.Inf(1)}
	require.Len(t, bad.Validate(), 3)
	both := Settings{EveryDays: 3, Weekdays: [7]bool{true}}
	require.ErrorContains(t, both.Validate()[0], "weekdays")
	_, good := fixture()
	require.Empty(t, good.Validate())
}

func BenchmarkStepInService(b *testing.B) {
	p, set := fixture()
	s := State{}
	for range b.N {
		Step(p, set, &Wear{}, &s, powered, 0.25)
	}
}
