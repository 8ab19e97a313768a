package headless

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
)

const (
	root = "../../../../"
	mill = root + "scenarios/hard-water-at-the-mill-house.json"
)

func lived(t *testing.T, args ...string) (l life) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Plant(append([]string{mill, "--days", "12"}, args...), &out))
	require.NoError(t, json.Unmarshal(out.Bytes(), &l))
	for _, e := range []float64{l.Ledger.Water, l.Ledger.TankWater, l.Ledger.Salt, l.Ledger.Na, l.Ledger.K, l.Ledger.Ca, l.Ledger.Mg, l.Ledger.Fe} {
		require.LessOrEqual(t, math.Abs(e), 1e-9, "the books close")
	}
	require.Zero(t, l.Unsolved)
	require.Len(t, l.Cycles, 3)
	require.Len(t, l.Service, 4)
	return l
}

func at(t *testing.T, c cycle, id string) station {
	t.Helper()
	for _, s := range c.Stations {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no station %q in %+v", id, c)
	return station{}
}

func TestUnitsDifferAsATechnicianExpects(t *testing.T) {
	healthy := lived(t, "--fault", "none")
	nozzle := lived(t, "--fault", "nozzle-plugged=0.96")
	drain := lived(t, "--fault", "drain-line-blocked=0.99")
	bridge := lived(t, "--fault", "salt-bridge=1")

	last := healthy.Cycles[2]
	require.InDelta(t, 2.72, last.SaltKg, 0.3, "6 lb of salt a regeneration")
	require.InDelta(t, 7.57, last.RefilledL, 0.4, "2 gal of refill water")
	require.InDelta(t, 10, at(t, last, "backwash").Minutes, 0.2)
	require.Less(t, healthy.Totals.HardnessMean, 0.5, "soft water")

	require.Zero(t, nozzle.Totals.DrawnL, "a plugged nozzle draws nothing")
	require.InDelta(t, 0, nozzle.Totals.SaltKg, 0.05, "and uses no salt")
	require.Greater(t, nozzle.Service[3].HardnessMean, 14.0)
	require.InDelta(t, at(t, last, "backwash").DrainGPM, at(t, nozzle.Cycles[2], "backwash").DrainGPM, 0.01)

	require.Less(t, at(t, drain.Cycles[2], "backwash").DrainGPM, 0.5, "a blocked drain hardly backwashes")
	require.Greater(t, at(t, drain.Cycles[2], "brine").BedTopPSI, 10.0, "and stands under pressure in draw")
	require.Less(t, drain.Cycles[0].RefilledL, 1.0, "water has run backwards into the tank till the float shut")

	require.Greater(t, bridge.Totals.DrawnL, 0.6*healthy.Totals.DrawnL, "under a bridge the unit draws")
	require.Less(t, bridge.Cycles[2].SaltKg, 0.5*last.SaltKg, "but weak brine")
	require.Greater(t, bridge.Service[3].HardnessMean, 3*healthy.Service[3].HardnessMean)

	hashes := map[string]bool{}
	for _, l := range []life{healthy, nozzle, drain, bridge} {
		hashes[l.Hash] = true
	}
	require.Len(t, hashes, 4)
	require.Equal(t, healthy.Hash, lived(t, "--fault", "none").Hash, "the same again")
}

func TestPlantRefusesBadInput(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	for _, row := range []struct {
		situation string
		args      []string
		wants     []string
	}{
		{"no file", nil, []string{"no scenario file"}},
		{"missing file", []string{filepath.Join(dir, "none.json")}, []string{"none.json"}},
		{"broken file", []string{file("broken.json", `{"seed": "x"}`)}, []string{"broken.json", "seed", "unit is missing"}},
		{"unknown fault", []string{mill, "--fault", "gremlins=1"}, []string{"fault", "gremlins"}},
		{"no severity", []string{mill, "--fault", "salt-bridge"}, []string{"ID=SEVERITY"}},
		{"severity beyond all", []string{mill, "--fault", "salt-bridge=1e400"}, []string{"severity"}},
		{"no days", []string{mill, "--days", "NaN"}, []string{"days"}},
		{"two files", []string{mill, mill}, []string{"one file"}},
		{"a huge file", []string{file("huge.json", string(make([]byte, 100<<10)))}, []string{"huge.json", "longer than"}},
	} {
		t.Run(row.situation, func(t *testing.T) {
			var out bytes.Buffer
			err := Plant(row.args, &out)
			for _, want := range row.wants {
				require.ErrorContains(t, err, want)
			}
		})
	}
}

func TestListOfFaultsNamesEachOnALine(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Plant([]string{"--list-faults"}, &out))
	require.Contains(t, out.String(), "nozzle-plugged\tInjector nozzle plugged\tinjector\n")
	require.Equal(t, len(fault.Catalogue()), bytes.Count(out.Bytes(), []byte("\n")))
}

func TestReplayPrintsHashOrWhatIsWrong(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Replay([]string{root + "testdata/replays/expert.msgp", "--hash-only"}, &out))
	require.Regexp(t, `^hash [0-9a-f]{16}\n$`, out.String())
	dir := t.TempDir()
	data, err := os.ReadFile(root + "testdata/replays/expert.msgp")
	require.NoError(t, err)
	cut := filepath.Join(dir, "cut.msgp")
	require.NoError(t, os.WriteFile(cut, data[:len(data)/2], 0o600))
	err = Replay([]string{cut}, &out)
	require.ErrorContains(t, err, "cut.msgp")
	require.ErrorContains(t, err, "recording")
	require.ErrorContains(t, Replay(nil, &out), "no recording")
}
