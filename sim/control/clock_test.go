package control

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/valve"
)

// A clock that gains a minute a day is half an hour fast after thirty; every
// night is still one of its own. Arithmetic.
func TestDriftShiftsTheStartDayByDay(t *testing.T) {
	rows := []struct {
		name        string
		driftS      float64
		aheadS      float64 // after thirty days
		firstS      float64 // true time of the first start
		lastEarlyS  float64 // how much earlier than set the thirtieth start is, after 29 1/12 days of the clock's own
		regenerated int
	}{
		{"true", 0, 0, 7200, 0, 30},
		{"a minute a day fast", 60, 1800, 7200 / (1 + 60.0/dayS), 1744, 30},
		{"a minute a day slow", -60, -1800, 7200 / (1 - 60.0/dayS), -1746, 30},
		{"twice too fast", dayS, 30 * dayS, 3600, 29.5 * dayS, 60},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			set := Settings{EveryDays: 1, StartS: 7200, RefillS: 300}
			w := Wear{DriftSPerDay: row.driftS}
			var s State
			began, _ := history(&set, &w, &s, always, 30*dayS)
			require.InDelta(t, row.aheadS, float64(s.Day-30)*dayS+s.ClockS, 1e-3)
			require.Len(t, began, row.regenerated)
			require.InDelta(t, row.firstS, began[0], 1e-6)
			if row.regenerated == 30 {
				require.InDelta(t, row.lastEarlyS, 29*dayS+7200-began[29], 1)
			}
		})
	}
}

func TestAClockThatStandsNeverStarts(t *testing.T) {
	p := valve.Standard()
	set := Settings{EveryDays: 1, StartS: 7200}
	w := Wear{DriftSPerDay: -dayS}
	s := State{ClockS: 7000}
	began, _ := history(&set, &w, &s, always, 3*dayS)
	require.Empty(t, began)
	require.Equal(t, 7000.0, s.ClockS)
	require.Greater(t, NextChange(&p, &set, &w, &s), 1e300)
}

// Power cuts, by true time from noon of day 0: 50,400 s is 02:00 of day 1. How a
// clock without memory stands or forgets is common practice, no source.
func TestPowerCuts(t *testing.T) {
	const hour, night = 3600.0, 50400.0
	const lasts = 5*24 + 600 + 3600 + 600 + 300 // s, a regeneration
	every := func(days int, runsS float64, forgets bool) Settings {
		return Settings{EveryDays: days, StartS: 7200, RefillS: 300, RunsWithoutS: runsS, ForgetsTime: forgets}
	}
	motor, battery, lost := every(2, 0, false), every(2, 48*hour, false), every(2, hour, true)
	tuesday := battery
	tuesday.EveryDays, tuesday.Weekdays = 0, [7]bool{1: true}
	demand := Settings{Kind: Demand, StartS: 7200, RefillS: 300, HardnessGPG: 20, CapacityKgr: 20, OverrideDays: 2, RunsWithoutS: 48 * hour}
	rows := []struct {
		name  string
		set   Settings
		of    world
		began []float64
		tookS float64 // the first regeneration
		unset bool
	}{
		{"none", motor, always, []float64{night, night + 2*dayS}, lasts, false},
		{"in service, motor clock: late by as much", motor, cut(10000, 10000+3*hour), []float64{night + 3*hour, night + 3*hour + 2*dayS}, lasts, false},
		{"in service, battery: none the wiser", battery, cut(10000, 10000+3*hour), []float64{night, night + 2*dayS}, lasts, false},
		{"in service, an hour's battery: late by the rest", every(2, hour, false), cut(10000, 10000+3*hour), []float64{night + 2*hour, night + 2*hour + 2*dayS}, lasts, false},
		{"in service, time lost: on from noon", lost, cut(10000, 10000+3*hour), []float64{10000 + 3*hour + night, 10000 + 3*hour + night + 2*dayS}, lasts, true},
		{"shorter than the memory", lost, cut(10000, 10000+hour), []float64{night, night + 2*dayS}, lasts, false},
		{"two short cuts, memory full again between", lost, func(t float64) Inputs {
			return Inputs{Plugged: t < 10000 || t >= 13000, Mains: t < 14000 || t >= 17000}
		}, []float64{night, night + 2*dayS}, lasts, false},
		{"no memory at all, a moment's cut", every(2, 0, true), cut(10000, 10010), []float64{10010 + night, 10010 + night + 2*dayS}, lasts, true},
		{"over the start time, motor clock", motor, cut(night-400, night+600), []float64{night + 1000, night + 1000 + 2*dayS}, lasts, false},
		{"over the start time, battery: due the next night", battery, cut(night-400, night+600), []float64{night + dayS, night + 3*dayS}, lasts, false},
		{"over the start time, weekday: a week later", tuesday, cut(night-400, night+600), []float64{night + 7*dayS}, lasts, false},
		{"over the start time, demand: due the next night", demand, cut(night+dayS-400, night+dayS+600), []float64{night + 2*dayS, night + 4*dayS}, lasts, false},
		{"in the regeneration, motor clock", motor, cut(night+1000, night+1000+hour), []float64{night, night + hour + 2*dayS}, lasts + hour, false},
		{"in the regeneration, battery", battery, cut(night+1000, night+1000+hour), []float64{night, night + 2*dayS}, lasts + hour, false},
		{"in the regeneration, time lost", lost, cut(night+1000, night+1000+2*hour), []float64{night, night + 1000 + 2*hour + night + dayS}, lasts + 2*hour, true},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			s := State{ClockS: noonS}
			began, ended := history(&row.set, &Wear{}, &s, row.of, row.began[len(row.began)-1]+2*hour)
			require.InDeltaSlice(t, row.began, began, 1e-6)
			require.InDelta(t, row.tookS, ended[0]-began[0], 1e-6)
			require.Equal(t, row.unset, s.Unset)
		})
	}
}

func TestBothPlugAndMainsAreNeeded(t *testing.T) {
	p, set := fixture()
	for _, in := range []Inputs{{}, {Plugged: true}, {Mains: true}} {
		s := State{ClockS: 7000, Powered: true}
		in.StartNow = true
		Step(p, set, &Wear{}, &s, in, 600)
		require.Equal(t, State{ClockS: 7000}, s)
	}
}

func TestSettingTheClockEndsItsBlinking(t *testing.T) {
	p, set := fixture()
	set.ForgetsTime = true
	s := State{ClockS: 7000, Skip: 1}
	Step(p, set, &Wear{}, &s, Inputs{Plugged: true}, 60)
	Step(p, set, &Wear{}, &s, powered, 60)
	require.True(t, s.Unset)
	require.Equal(t, noonS+60.0, s.ClockS)
	SetClock(&s, 4, 7200)
	Step(p, set, &Wear{}, &s, powered, 60)
	require.Equal(t, State{Day: 4, ClockS: 7260, StationS: 120, Skip: 1, Powered: true}, s, "set upon the start time: it does not count")
	for _, bad := range []float64{-1, dayS} {
		require.PanicsWithValue(t, "control: clock set to day 0, "+map[float64]string{-1: "-1", dayS: "86400"}[bad]+" s",
			func() { SetClock(&s, 0, bad) })
	}
}
