package signature_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
	"brinebench/sim/unit"
)

// TestTheTrueUnitLivesTheHistoryOfItsScenario compares the shadow of what is wrong
// with the unit of the call, as each of them is found.
func TestTheTrueUnitLivesTheHistoryOfItsScenario(t *testing.T) {
	const own = `{"id": "nozzle-plugged", "severity": 0.96}`
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(t, err)
	readings, apart := 0, 0
	for _, row := range []struct{ id, onset, cuts string }{
		{"nozzle-plugged", "growing", ""},
		{"motor-dead", "intermittent", ""},
		{"resin-lost", "growing", `{"day": 4, "after_hours": 15, "hours": 5}`},
		{"clock-wrong", "steady", `{"day": 9, "after_hours": 15, "hours": 5}, {"day": 10, "after_hours": 3, "hours": 1}`},
	} {
		x, ok := fault.Find(row.id)
		require.True(t, ok)
		severity := x.Severities[len(x.Severities)-1]
		text := strings.NewReplacer(own, `{"id": "`+row.id+`", "severity": `+fmt.Sprint(severity)+`, "onset": "`+row.onset+`"}`,
			`"call_at": "09:30"`, `"call_at": "09:30", "power_cuts": [`+row.cuts+`]`).Replace(string(data))
		f, err := scenario.Decode(mill, []byte(text))
		require.NoError(t, err)
		m, err := plant.New(f.Config())
		require.NoError(t, err)
		coarse := m.Coarse()
		past := f.Begin(coarse)
		for endS := float64(f.HistoryDays) * unit.Day; past.State.TimeS < endS; {
			past.Step(endS)
		}
		found := past.End()
		found.NoDraw = true

		shadow := signature.NewPast(f, m).Live(unitWith(t, m, row.id))
		require.Equal(t, found.Cond, shadow.Cond, row.id)
		require.False(t, shadow.PowerCut)
		require.Equal(t, found.Control.DaysSince, shadow.Control.DaysSince, row.id)
		require.InDelta(t, found.Control.ClockS, shadow.Control.ClockS, 1e-6, row.id)
		want, got := signature.Read(coarse, found), signature.Read(coarse, shadow)
		for i := range want {
			in := &instrument.All()[i]
			readings++
			if signature.Likelihood(in, want[i], 0, 0, got[i], got[i]) < 0.5 {
				apart++
				t.Logf("%s: %s: %v, shadow %v", row.id, in.ID, want[i], got[i])
			}
		}
	}
	require.LessOrEqual(t, apart, readings/100, "of %d readings", readings)
}

// unitWith is the worst unit of the grid with a fault.
func unitWith(t *testing.T, m *plant.Model, id string) (worst *signature.Unit) {
	for _, u := range signature.Units(m.Config()) {
		if signature.Causes()[u.Cause] == id {
			worst = &u
		}
	}
	require.NotNil(t, worst)
	return worst
}
