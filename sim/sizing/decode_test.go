package sizing_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/plant"
	"brinebench/sim/sizing"
)

func soundJob(tb testing.TB) string {
	data, err := os.ReadFile(refdata.Path("../../scenarios/sizing/four-at-20-gpg.json"))
	require.NoError(tb, err)
	return string(data)
}

const hardness = `{
      "value": 20,
      "unit": "gpg"
    }`

// What cannot be is refused at its field, and no more is said of it.
func TestBadJobsAreRefusedAtTheField(t *testing.T) {
	sound := soundJob(t)
	for _, row := range []struct{ situation, old, with, want string }{
		{"nobody", `"people": 4`, `"people": 0`, "job.json: people: 0 is outside 1 to 16"},
		{"half a person", `"people": 4`, `"people": 2.5`, "job.json: people: 2.5 is not a whole number in digits"},
		{"ten thousand grains", hardness, `{"value": 10000, "unit": "gpg"}`, "job.json: water.hardness.value: 10000 gpg is outside 1 to 100 gpg"},
		{"the same in degrees", hardness, `{"value": 9591, "unit": "dH"}`, "job.json: water.hardness.value: 9591 °dH is outside 0.9591 to 95.91 dH"},
		{"letters", hardness, `{"value": "twenty", "unit": "gpg"}`, "job.json: water.hardness.value: twenty is not a finite number"},
		{"empty", hardness, `{"value": "", "unit": "gpg"}`, "job.json: water.hardness.value:  is not a finite number"},
		{"nothing", hardness, `{}`, "job.json: water.hardness: value is missing"},
		{"null", hardness, `null`, "job.json: water.hardness: not an object"},
		{"no unit", hardness, `{"value": 20}`, "job.json: water.hardness: unit is missing"},
		{"a unit of another kind", hardness, `{"value": 20, "unit": "psi"}`, `job.json: water.hardness.unit: "psi" is none of`},
		{"two units", hardness, `{"value": 20, "unit": "gpg", "unit": "dH"}`, "job.json: water.hardness.unit: given twice"},
		{"two figures", hardness, `{"gpg": 20, "dH": 19}`, "job.json: water.hardness.gpg: unknown field"},
		{"a bare number", hardness, `20`, "job.json: water.hardness: not an object"},
		{"no fixture", `"toilet": 2,`, `"toilet": -2,`, "job.json: fixtures.toilet: -2 is outside 0 to 6"},
		{"an unknown wish", `"wishes": []`, `"wishes": ["gold"]`, `job.json: wishes[0]: "gold" is none of`},
		{"an unknown controller", `"demand"`, `"magic"`, `job.json: controller: "magic" is none of`},
		{"another format", `brinebench-job-1`, `brinebench-job-2`, "job.json: format: "},
		{"residual above static", `"value": 52`, `"value": 62`, "job.json: supply.residual: 62 psi is above the static pressure of 60 psi"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			require.Contains(t, sound, row.old)
			_, err := sizing.DecodeJob("job.json", []byte(strings.Replace(sound, row.old, row.with, 1)))
			require.ErrorContains(t, err, row.want)
		})
	}
	_, err := sizing.DecodeJob("job.json", []byte(strings.NewReplacer(`"people": 4`, `"people": 0`, hardness, `{"value": 0, "unit": "gpg"}`).Replace(sound)))
	require.Len(t, strings.Split(err.Error(), "\n"), 2, "all at once: %v", err)
	_, err = sizing.DecodeJob("job.json", make([]byte, sizing.MaxBytes+1))
	require.ErrorContains(t, err, "job.json: 65537 bytes")
}

func TestBadAnswersAreRefusedAtTheField(t *testing.T) {
	for _, row := range []struct{ figures, want string }{
		{`"salt_dose": {"value": -3, "unit": "lb"}`, "a.json: figures.salt_dose.value: -3 lb is outside 0.5 to 90 lb"},
		{`"salt_dose": {"value": 9, "unit": "gpm"}`, `a.json: figures.salt_dose.unit: "gpm" is none of`},
		{`"salt": {"value": 9, "unit": "lb"}`, "a.json: figures.salt: unknown field"},
		{`"set_hardness": {"value": 10000, "unit": "gpg"}`, "a.json: figures.set_hardness.value: 10000 gpg is outside 1 to 99 gpg"},
		{`"every_days": {"value": 4.5, "unit": "day"}`, "a.json: figures.every_days.value: 4.5 days: a controller takes whole days"},
		{`"fixture_units": {"value": 9, "unit": "gpg"}`, `a.json: figures.fixture_units.unit: "gpg" is not ""`},
		{`"nozzle": {"value": "", "unit": "mm"}`, "a.json: figures.nozzle.value:  is not a finite number"},
	} {
		_, err := sizing.DecodeAnswer("a.json", []byte(`{"format": "brinebench-answer-1", "figures": {`+row.figures+`}}`))
		require.ErrorContains(t, err, row.want)
	}
	_, err := sizing.DecodeAnswer("a.json", []byte(`{"format": "brinebench-answer-1", "tank": "tank-99-in", "program": "none"}`))
	require.Len(t, strings.Split(err.Error(), "\n"), 2, "%v", err)
}

// Hardness is to be converted: an answer in the sheet's own unit is refused, with whatever
// else is wrong, and one in any other is taken.
func TestHardnessCopiedFromTheSheetIsRefused(t *testing.T) {
	answer := func(value, unit, more string) []byte {
		return []byte(`{"format": "brinebench-answer-1", "figures": {"hardness": {"value": ` + value + `, "unit": "` + unit + `"}` + more + `}}`)
	}
	for _, row := range []struct{ sheet, own, want string }{
		{"four-at-20-gpg", "gpg", "a.json: figures.hardness.unit: gpg is the job sheet's own: convert it, as into mg/L as CaCO₃"},
		{"two-on-22-dH", "dH", "a.json: figures.hardness.unit: °dH is the job sheet's own: convert it, as into gpg"},
	} {
		j := named(t, row.sheet)
		for _, unit := range sizing.Hardness.Units(sizing.US) {
			_, err := j.DecodeAnswer("a.json", answer("20", unit, ""))
			if unit == row.own {
				require.EqualError(t, err, row.want)
			} else {
				require.NoError(t, err, unit)
			}
		}
		_, err := j.DecodeAnswer("a.json", answer("20", row.own, `, "salt_dose": {"value": -3, "unit": "lb"}`))
		require.ErrorContains(t, err, row.want)
		require.ErrorContains(t, err, "a.json: figures.salt_dose.value: -3 lb")
		_, err = j.DecodeAnswer("a.json", []byte(`{"format": "brinebench-answer-1", "figures": {"compensated_hardness": {"value": 20, "unit": "`+row.own+`"}}}`))
		require.NoError(t, err, "only what is converted")
	}
}

func TestATankBringsItsResinAndResinItsTank(t *testing.T) {
	s, err := sizing.DecodeAnswer("a", []byte(`{"format": "brinebench-answer-1", "tank": "tank-10-in"}`))
	require.NoError(t, err)
	require.Equal(t, "1.5 ft³", sizing.Bed.Text(s.Value[sizing.Resin], sizing.US))
	s, err = sizing.DecodeAnswer("a", []byte(`{"format": "brinebench-answer-1", "figures": {"resin": {"value": 57, "unit": "L"}}}`))
	require.NoError(t, err)
	require.Equal(t, "tank-12-in", s.Tank)
}

// What passes can be solved, and a plant can be made of it.
func FuzzDecodeJob(f *testing.F) {
	for _, file := range sheets(f) {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Add([]byte(`{"format": "brinebench-job-1", "water": {"hardness": {"value": 1e400}}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := sizing.DecodeJob("fuzz.json", data)
		if err != nil {
			require.ErrorContains(t, err, "fuzz.json")
			return
		}
		sol := sizing.Solve(j)
		_, err = plant.New(j.Config(&sol.Sheet))
		require.NoError(t, err)
		again, err := sizing.DecodeJob("again", j.JSON())
		require.NoError(t, err)
		require.Equal(t, j.JSON(), again.JSON())
	})
}

func FuzzDecodeAnswer(f *testing.F) {
	f.Add([]byte(`{"format": "brinebench-answer-1", "tank": "tank-8-in", "program": "counter-current", "figures": {"resin": {"value": 20, "unit": "ft3"}, "nozzle": {"value": 5, "unit": "mm"}, "throat": {"value": 0.6, "unit": "mm"}, "salt_dose": {"value": 90, "unit": "lb"}, "refill_time": {"value": 240, "unit": "min"}}}`))
	f.Add([]byte(`{"format": "brinebench-answer-1", "figures": {"resin": {"value": 0.3, "unit": "ft3"}, "daily_load": {"value": 1e7, "unit": "grain"}, "drain_control": {"value": 20, "unit": "gpm"}, "refill_control": {"value": 0.05, "unit": "gpm"}}}`))
	f.Add([]byte(`{"format": "brinebench-answer-1", "figures": {"hardness": {"value": 1000, "unit": "gpg"}, "set_reserve": {"value": 90, "unit": "%"}}}`))
	f.Add([]byte(`{"format": "brinebench-answer-1"`))
	demand, clock := sizing.Drawn(3), sizing.Drawn(2)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := sizing.DecodeAnswer("fuzz.json", data)
		if err != nil {
			require.ErrorContains(t, err, "fuzz.json")
			return
		}
		for _, j := range []*sizing.Job{demand, clock} {
			full := j.Completed(s)
			j.Faults(&full)
			_, err := plant.New(j.Config(&full))
			require.NoError(t, err)
		}
	})
}
