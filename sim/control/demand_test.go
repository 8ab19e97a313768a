package control

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// A bed of 24,000 grains on water of 20 gpg softens 1,200 gallons. Arithmetic.
func demand(change func(set *Settings)) *Settings {
	set := &Settings{Kind: Demand, StartS: 7200, RefillS: 300, HardnessGPG: 20, CapacityKgr: 24}
	change(set)
	return set
}

// Nights worked out by hand: night n sees what was used on the days before it.
func TestDemandRegeneratesOnTheNightsWorkedOutByHand(t *testing.T) {
	from := func(day int, before, after float64) world {
		return drawing(func(d int) float64 {
			if d < day {
				return before
			}
			return after
		})
	}
	learning := func(set *Settings) { set.Reserve, set.ReservePct = Learning, 20 }
	rows := []struct {
		name   string
		change func(*Settings)
		of     world
		want   []int
	}{
		// 1,200 − 4·320 < 0 on night 4.
		{"no reserve: used up before it starts", func(*Settings) {}, daily(320), []int{4, 8, 12, 16, 20}},
		// 1,200 − 3·320 = 240, within 25 %.
		{"fixed reserve", func(set *Settings) { set.ReservePct = 25 }, daily(320), []int{3, 6, 9, 12, 15, 18, 21}},
		// 960 gallons, 192 in reserve; 960 − 3·320 = 0.
		{"hardness set higher", func(set *Settings) { set.ReservePct, set.HardnessGPG = 20, 25 }, daily(310), []int{3, 6, 9, 12, 15, 18, 21}},
		// 2,400 gallons: it believes twice what the bed can do.
		{"hardness set at half", func(set *Settings) { set.ReservePct, set.HardnessGPG = 25, 10 }, daily(320), []int{6, 12, 18}},
		// 1,200 − 4·220 = 320 > 220 but 100 on night 5.
		{"learning reserve", learning, daily(220), []int{5, 10, 15, 20}},
		// Night 11: 760 left, 440 in reserve; night 12: 320 left.
		{"learning, use doubles on day 10", learning, from(10, 220, 440), []int{5, 10, 12, 14, 16, 18, 20, 22}},
		// The same with a fixed reserve of 240 gallons runs short every time, for 320 are left on the second night.
		{"fixed, use doubles on day 10", func(set *Settings) { set.ReservePct = 20 }, from(10, 220, 440), []int{5, 10, 13, 16, 19, 22}},
		// Night 22: 320 left, 220 in reserve; night 23: 100 left.
		{"learning, holiday from day 10 to 17", learning, drawing(func(d int) float64 {
			if d >= 10 && d < 18 {
				return 0
			}
			return 220
		}), []int{5, 10, 23}},
		{"the same, at the latest every 6 days", func(set *Settings) { learning(set); set.OverrideDays = 6 }, drawing(func(d int) float64 {
			if d >= 10 && d < 18 {
				return 0
			}
			return 220
		}), []int{5, 10, 16, 22}},
		{"use as large as the capacity", learning, daily(1300), []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23}},
		{"meter that counts nothing", learning, always, nil},
		{"meter that counts nothing, at the latest every 7 days", func(set *Settings) { set.OverrideDays = 7 }, always, []int{6, 13, 20}},
		{"every day", func(set *Settings) { set.OverrideDays = 1 }, always, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23}},
		{"settings of a clock do not matter", func(set *Settings) { set.EveryDays, set.ReservePct = 1, 25 }, daily(320), []int{3, 6, 9, 12, 15, 18, 21}},
		{"at once, meter jammed, at the latest every 7 days", func(set *Settings) { set.When, set.OverrideDays = Immediate, 7 }, always, []int{6, 13, 20}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			set := demand(row.change)
			require.Empty(t, set.Validate())
			var s State
			began, ended := history(set, &Wear{}, &s, row.of, 24*dayS)
			require.Equal(t, row.want, nights(t, 7200, began))
			require.Len(t, ended, len(began))
		})
	}
}

// Every 1,200 gallons, at the moment: 350 a day flow evenly from 7 to 19, and
// what flows in a regeneration counts to the next.
func TestImmediateStartsWhenTheCapacityIsUsedUp(t *testing.T) {
	set := demand(func(set *Settings) { set.When = Immediate })
	var s State
	began, _ := history(set, &Wear{}, &s, daily(350), 20*dayS)
	require.Len(t, began, 5)
	for i, at := range began {
		total := 1200 * float64(i+1)
		day := math.Floor(total / 350)
		require.InDelta(t, day*dayS+7*3600+(total-day*350)/350*12*3600, at, 1e-3)
	}
}

func TestManualRegenerationStartsTheCountAnew(t *testing.T) {
	p := valve.Standard()
	for _, press := range []Inputs{{StartNow: true}, {AdvanceNow: true}} {
		set := demand(func(*Settings) {})
		var s State
		in := powered
		in.MeterM3 = 500 * unit.USGallon
		Step(&p, set, &Wear{}, &s, in, 600)
		require.InDelta(t, 700, RemainingM3(set, &s)/unit.USGallon, 1e-9)
		require.InDelta(t, 14000, RemainingGrains(set, &s), 1e-7)
		press.Plugged, press.Mains = true, true
		Step(&p, set, &Wear{}, &s, press, 1)
		require.Zero(t, s.UsedM3)
		require.InDelta(t, 24000, RemainingGrains(set, &s), 1e-7)
		require.InDelta(t, 500, s.TodayM3/unit.USGallon, 1e-9, "the day's use is another matter")
	}
}

func TestNothingIsCountedWithoutPower(t *testing.T) {
	p := valve.Standard()
	set := demand(func(set *Settings) { set.RunsWithoutS = dayS })
	var s State
	Step(&p, set, &Wear{}, &s, Inputs{Mains: true, MeterM3: 1}, 600)
	require.Zero(t, s.UsedM3)
	require.Zero(t, s.MeterM3S)
	require.Equal(t, 600.0, s.ClockS)
}

func TestReserveLearnsTheGreatestDayOfAWeek(t *testing.T) {
	p := valve.Standard()
	set := demand(func(set *Settings) { set.Reserve, set.ReservePct, set.CapacityKgr = Learning, 10, 99 })
	var s State
	require.InDelta(t, 495, ReserveM3(set, &s)/unit.USGallon, 1e-9, "as fixed until a day is known")
	use := []float64{300, 100, 200, 100, 100, 100, 100, 100, 100, 150}
	greatest := []float64{300, 300, 300, 300, 300, 300, 300, 200, 200, 150}
	mean := []float64{300, 200, 200, 175, 160, 150, 1000. / 7, 800. / 7, 800. / 7, 750. / 7}
	run(&p, set, &Wear{}, &s, drawing(func(d int) float64 { return use[d] }), 10*dayS, 60, func(at float64) {
		if day := int(at) / dayS; int(at)%dayS == 0 && s.UsedM3 > 0 {
			require.InDelta(t, greatest[day-1], ReserveM3(set, &s)/unit.USGallon, 1e-6, "day %d", day)
			require.InDelta(t, mean[day-1], MeanDayM3(&s)/unit.USGallon, 1e-6, "day %d", day)
		}
	})
	set.When = Immediate
	require.Zero(t, ReserveM3(set, &s))
}

func TestDaysToGoAreEstimatedFromTheMeanUse(t *testing.T) {
	known := State{WeekM3: [7]float64{300 * unit.USGallon, 340 * unit.USGallon}, KnownDays: 2, Powered: true} // mean 320
	at := func(change func(s *State)) State { s := known; change(&s); return s }
	rows := []struct {
		name   string
		change func(*Settings)
		s      State
		want   int
	}{
		{"no use known", func(*Settings) {}, State{}, -1},
		{"no use known, override", func(set *Settings) { set.OverrideDays = 7 }, State{DaysSince: 2}, 4},
		{"at midnight: short on the fourth night from the coming one", func(*Settings) {}, known, 4},
		{"at midnight, with a reserve of 300", func(set *Settings) { set.ReservePct = 25 }, known, 3},
		{"override comes first", func(set *Settings) { set.OverrideDays = 5 }, at(func(s *State) { s.DaysSince = 3 }), 1},
		{"override long past", func(set *Settings) { set.OverrideDays = 5 }, at(func(s *State) { s.DaysSince = 30 }), 0},
		{"less than the reserve left", func(set *Settings) { set.ReservePct = 25 }, at(func(s *State) { s.UsedM3 = 1000 * unit.USGallon }), 0},
		{"at once: 1,200 at 320 a day", func(set *Settings) { set.When = Immediate }, known, 3},
		{"at once: used up within the day", func(set *Settings) { set.When = Immediate }, at(func(s *State) { s.UsedM3 = 900 * unit.USGallon }), 0},
		{"hardly any use", func(*Settings) {}, State{WeekM3: [7]float64{1e-300}, KnownDays: 1}, 999},
		{"alarm", func(*Settings) {}, at(func(s *State) { s.Alarm = true }), -1},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, DaysToRegen(demand(row.change), &row.s))
		})
	}
}

// The estimate comes true for a house that draws the same every day.
func TestDaysToGoCountDownToTheNight(t *testing.T) {
	p := valve.Standard()
	set := demand(func(set *Settings) { set.ReservePct = 25 })
	var s State
	var got []int
	run(&p, set, &Wear{}, &s, daily(320), 12*dayS, 60, func(at float64) {
		if int(at)%dayS == 6*3600 {
			got = append(got, DaysToRegen(set, &s))
		}
	})
	require.Equal(t, []int{-1, 1, 0, 2, 1, 0, 2, 1, 0, 2, 1, 0}, got)
}

// NextChange may come early, never late.
func TestDemandNeverActsBeforeItsNextChange(t *testing.T) {
	rows := []struct {
		name string
		set  *Settings
		w    Wear
	}{
		{"at night", demand(func(set *Settings) { set.ReservePct = 25 }), Wear{}},
		{"at night, slow clock", demand(func(set *Settings) { set.ReservePct = 25 }), Wear{DriftSPerDay: -900}},
		{"at once", demand(func(set *Settings) { set.When = Immediate }), Wear{}},
		{"at once, override", demand(func(set *Settings) { set.When, set.OverrideDays = Immediate, 2 }), Wear{DriftSPerDay: 900}},
		{"sensed", demand(func(set *Settings) { set.Sensed, set.ReservePct = true, 25 }), Wear{}},
	}
	p := valve.Standard()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			s := State{Powered: true}
			changes, flow := 0, 0.0
			for n := range 12 * dayS / 20 {
				in := daily(320)(float64(n) * 20)
				steady := in.MeterM3 == flow
				flow = in.MeterM3
				in.MeterM3 *= 20
				was, due := s, NextChange(&p, row.set, &row.w, &s)
				Step(&p, row.set, &row.w, &s, in, 20)
				if was.Moving != s.Moving || was.Station != s.Station {
					changes++
					require.True(t, due <= 20+1e-6 || !steady, "due in %v s", due)
				}
			}
			require.Greater(t, changes, 20)
		})
	}
}
