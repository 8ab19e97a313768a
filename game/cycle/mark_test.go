package cycle

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

// exercise takes up the exercise of a kind on a position, and a way.
func exercise(t *testing.T, d *Drill, kind sim.ExerciseKind, stop, way string) {
	t.Helper()
	all := d.Unit().Exercises(kind)
	i := slices.IndexFunc(all, func(e sim.Exercise) bool { return e.Stop == stop && e.Way == way })
	require.GreaterOrEqual(t, i, 0, "%s %s %s", kind, stop, way)
	d.Begin(all[i])
}

func TestAPositionIsNamedOrNot(t *testing.T) {
	d := drill(t, "standard")
	exercise(t, d, sim.NamePosition, "backwash", "")
	require.Equal(t, 100.0, d.MarkName("backwash"))
	require.Zero(t, d.MarkName("brine"))
}

func TestASettingIsMarkedByWhatTheUnitDoes(t *testing.T) {
	d := drill(t, "standard")
	exercise(t, d, sim.SetSeats, "service", "")
	right := d.Unit().Right("service")
	m := d.MarkSeats(right)
	require.Equal(t, 100.0, m.Score)
	require.True(t, m.Own)
	right[sim.SeatPass] = true
	m = d.MarkSeats(right)
	require.Zero(t, m.Score)
	require.Equal(t, "hard-to-house", m.Found[0].ID)

	exercise(t, d, sim.SetSeats, "fast-rinse", "")
	other := d.Unit().Right("fast-rinse")
	other[sim.SeatBrine] = false
	other[sim.SeatMotive] = true // the injector runs along with it, its suction shut
	m = d.MarkSeats(other)
	require.Equal(t, 100.0, m.Score, "%+v", m.Found)
	require.False(t, m.Own)
}

func TestAWayIsMarkedAsFarAsItIsTheWaters(t *testing.T) {
	d := drill(t, "standard")
	exercise(t, d, sim.TracePath, "service", "house")
	right := d.MarkPath(nil).Right
	for _, row := range []struct {
		way   []sim.Path
		score float64
		agree int
	}{
		{right, 100, 8},
		{right[:4], 50, 4},
		{right[1:], 0, 0},
		{append(slices.Clone(right), sim.PathDrain), 88, 8},
		{nil, 0, 0},
	} {
		m := d.MarkPath(row.way)
		require.Equal(t, row.score, m.Score, "%v", row.way)
		require.Equal(t, row.agree, m.Agree)
	}
}

func TestAProgramLosesAQuarterForEachThingUndoneAndIsToldWhichFigure(t *testing.T) {
	own := sim.CycleOutcome{RegainedEq: 20, SaltKg: 2.7, WaterM3: 0.26, AwayS: 5200, ChlorideKgM3: 0.3, BrineKg: 2.7}
	for _, row := range []struct {
		name   string
		change func(o *sim.CycleOutcome)
		score  float64
		off    []string
	}{
		{"as good", func(*sim.CycleOutcome) {}, 100, nil},
		{"a little less", func(o *sim.CycleOutcome) { o.RegainedEq *= 0.97 }, 100, nil},
		{"too little brine or rinse", func(o *sim.CycleOutcome) { o.RegainedEq *= 0.9 }, 75, []string{"regained"}},
		{"no brine: a backwash alone", func(o *sim.CycleOutcome) { o.RegainedEq, o.SaltKg = 0.15*o.RegainedEq, 0 }, 0, []string{"regained"}},
		{"salt at the tap", func(o *sim.CycleOutcome) { o.ChlorideKgM3 = 2 }, 50, []string{"chloride"}},
		{"hard at first", func(o *sim.CycleOutcome) { o.FirstHardM3 = 0.02 }, 75, []string{"hard"}},
		{"too little refill", func(o *sim.CycleOutcome) { o.BrineKg *= 0.7 }, 75, []string{"brine"}},
		{"no refill", func(o *sim.CycleOutcome) { o.BrineKg = 0 }, 50, []string{"brine"}},
		{"resin gone", func(o *sim.CycleOutcome) { o.LostShare = 0.01 }, 75, []string{"lost"}},
		{"water wasted", func(o *sim.CycleOutcome) { o.WaterM3 *= 2 }, 75, []string{"water"}},
		{"hours away, water wasted", func(o *sim.CycleOutcome) { o.WaterM3, o.AwayS = 2*o.WaterM3, 2*o.AwayS }, 75, []string{"water", "time"}},
		{"nothing done", func(o *sim.CycleOutcome) { *o = sim.CycleOutcome{ChlorideKgM3: 3, WaterM3: 1} }, 0, []string{"regained", "water", "chloride", "brine"}},
	} {
		got := own
		row.change(&got)
		trial := &sim.ProgramTrial{Got: got, Own: own}
		require.Equal(t, row.score, MarkProgram(trial), row.name)
		require.Equal(t, row.off, Off(trial), row.name)
	}
}

// The unit's own drum is read off the chart alone, wherever it is cut open and
// whichever way it is laid out: that is what the exercise asks for.
func TestADrumWithoutNamesCanBeReadOffItsLobes(t *testing.T) {
	list, err := Benches(scenarios.Bench)
	require.NoError(t, err)
	for _, b := range list {
		d := drill(t, b.ID)
		for _, e := range d.Unit().Exercises(sim.ReadDrum) {
			d.Begin(e)
			require.Zero(t, d.Setup().Lobe, "the drawing shows none of it")
			drum := d.Drum()
			asked := 0
			var names []string
			var set sim.Seats
			for i, m := range drum.Marks {
				require.Greater(t, m.Deg, 5.0, e.ID())
				require.Less(t, m.Deg, 355.0, e.ID())
				require.Equal(t, string("ABCDEFG"[i]), m.Letter)
				require.Equal(t, d.Unit().Right(m.Stop), drum.Held(m.Deg), "%s %s", e.ID(), m.Letter)
				names = append(names, m.Stop)
				if m.Asked {
					asked++
					require.Equal(t, e.Stop, m.Stop)
					set = drum.Held(m.Deg)
				}
			}
			require.Equal(t, 1, asked)
			require.Equal(t, 100.0, d.MarkDrum(names, set).Score, e.ID())
			require.Equal(t, 50.0, d.MarkDrum(nil, set).Score, e.ID())
			names[0], names[1] = names[1], names[0]
			m := d.MarkDrum(names, sim.Seats{})
			require.Equal(t, len(names)-2, m.Right)
			require.Less(t, m.Score, 40.0)
			require.NotEmpty(t, m.Seats.Found, "all shut")
		}
	}
}

func TestDrumsAreLaidOutBothWays(t *testing.T) {
	d := drill(t, "standard")
	order := map[bool]int{}
	for _, e := range d.Unit().Exercises(sim.ReadDrum) {
		d.Begin(e)
		marks := d.Drum().Marks
		i := slices.IndexFunc(marks, func(m Mark) bool { return m.Stop == "backwash" })
		order[marks[(i+1)%len(marks)].Stop == "brine"]++
	}
	require.Equal(t, map[bool]int{true: 3, false: 2}, order)
}

func TestALaneIsCutIntoItsLobes(t *testing.T) {
	require.Equal(t, [][2]int{{0, 1}, {3, 5}}, Lifted([]float64{1, 0.4, 0, 0.6, 1, 0}))
	require.Empty(t, Lifted(nil))
}
