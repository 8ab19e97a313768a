package sim_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

func openCycle(t *testing.T, file string) *sim.Cycle {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	c, err := sim.OpenCycle(file, data)
	require.NoError(t, err)
	return c
}

func TestACycleShowsEveryPositionAndWhatTheSeatsAreHeldIn(t *testing.T) {
	for _, file := range []string{"../testdata/signatures/frost.json", "../testdata/signatures/counter-current.json"} {
		c := openCycle(t, file)
		var v sim.View
		for i, st := range c.Setup().Stations {
			c.Show(st.ID)
			c.View(&v)
			require.Equal(t, i, v.Controller.Station)
			for seat, open := range c.Right(st.ID) {
				require.InDelta(t, map[bool]float64{true: 1}[open], v.SeatLift[seat], 1e-9, "%s: %v", st.ID, valve.Seat(seat))
			}
			require.NotEmpty(t, c.Trace(st.ID, "house"))
		}
		c.Show("service")
		c.Run(5)
		c.View(&v)
		require.Greater(t, v.Paths[valve.Outlet].FlowM3S, 0.5*unit.GPM, "a bath tap runs")
		c.Hold(sim.Seats{})
		c.Run(5)
		c.View(&v)
		require.Less(t, v.Paths[valve.Outlet].FlowM3S, 0.05*unit.GPM, "all shut")
		c.Show("service")
		c.View(&v)
		require.InDelta(t, 1, v.SeatLift[valve.Outlet], 1e-9, "as found")
	}
}

func TestACycleAnswersSeatsAndPrograms(t *testing.T) {
	c := openCycle(t, "../testdata/signatures/frost.json")
	set := c.Right("service")
	set[valve.Pass] = true
	right, got, found := c.TrySeats("service", set)
	require.Less(t, right.HardMolM3, unit.GPG)
	require.Greater(t, got.HardMolM3, unit.GPG)
	require.Equal(t, "hard-to-house", found[0].ID)
	_, _, found = c.TrySeats("service", c.Right("service"))
	require.Empty(t, found)

	steps := []sim.ProgramStep{{Stop: "backwash", Seconds: 600}, {Stop: "brine", Seconds: 900}, {Stop: "fast-rinse", Seconds: 600}, {Stop: "refill"}}
	packed, err := c.PackProgram(steps)
	require.NoError(t, err)
	var told []float64
	trial, err := sim.TryPackedProgram(packed, func(done float64) { told = append(told, done) })
	require.NoError(t, err)
	require.Less(t, trial.Got.RegainedEq, trial.Own.RegainedEq)
	require.IsIncreasing(t, told)
	require.InDelta(t, 1, told[len(told)-1], 1e-12)

	_, err = c.PackProgram([]sim.ProgramStep{{Stop: "soak"}, {Stop: "brine", Seconds: -1}})
	require.ErrorContains(t, err, "steps[0].stop")
	require.ErrorContains(t, err, "steps[1].seconds")
	for _, bad := range []string{"", "{}", `{"unit": {"id": "x"}, "steps": []}`} {
		_, err = sim.TryPackedProgram([]byte(bad), nil)
		require.Error(t, err, bad)
	}
}
