package scenario_test

import (
	"encoding/json"
	"strings"
	"testing"

	"brinebench/scenarios"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// What Decode lets pass, plant.New takes, and a unit of it can be started.
func FuzzDecode(f *testing.F) {
	names, err := scenarios.FS.ReadDir(".")
	if err != nil {
		f.Fatal(err)
	}
	for _, n := range names {
		data, err := scenarios.FS.ReadFile(n.Name())
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"format": "brinebench-scenario-1", "faults": [{"id": 3}]}`))
	f.Add([]byte(`{`))
	f.Add([]byte(setFile(`"unit": {"set": "tank-14-in"}, "site": {"outdoors": 1, "well": {"shutoff_psi": 80, "rated_psi": 40, "rated_gpm": 8, "tank_gal": 20, "precharge_psi": 28, "cut_in_psi": 30, "cut_out_psi": 50}}`)))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := scenario.Decode("fuzz.json", data)
		if err != nil {
			if !strings.Contains(err.Error(), "fuzz.json") {
				t.Fatalf("%v does not name the file", err)
			}
			return
		}
		if !json.Valid(data) {
			t.Fatal("no JSON passed")
		}
		m, err := plant.New(file.Config())
		if err != nil {
			t.Fatalf("passed and refused: %v", err)
		}
		past := file.Begin(m.Coarse())
		for range 20 {
			past.Step(1e6)
		}
		if past.State.Unsolved > 0 {
			t.Fatal("unsolved")
		}
	})
}
