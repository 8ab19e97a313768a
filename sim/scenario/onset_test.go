package scenario_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/valve"
)

// mill decodes the first scenario with some of its text replaced.
func mill(t *testing.T, changes ...string) (*scenario.File, error) {
	t.Helper()
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	text := strings.NewReplacer(changes...).Replace(string(data))
	return scenario.Decode("mill.json", []byte(text))
}

const theFault = `{"id": "nozzle-plugged", "severity": 0.96}`

func TestFaultsComeAboutAsTheirOnsetSays(t *testing.T) {
	steady, err := mill(t)
	require.NoError(t, err)
	require.Equal(t, steady.ConditionOn(0), steady.Condition(), "steady: there from the first day")

	growing, err := mill(t, theFault, `{"id": "nozzle-plugged", "severity": 0.96, "onset": "growing"}`)
	require.NoError(t, err)
	last := 1.0
	for day := range growing.HistoryDays + 1 {
		open := growing.ConditionOn(day).NozzleOpen
		require.Less(t, open, last, "day %d", day)
		last = open
	}
	require.Equal(t, steady.Condition(), growing.Condition())

	on, off := 0, 0
	wavering, err := mill(t, theFault, `{"id": "nozzle-plugged", "severity": 0.96, "onset": "intermittent"}`)
	require.NoError(t, err)
	for day := range wavering.HistoryDays {
		if wavering.ConditionOn(day) == plant.Healthy() {
			off++
		} else {
			on++
		}
	}
	require.Positive(t, on)
	require.Positive(t, off)
	require.Equal(t, steady.Condition(), wavering.Condition(), "there at the call")
}

func TestPowerGoesAndComesBack(t *testing.T) {
	f, err := mill(t, `"call_at": "09:30"`, `"call_at": "09:30", "power_cuts": [{"day": 2, "after_hours": 6, "hours": 3}]`)
	require.NoError(t, err)
	at := float64(2*86400 + 6*3600)
	for _, row := range []struct {
		at, forS float64
		on       bool
	}{{0, at, true}, {at - 1, 1, true}, {at, 3 * 3600, false}, {at + 3600, 2 * 3600, false}} {
		on, forS := f.Powered(row.at)
		require.Equal(t, row.on, on)
		require.Equal(t, row.forS, forS)
	}
	on, _ := f.Powered(at + 3*3600)
	require.True(t, on)
}

func TestASetOfPartsFillsInWhatAFileLeavesOut(t *testing.T) {
	f, err := scenario.Decode("set.json", []byte(setFile(`"unit": {"set": "tank-12-in"}`)))
	require.NoError(t, err)
	require.Equal(t, 2.0, f.Unit.ResinFt3)
	require.Equal(t, 3.9, f.Unit.DrainControlGPM)
	_, err = plant.New(f.Config())
	require.NoError(t, err)

	f, err = scenario.Decode("set.json", []byte(setFile(`"unit": {"set": "tank-12-in", "nozzle_mm": 1.0}`)))
	require.NoError(t, err)
	require.Equal(t, 1.0, f.Unit.NozzleMM, "what the file says holds")

	_, err = scenario.Decode("set.json", []byte(setFile(`"unit": {"resin_ft3": 1}`)))
	require.ErrorContains(t, err, "unit: nozzle_mm is missing")
	_, err = scenario.Decode("set.json", []byte(setFile(`"unit": {"set": "tank-99-in"}`)))
	require.ErrorContains(t, err, "unit.set")
}

func TestEveryProgramCanBeAskedFor(t *testing.T) {
	for _, id := range valve.ProgramIDs() {
		f, err := scenario.Decode("set.json", []byte(setFile(`"unit": {"set": "tank-9-in", "salt_dose_lb": 5, "program": "`+id+`"}`)))
		require.NoError(t, err)
		require.Equal(t, id, f.Config().Program.ID)
		_, err = plant.New(f.Config())
		require.NoError(t, err)
	}
}

func setFile(unit string) string {
	return `{"format": "brinebench-scenario-1", "id": "x", "title": "x", "customer": "x", "complaint": "x", "house": "x", "notes": [], "seed": 1,
	"water": {"hardness_gpg": 16, "calcium_share": 0.68, "sodium_mg_L": 14, "potassium_mg_L": 2, "temperature_C": 12},
	"supply": {"static_psi": 58, "residual_psi": 47, "residual_at_gpm": 10}, "household": {"people": 4}, ` + unit + `,
	"controller": {"kind": "clock", "start": "02:00", "weekdays": [1, 4]},
	"history": {"days": 3, "days_since_regeneration": 0, "call_at": "09:30"}, "faults": []}`
}

func TestAControllerHasTheSettingsOfItsKind(t *testing.T) {
	const clock = `"controller": {"kind": "clock", "every_days": 4, "start": "02:00"}`
	for _, row := range []struct{ controller, want string }{
		{`"kind": "clock", "start": "02:00"`, "either every_days or weekdays"},
		{`"kind": "clock", "start": "02:00", "every_days": 3, "weekdays": [2]`, "either every_days or weekdays"},
		{`"kind": "clock", "start": "02:00", "every_days": 3, "hardness_gpg": 20`, "a clock has no hardness_gpg"},
		{`"kind": "demand", "start": "02:00", "hardness_gpg": 20`, "capacity_kgr: is missing"},
		{`"kind": "demand", "start": "02:00", "hardness_gpg": 100, "capacity_kgr": 20`, "100 is outside 1 to 99"},
		{`"kind": "demand", "start": "02:00", "hardness_gpg": 20, "capacity_kgr": 20, "every_days": 2`, "has no every_days"},
		{`"kind": "demand", "start": "02:00", "hardness_gpg": 20, "capacity_kgr": 20, "when": "soon"`, "controller.when"},
		{`"kind": "clock", "start": "02:00", "weekdays": [7]`, "7 is outside 0 to 6"},
	} {
		_, err := mill(t, clock, `"controller": {`+row.controller+`}`)
		require.ErrorContains(t, err, row.want, row.controller)
	}
	f, err := mill(t, clock, `"controller": {"kind": "demand", "start": "01:30", "hardness_gpg": 20, "capacity_kgr": 20, "reserve": "learning", "when": "at-night", "sensed": 1}`)
	require.NoError(t, err)
	_, err = plant.New(f.Config())
	require.NoError(t, err)
}

func TestWhateverWereWrongWouldHaveComeAsTheTroubleCame(t *testing.T) {
	days := func(f *scenario.File, id string) (course []float64) {
		x, ok := fault.Find(id)
		require.True(t, ok)
		for day := range f.HistoryDays + 1 {
			course = append(course, f.CourseOf(x, day))
		}
		return course
	}
	with := func(onset string) *scenario.File {
		f, err := mill(t, theFault, `{"id": "nozzle-plugged", "severity": 0.96, "onset": "`+onset+`"}, {"id": "bypass-leak", "severity": 0.5}`)
		require.NoError(t, err)
		return f
	}
	steady := make([]float64, 12)
	for i := range steady {
		steady[i] = 1
	}
	sound, err := mill(t, theFault, "")
	require.NoError(t, err)
	require.Equal(t, steady, days(sound, "motor-dead"))

	growing, wavering := with("growing"), with("intermittent")
	for _, f := range []*scenario.File{growing, wavering} {
		own := days(f, "nozzle-plugged")
		require.NotEqual(t, steady, own)
		require.Equal(t, own, days(f, "motor-dead"), "on the same days")
		require.Equal(t, steady, days(f, "bypass-leak"), "a second fault by its own onset")
		x, _ := fault.Find("nozzle-plugged")
		for day, share := range own {
			c := f.ConditionOn(day)
			require.InDelta(t, 0.96*share, x.Severity(&c), 1e-12)
		}
	}
	require.Equal(t, days(growing, "nozzle-plugged"), days(growing, "resin-lost"))
	require.Equal(t, steady, days(wavering, "resin-lost"), "resin that is gone does not come back")
}

func TestAHistoryBreaksWherePowerOrFaultsChange(t *testing.T) {
	cuts := `"call_at": "09:30", "power_cuts": [{"day": 2, "after_hours": 6, "hours": 3}, {"day": 10, "after_hours": 20, "hours": 9}]`
	f, err := mill(t, `"call_at": "09:30"`, cuts)
	require.NoError(t, err)
	const day, hour = 86400.0, 3600.0
	require.Equal(t, []float64{2*day + 6*hour, 2*day + 9*hour, 10*day + 20*hour}, f.Breaks(), "the last cut outlasts the history")
	f, err = mill(t, theFault, `{"id": "nozzle-plugged", "severity": 0.96, "onset": "growing"}`)
	require.NoError(t, err)
	require.Len(t, f.Breaks(), 10, "every day but the first begins with one")
}
