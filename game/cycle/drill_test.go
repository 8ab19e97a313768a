package cycle

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

func drill(t *testing.T, unit string) *Drill {
	t.Helper()
	list, err := Benches(scenarios.Bench)
	require.NoError(t, err)
	for _, b := range list {
		if b.ID == unit {
			c, err := b.Open()
			require.NoError(t, err)
			return New(c)
		}
	}
	require.FailNow(t, "no bench", unit)
	return nil
}

func TestEveryBenchOpensWithItsProgram(t *testing.T) {
	list, err := Benches(scenarios.Bench)
	require.NoError(t, err)
	var ids []string
	for _, b := range list {
		c, err := b.Open()
		require.NoError(t, err)
		require.Equal(t, b.ID, c.Program().ID)
		require.NotEmpty(t, b.Title)
		ids = append(ids, b.ID)
	}
	require.Equal(t, []string{"standard", "long-slow-rinse", "water-saving", "counter-current", "brine-first", "refill-before-rinse"}, ids)
}

func TestEveryExerciseIsMetBeforeOneComesAgainThatIsNotDue(t *testing.T) {
	d := drill(t, "standard")
	kinds := sim.ExerciseKinds()
	total := 0
	for _, k := range kinds {
		total += len(d.Unit().Exercises(k))
	}
	met, now := map[string]bool{}, int64(1_700_000_000)
	for range total {
		d.Next(kinds, now)
		e := d.Exercise()
		require.False(t, met[e.ID()], e.ID())
		met[e.ID()] = true
		d.Answer(100, now, 8)
		now += 10
	}
	d.Next(kinds, now)
	require.True(t, met[func() string { e := d.Exercise(); return e.ID() }()])

	wrong := d.Unit().Exercises(sim.SetSeats)[2]
	d.Begin(wrong)
	d.Answer(0, now, 8)
	d.Next(kinds, now+4*86400)
	require.NotEqual(t, wrong, d.Exercise(), "not at once")
	d.Next(kinds, now+4*86400)
	require.Equal(t, wrong, d.Exercise(), "what went wrong is due first")
}

func TestThePictureDoesNotGiveTheAnswerAway(t *testing.T) {
	d := drill(t, "standard")
	own := d.Unit().Setup()
	standing := func() string { return own.Stations[d.View().Controller.Station].ID }
	hidden := func() bool {
		return !slices.ContainsFunc(d.Setup().Stations, func(s sim.Station) bool { return s.Name != "?" })
	}
	for kind, row := range map[sim.ExerciseKind]struct{ stands, hidden, lobes bool }{
		sim.NamePosition: {true, true, true},
		sim.SetSeats:     {true, false, false},
		sim.TracePath:    {true, false, true},
		sim.ReadLobes:    {false, true, true},
		sim.ReadDrum:     {false, true, false},
		sim.BuildProgram: {false, true, false},
	} {
		for _, e := range d.Unit().Exercises(kind) {
			d.Begin(e)
			if row.stands {
				require.Equal(t, e.Stop, standing(), e.ID())
			} else {
				require.Equal(t, "service", standing(), e.ID())
			}
			require.Equal(t, row.hidden, hidden(), e.ID())
			require.Equal(t, row.lobes, d.Setup().Lobe != [sim.NumSeats][180]float64{}, e.ID())
			d.Answer(100, 1_700_000_000, 3)
			require.Equal(t, own, d.Setup(), "afterwards all is told")
		}
	}
	d.Begin(d.Unit().Exercises(sim.SetSeats)[1])
	require.Zero(t, d.View().SeatLift, "it begins with all seats shut")
}

// Where a drum begins, and at which angle it stands, would tell its position.
func TestADrumToBeNamedIsTurnedTillItsPositionIsHalfwayRound(t *testing.T) {
	d := drill(t, "standard")
	own := d.Unit().Setup()
	for _, e := range d.Unit().Exercises(sim.NamePosition) {
		d.Begin(e)
		d.Frame(0.1)
		seen, deg := d.Setup(), d.View().DrumDeg
		require.InDelta(t, 180, deg, 60, e.Stop)
		i := slices.IndexFunc(own.Stations, func(s sim.Station) bool { return s.ID == e.Stop })
		require.InDelta(t, deg, seen.Stations[i].AngleDeg, 1, e.Stop)
		drum := Drum{Lobe: seen.Lobe}
		require.Equal(t, d.Unit().Right(e.Stop), drum.Held(deg), "its lobes are turned with it")
		d.Answer(100, 1_700_000_000, 3)
		require.InDelta(t, own.Stations[i].AngleDeg, d.View().DrumDeg, 1)
	}
}

func TestAnAnswerIsKeptThoughThePersonHasMovedOn(t *testing.T) {
	d := drill(t, "standard")
	program := d.Unit().Exercises(sim.BuildProgram)[0]
	d.Begin(program)
	d.Begin(d.Unit().Exercises(sim.NamePosition)[0])
	d.Enter(program, 75, 1_700_000_000, 40)
	require.False(t, d.Answered(), "the present one is still open")
	plays := d.Progress.Plays
	require.Len(t, plays, 1)
	require.Equal(t, program.ID(), plays[0].Call)
	require.InDelta(t, 75, plays[0].Score, 1e-12)
}

// TestAnAnswerPutsDiscsAndDrumWhereTheyBelong: what was set wrong is no longer on the picture
// once it is told what is right.
func TestAnAnswerPutsDiscsAndDrumWhereTheyBelong(t *testing.T) {
	list, err := Benches(scenarios.Bench)
	require.NoError(t, err)
	d := drill(t, list[0].ID)
	for _, kind := range []sim.ExerciseKind{sim.SetSeats, sim.ReadDrum, sim.ReadLobes} {
		for _, e := range d.Unit().Exercises(kind) {
			d.Begin(e)
			if kind != sim.ReadLobes {
				d.Unit().Hold(sim.Seats{sim.SeatUpflow: true})
			}
			d.Frame(0.25)
			d.Answer(0, 0, 1)
			for seat, open := range d.Unit().Right(e.Stop) {
				require.Equal(t, open, d.View().SeatLift[seat] > 0.5, "%s: seat %v", e.ID(), seat)
			}
			require.Equal(t, e.Stop, d.Setup().Stations[d.View().Controller.Station].ID)
		}
	}
}

func TestNoProgramIsBuiltAgainstTheClock(t *testing.T) {
	require.Equal(t, []sim.ExerciseKind{sim.NamePosition}, Quick([]sim.ExerciseKind{sim.NamePosition}))
	require.NotContains(t, Quick(sim.ExerciseKinds()), sim.BuildProgram)
	require.Len(t, Quick([]sim.ExerciseKind{sim.BuildProgram}), len(sim.ExerciseKinds())-1)
}
