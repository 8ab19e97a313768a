package plant_test

import (
	"testing"

	"brinebench/scenarios"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

func mill(tb testing.TB) *plant.Model {
	tb.Helper()
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	if err != nil {
		tb.Fatal(err)
	}
	f, err := scenario.Decode("mill", data)
	if err != nil {
		tb.Fatal(err)
	}
	m, err := plant.New(f.Config())
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

func BenchmarkTenDaysInTheHouse(b *testing.B) {
	m := mill(b)
	for range b.N {
		s := m.Start(plant.Healthy())
		for s.TimeS < 10*86400 {
			m.Step(s, m.MaxStep(s))
		}
	}
}
