package control

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// world is what the outside does at a time, s since the start; MeterM3 is a flow, m³/s.
type world func(t float64) Inputs

func always(float64) Inputs { return powered }

// cut is a house whose power fails for a time.
func cut(fromS, toS float64) world {
	return func(t float64) Inputs { return Inputs{Plugged: true, Mains: t < fromS || t >= toS} }
}

// drawing is a house that draws so many gallons on each day, at an even flow from 7 to 19.
func drawing(gallons func(day int) float64) world {
	return func(t float64) Inputs {
		in := powered
		day := math.Floor(t / dayS)
		if hour := (t - day*dayS) / 3600; hour >= 7 && hour < 19 {
			in.MeterM3 = gallons(int(day)) * unit.USGallon / (12 * 3600)
		}
		return in
	}
}

func daily(gallons float64) world { return drawing(func(int) float64 { return gallons }) }

// run steps through untilS seconds of a world in steps of dtS.
func run(p *valve.Program, set *Settings, w *Wear, s *State, of world, untilS, dtS float64, each func(t float64)) {
	for n := range int(untilS / dtS) {
		in := of(float64(n) * dtS)
		in.MeterM3 *= dtS
		Step(p, set, w, s, in, dtS)
		each(float64(n+1) * dtS)
	}
}

// history returns the moments at which regenerations of a sound drive began and ended, s.
func history(set *Settings, w *Wear, s *State, of world, untilS float64) (began, ended []float64) {
	p := valve.Standard()
	was := s.Regenerating
	run(&p, set, w, s, of, untilS, 10, func(t float64) {
		switch {
		case s.Regenerating && !was:
			began = append(began, t-s.DrumDeg/p.DrumDegS)
		case !s.Regenerating && was:
			ended = append(ended, t-s.StationS)
		}
		was = s.Regenerating
	})
	return began, ended
}

// nights returns the days, by a true calendar, of moments that are all at startS.
func nights(t *testing.T, startS float64, moments []float64) []int {
	var days []int
	for _, at := range moments {
		day := math.Floor(at / dayS)
		require.InDelta(t, startS, at-day*dayS, 1e-6)
		days = append(days, int(day))
	}
	return days
}

// What is timed must not depend on how the time is cut into steps, whatever is
// set, happens or is broken.
func TestShortAndLongStepsGiveTheSameStates(t *testing.T) {
	night := Settings{Kind: Demand, StartS: 7200, RefillS: 300, HardnessGPG: 25, CapacityKgr: 10, Reserve: Learning, ReservePct: 20}
	atOnce := night
	atOnce.When = Immediate
	atOnce.OverrideDays = 3
	clock := Settings{EveryDays: 1, StartS: 7200, RefillS: 300}
	sensed := clock
	sensed.Sensed = true
	forgets := clock
	forgets.RunsWithoutS, forgets.ForgetsTime = 1234.5, true
	rows := []struct {
		name string
		set  Settings
		w    Wear
		of   world
	}{
		{"clock", clock, Wear{}, always},
		{"clock that loses a minute in an hour", clock, Wear{DriftSPerDay: -1440.7}, always},
		{"clock, power cut in a regeneration", clock, Wear{}, cut(8040, 12060)},
		{"clock that forgets, power cut in a regeneration", forgets, Wear{DriftSPerDay: 77.7}, cut(8040, 12060)},
		{"clock that forgets, short power cut over the start time", forgets, Wear{}, cut(7140, 7260)},
		{"demand at night, learning", night, Wear{}, daily(333)},
		{"demand at once", atOnce, Wear{}, daily(333)},
		{"demand at once, power cut in the day", atOnce, Wear{DriftSPerDay: 300}, func(t float64) Inputs {
			in := daily(333)(t)
			in.Mains = t < 30000 || t >= 39960
			return in
		}},
		{"sensed", sensed, Wear{}, always},
		{"sensed, motor dead", sensed, Wear{MotorDead: true}, always},
		{"sensed, sensor lost", sensed, Wear{SensorLost: true}, always},
		{"unsensed, gear stripped", clock, Wear{GearStripped: true}, always},
	}
	p := valve.Standard()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			const days, atS = 3, 1800
			trace := func(dtS float64) (states []State) {
				var s State
				run(&p, &row.set, &row.w, &s, row.of, days*dayS, dtS, func(t float64) {
					if math.Mod(t, atS) == 0 {
						states = append(states, s)
					}
				})
				return states
			}
			short, long := trace(0.25), trace(60)
			require.Len(t, long, days*dayS/atS)
			for i := range long {
				requireSame(t, &short[i], &long[i], fmt.Sprintf("after %d s", (i+1)*atS))
			}
		})
	}
}

// requireSame compares two states to round-off.
func requireSame(t *testing.T, a, b *State, at string) {
	x, y := *a, *b
	for _, pair := range [][2]*float64{
		{&x.ClockS, &y.ClockS},
		{&x.SpentS, &y.SpentS},
		{&x.DrumDeg, &y.DrumDeg},
		{&x.CountDeg, &y.CountDeg},
		{&x.StationS, &y.StationS},
		{&x.SeekS, &y.SeekS},
		{&x.UsedM3, &y.UsedM3},
		{&x.TodayM3, &y.TodayM3},
		{&x.MeterM3S, &y.MeterM3S},
	} {
		require.InDelta(t, *pair[0], *pair[1], 1e-5, at)
		*pair[0], *pair[1] = 0, 0
	}
	require.InDeltaSlice(t, x.WeekM3[:], y.WeekM3[:], 1e-9, at)
	x.WeekM3, y.WeekM3 = [7]float64{}, [7]float64{}
	require.Equal(t, x, y, at)
}

// A step can end a last bit short of an event, so that the sum of clock and step
// rounds to the event itself.
func TestNoStartTimeAndNoMidnightIsLostToRoundOff(t *testing.T) {
	p, set := fixture()
	for n := range 2000 {
		clockS := 7100 + float64(n)/21
		s := State{ClockS: clockS, DrumDeg: 0, Powered: true}
		if s.ClockS >= set.StartS {
			s.ClockS += 79190 // short of midnight
		}
		h := math.Min(dayS-s.ClockS, untilStart(set, &s))
		for range n % 4 {
			h = math.Nextafter(h, 0)
		}
		Step(p, set, &Wear{}, &s, powered, h)
		Step(p, set, &Wear{}, &s, powered, 1)
		if clockS < set.StartS {
			require.Equal(t, 1, s.Station, clockS)
		} else {
			require.Equal(t, 1, s.Day, clockS)
			require.Less(t, s.ClockS, 2.0)
		}
	}
}
