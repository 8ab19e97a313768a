package control

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/valve"
)

var start = Inputs{Plugged: true, Mains: true, StartNow: true}

// An unsensed controller goes by the time that a travel takes: it runs through
// the program and believes that all is well.
func TestUnsensedDriveThatDoesNotMoveIsNotNoticed(t *testing.T) {
	rows := []struct {
		name  string
		w     Wear
		hears bool
	}{
		{"motor dead", Wear{MotorDead: true}, false},
		{"gear stripped", Wear{GearStripped: true}, true},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			p, set := fixture()
			s := State{ClockS: noonS}
			Step(p, set, &row.w, &s, start, 12)
			require.Equal(t, row.hears, MotorTurns(&row.w, &s))
			var seen []int
			for range 522 {
				if !s.Moving {
					seen = append(seen, s.Station)
				}
				require.Zero(t, s.DrumDeg)
				Step(p, set, &row.w, &s, powered, 10)
			}
			require.ElementsMatch(t, []int{1, 2, 3, 4, 0}, distinct(seen))
			require.False(t, s.Regenerating || s.Moving || s.Alarm)
			require.InDelta(t, noonS+5232, s.ClockS, 1e-9, "the clock goes on")
		})
	}
}

func distinct(xs []int) []int {
	var out []int
	for i, x := range xs {
		if i == 0 || x != xs[i-1] {
			out = append(out, x)
		}
	}
	return out
}

// A motor that dies in brine draw and is replaced leaves an unsensed controller
// two stops out of step, until somebody times it anew.
func TestUnsensedStaysOutOfStepUntilTimedAnew(t *testing.T) {
	p, set := fixture()
	s := State{ClockS: noonS}
	Step(p, set, &Wear{}, &s, start, 24+600+24+60)
	require.Equal(t, 2, StopAt(p, s.DrumDeg, 1))
	Step(p, set, &Wear{MotorDead: true}, &s, powered, 5220)
	require.Equal(t, 0, s.Station)
	require.Equal(t, 144.0, s.DrumDeg)

	press := Inputs{Plugged: true, Mains: true, AdvanceNow: true}
	for _, want := range [][2]int{{1, 3}, {2, 4}, {3, 0}, {4, 1}, {0, 2}} {
		Step(p, set, &Wear{}, &s, press, 24)
		require.Equal(t, want, [2]int{s.Station, StopAt(p, s.DrumDeg, 1e-6)}, "believed, true")
	}
	s.Skip = 5
	Step(p, set, &Wear{}, &s, Inputs{Home: true}, 1)
	require.Equal(t, State{ClockS: s.ClockS, Skip: 5}, s)
	Step(p, set, &Wear{}, &s, press, 24)
	require.Equal(t, 72.0, s.DrumDeg)
}

func TestHomeWorksFromAnywhere(t *testing.T) {
	p, set := fixture()
	for _, sensed := range []bool{false, true} {
		set.Sensed = sensed
		for _, s := range []State{
			{Station: 2, DrumDeg: 100, CountDeg: 100, Moving: true, Regenerating: true, SeekS: 50},
			{Station: 3, DrumDeg: 216, CountDeg: 216, StationS: 30, Regenerating: true},
			{Station: 1, DrumDeg: 50, Alarm: true},
			{DrumDeg: 144},
		} {
			s.ClockS, s.UsedM3 = noonS, 1
			Step(p, set, &Wear{MotorDead: true}, &s, Inputs{Home: true}, 5)
			require.Equal(t, State{ClockS: noonS, UsedM3: 1}, s)
		}
	}
}

// A sensed controller that does not find its stop in three times the time it
// should take, 72 s, gives up. Common practice, no source for the figure.
func TestSensedControllerGivesUpAndRaisesTheAlarm(t *testing.T) {
	rows := []struct {
		name    string
		w       Wear
		fromS   float64 // since the start of a regeneration, when it breaks
		station int     // that it looked for
		deg     float64 // where the drum is left
	}{
		{"motor dead in service", Wear{MotorDead: true}, 0, 1, 0},
		{"gear stripped in service", Wear{GearStripped: true}, 0, 1, 0},
		{"motor dead on the way", Wear{MotorDead: true}, 12, 1, 36},
		{"motor dead in brine draw", Wear{MotorDead: true}, 700, 3, 144},
		{"sensor lost in service: three stops on", Wear{SensorLost: true}, 0, 1, 216},
		{"sensor lost in brine draw: three stops on, at service", Wear{SensorLost: true}, 700, 3, 0},
		{"sensor lost and motor dead", Wear{SensorLost: true, MotorDead: true}, 0, 1, 0},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			p, set := fixture()
			set.Sensed, set.EveryDays = true, 1
			s := State{ClockS: noonS}
			if row.fromS > 0 {
				Step(p, set, &Wear{}, &s, start, row.fromS)
			} else {
				Step(p, set, &row.w, &s, start, 71.9)
				require.True(t, s.Moving && !s.Alarm)
			}
			Step(p, set, &row.w, &s, powered, 2*3600)
			s.ClockS = 0
			alarm := State{
				DrumDeg: s.DrumDeg, CountDeg: s.CountDeg, Station: row.station, Alarm: true, Powered: true,
			}
			require.Equal(t, alarm, s)
			require.InDelta(t, 0, math.Remainder(row.deg-s.DrumDeg, 360), 1e-9)
			require.Equal(t, -1, DaysToRegen(set, &s))
			require.True(t, math.IsInf(NextChange(p, set, &row.w, &s), 1))
			require.Zero(t, Remaining(p, set, &s))

			// Neither time nor repair starts it again.
			Step(p, set, &Wear{}, &s, powered, 10*dayS)
			alarm.Day, alarm.DaysSince = 10, 10
			require.Equal(t, alarm, s)
		})
	}
}

func TestAlarmEndsByButtonOrPower(t *testing.T) {
	advance := Inputs{Plugged: true, Mains: true, AdvanceNow: true}
	rows := []struct {
		name string
		in   []Inputs
	}{
		{"start button", []Inputs{start}},
		{"advance button", []Inputs{advance}},
		{"plug out and in", []Inputs{{Mains: true}, powered}},
		{"power cut", []Inputs{{Plugged: true}, powered}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			p, set := fixture()
			set.Sensed = true
			stuck := State{ClockS: noonS, DrumDeg: 150, CountDeg: 144, Station: 3, Alarm: true, DaysSince: 2, Skip: 1, Powered: true}

			s := stuck // put right before: it drives home, 210° at 3°/s
			for _, in := range row.in {
				Step(p, set, &Wear{}, &s, in, 1)
			}
			require.Equal(t, 0, s.Station)
			Step(p, set, &Wear{}, &s, powered, 68.9)
			require.True(t, s.Moving && s.Regenerating)
			Step(p, set, &Wear{}, &s, powered, 0.2)
			require.InDelta(t, 0.1, s.StationS, 1e-9)
			s.StationS, s.ClockS = 0, 0
			require.Equal(t, State{DaysSince: 2, Skip: 1, Powered: true}, s)

			s = stuck // not put right: it looks for three turns and gives up again
			for _, in := range row.in {
				Step(p, set, &Wear{GearStripped: true}, &s, in, 1)
			}
			Step(p, set, &Wear{GearStripped: true}, &s, powered, 358)
			require.True(t, s.Moving && !s.Alarm)
			Step(p, set, &Wear{GearStripped: true}, &s, powered, 2)
			require.True(t, s.Alarm && !s.Moving && !s.Regenerating)
			require.Equal(t, 150.0, s.DrumDeg)

			s = stuck // still dead, but found at home: in service, until the next start
			s.DrumDeg = 0
			for _, in := range row.in {
				Step(p, set, &Wear{MotorDead: true}, &s, in, 1)
			}
			require.False(t, s.Alarm || s.Moving || s.Regenerating)
			Step(p, set, &Wear{MotorDead: true}, &s, start, 100)
			require.True(t, s.Alarm)
		})
	}
}

func TestSensedDriveThatIsPutRightInTimeFindsItsStop(t *testing.T) {
	for _, w := range []Wear{{MotorDead: true}, {GearStripped: true}} {
		p, set := fixture()
		set.Sensed = true
		s := State{ClockS: noonS}
		Step(p, set, &w, &s, start, 40)
		Step(p, set, &Wear{}, &s, powered, 24.5)
		require.Equal(t, 72.0, s.DrumDeg)
		require.InDelta(t, 0.5, s.StationS, 1e-9)
	}
}

// A drum that slipped on its shaft by 30° stays so for a controller that counts;
// one that senses finds the next stop.
func TestSlippedDrum(t *testing.T) {
	for _, sensed := range []bool{false, true} {
		for _, slip := range []float64{-30, 30} {
			p, set := fixture()
			set.Sensed = sensed
			s := State{ClockS: noonS, DrumDeg: wrap(slip)}
			Step(p, set, &Wear{}, &s, start, 60)
			if sensed {
				require.Equal(t, 72.0, s.DrumDeg)
				require.InDelta(t, 60-(72-slip)/3, s.StationS, 1e-9)
				continue
			}
			require.InDelta(t, 72+slip, s.DrumDeg, 1e-9)
			Step(p, set, &Wear{}, &s, powered, 2*3600)
			require.False(t, s.Regenerating)
			require.InDelta(t, wrap(slip), s.DrumDeg, 1e-9)
		}
	}
}

func TestASoundSensedDriveDoesAsAnUnsensedOne(t *testing.T) {
	p, set := fixture()
	sensing := *set
	sensing.Sensed = true
	var a, b State
	for n := range 8 * dayS / 7 {
		Step(p, set, &Wear{SensorLost: true}, &a, powered, 7) // which an unsensed one does not notice
		Step(p, &sensing, &Wear{}, &b, powered, 7)
		x, y := a, b
		x.CountDeg, y.CountDeg, y.SeekS = 0, 0, 0
		require.InDelta(t, x.DrumDeg, y.DrumDeg, 1e-9)
		x.DrumDeg, y.DrumDeg = 0, 0
		require.Equal(t, x, y, "step %d", n)
	}
	require.Equal(t, 1, a.DaysSince)
}

func TestStopAtFindsTheNearestStop(t *testing.T) {
	p := valve.Standard()
	rows := []struct {
		deg, tolDeg float64
		want        int
	}{
		{0, 0, 0},
		{359.5, 1, 0},
		{0.5, 1, 0},
		{358.5, 1, -1},
		{144, 0, 2},
		{146, 5, 2},
		{180, 5, -1},
		{185, 60, 3},
		{325, 36, 0},
		{323, 40, 4},
	}
	for _, row := range rows {
		got := StopAt(&p, row.deg, row.tolDeg)
		require.Equal(t, row.want, got, "%v ± %v", row.deg, row.tolDeg)
	}
}
