package scenario_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

const millFile = "hard-water-at-the-mill-house.json"

func millJSON(tb testing.TB) []byte {
	tb.Helper()
	data, err := scenarios.FS.ReadFile(millFile)
	require.NoError(tb, err)
	return data
}

func TestEveryScenarioThatComesWithTheProgramIsSound(t *testing.T) {
	files, err := scenarios.FS.ReadDir(".")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(file.Name(), func(t *testing.T) {
			data, err := scenarios.FS.ReadFile(file.Name())
			require.NoError(t, err)
			f, err := scenario.Decode(file.Name(), data)
			require.NoError(t, err)
			require.Equal(t, file.Name(), f.ID+".json")
			_, err = plant.New(f.Config())
			require.NoError(t, err)
		})
	}
}

// changed returns the mill's file with one replacement made.
func changed(t *testing.T, old, with string) []byte {
	t.Helper()
	text := string(withoutLadder(millJSON(t)))
	require.Equal(t, 1, strings.Count(text, old), "replaces exactly one place: %s", old)
	return []byte(strings.Replace(text, old, with, 1))
}

// withoutLadder is a file's text as it was before there was a ladder.
func withoutLadder(data []byte) []byte {
	return regexp.MustCompile(`(?m)^ *"ladder": .*\n`).ReplaceAll(data, nil)
}

func TestFaultsOfAFileAreNamed(t *testing.T) {
	for _, row := range []struct {
		situation, old, with string
		wants                []string
	}{
		{"a word for a number", `"resin_ft3": 1.0`, `"resin_ft3": "one"`, []string{"unit.resin_ft3"}},
		{"below the range", `"resin_ft3": 1.0`, `"resin_ft3": -1`, []string{"unit.resin_ft3: -1 is outside"}},
		{"too great for a number", `"resin_ft3": 1.0`, `"resin_ft3": 1e400`, []string{"unit.resin_ft3"}},
		{"unknown complaint", `"says": ["hard"`, `"says": ["soggy"`, []string{`says[0]: no complaint is named "soggy"`}},
		{"unknown fault", `nozzle-plugged`, `gremlins`, []string{`faults[0].id: no fault is named "gremlins"`}},
		{"severity beyond all", `"severity": 0.96`, `"severity": 9`, []string{"faults[0].severity: 9 is outside 0 to 1"}},
		{"a field that no file has", `"seed": 1871`, `"seed": 1871, "colour": 3`, []string{"colour: unknown field"}},
		{"a field twice", `"seed": 1871`, `"seed": 1871, "seed": 2`, []string{"seed: given twice"}},
		{"a field missing", `"people": 4`, ``, []string{"household: people is missing"}},
		{"half people", `"people": 4`, `"people": 2.5`, []string{"household.people"}},
		{"no time of day", `"02:00"`, `"25:00"`, []string{"controller.start", "25:00"}},
		{"an o for a nought", `"02:00"`, `"o2:00"`, []string{"controller.start", "hh:mm"}},
		{"throat inside the nozzle", `"throat_mm": 1.7`, `"throat_mm": 0.8`, []string{"unit.throat_mm"}},
		{"residual above static", `"residual_psi": 47`, `"residual_psi": 90`, []string{"supply.residual_psi"}},
		{"float below the air check", `"float_in": 14`, `"float_in": 3.1, "x": 0`, []string{"unit.x"}},
		{"refill for half a day", `"salt_dose_lb": 6`, `"salt_dose_lb": 90`, []string{"unit.float_in"}},
		{"brine above the float", `"float_in": 14`, `"float_in": 4`, []string{"unit.float_in: 4 in is below the brine of one dose"}},
		{"a rung below the ladder", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 0, "group": "hard-again"}`, []string{"ladder.rung: 0 is outside 1 to 12"}},
		{"a rung above the ladder", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 13, "group": "hard-again"}`, []string{"ladder.rung: 13 is outside 1 to 12"}},
		{"half a rung", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 2.5, "group": "hard-again"}`, []string{"ladder.rung"}},
		{"a rung of no group", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 2}`, []string{"ladder: group is missing"}},
		{"a group without a name", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 2, "group": ""}`, []string{"ladder.group: empty"}},
		{"a group on no rung", `"seed": 1871`, `"seed": 1871, "ladder": {"group": "hard-again"}`, []string{"ladder: rung is missing"}},
		{"a field that no ladder has", `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 2, "group": "hard-again", "level": 3}`, []string{"ladder.level: unknown field"}},
		{"another format", `brinebench-scenario-1`, `brinebench-scenario-9`, []string{"format", "brinebench-scenario-9"}},
		{"null", `"household": {"people": 4}`, `"household": null`, []string{"household"}},
	} {
		t.Run(row.situation, func(t *testing.T) {
			_, err := scenario.Decode("broken.json", changed(t, row.old, row.with))
			for _, want := range append(row.wants, "broken.json: ") {
				require.ErrorContains(t, err, want)
			}
		})
	}
}

func TestACallMayHaveAPlaceOnTheLadder(t *testing.T) {
	f, err := scenario.Decode(millFile, withoutLadder(millJSON(t)))
	require.NoError(t, err)
	require.Equal(t, scenario.Ladder{}, f.Ladder, "files from before the ladder stay good")

	f, err = scenario.Decode(millFile, changed(t, `"seed": 1871`, `"seed": 1871, "ladder": {"rung": 12, "group": "hard-again"}`))
	require.NoError(t, err)
	require.Equal(t, scenario.Ladder{Rung: 12, Group: "hard-again"}, f.Ladder)
}

func TestAllFaultsOfAFileAreToldAtOnce(t *testing.T) {
	text := string(millJSON(t))
	text = strings.Replace(text, `"people": 4`, `"people": -4`, 1)
	text = strings.Replace(text, `"nozzle_mm": 0.9`, `"nozzle_mm": 90`, 1)
	text = strings.Replace(text, `nozzle-plugged`, `gremlins`, 1)
	_, err := scenario.Decode("broken.json", []byte(text))
	for _, want := range []string{"household.people", "unit.nozzle_mm", "faults[0].id"} {
		require.ErrorContains(t, err, want)
	}
	require.Len(t, strings.Split(err.Error(), "\n"), 3)
}

func TestTextThatIsNoScenarioIsRefused(t *testing.T) {
	whole := millJSON(t)
	for name, data := range map[string][]byte{
		"empty": nil, "list": []byte("[]"), "number": []byte("7"), "truncated": whole[:len(whole)/2],
		"more after the end": append(append([]byte{}, whole...), "{}"...),
		"too long":           make([]byte, scenario.MaxBytes+1),
	} {
		_, err := scenario.Decode("broken.json", data)
		require.ErrorContains(t, err, "broken.json", name)
	}
}

func TestConfigIsInSI(t *testing.T) {
	f, err := scenario.Decode(millFile, millJSON(t))
	require.NoError(t, err)
	c := f.Config()
	require.LessOrEqual(t, c.Control.RefillS, 4*3600.0)
	require.InDelta(t, 16*unit.GPG, c.Feed.Hardness(), 1e-12)
	require.InDelta(t, 0.0283168, float64(c.Bed.DepthM*c.Bed.AreaM2), 1e-6, "1 ft³")
	require.InDelta(t, 399896, c.SupplyPa, 1, "58 psi")
	require.InDelta(t, 0.0009, c.NozzleM, 1e-12)
	require.InDelta(t, 2*3.600, c.Control.StartS/1000, 1e-9, "02:00")
}
