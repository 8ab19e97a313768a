package plant_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/plant"
)

// TestWhatWasWrongBeforeTheHistoryHasEmptiedTheTank begins histories in conditions that leave
// the brine tank weak, low or full.
func TestWhatWasWrongBeforeTheHistoryHasEmptiedTheTank(t *testing.T) {
	m := mill(t)
	for _, row := range []struct {
		situation string
		change    func(*plant.Condition)
		holds     func(fresh, aged plant.TankReading) bool
	}{
		{"sound", func(*plant.Condition) {}, func(fresh, aged plant.TankReading) bool {
			return aged.Saturation > 0.95 && aged.LevelM > 0.8*fresh.LevelM && aged.LevelM < 1.2*fresh.LevelM
		}},
		{"no salt", func(c *plant.Condition) { c.SaltLeft = 0 }, func(_, aged plant.TankReading) bool { return aged.Saturation < 0.15 }},
		{"a bridge", func(c *plant.Condition) { c.SaltBridge = 1 }, func(_, aged plant.TankReading) bool { return aged.Saturation < 0.4 }},
		{"a float stuck shut", func(c *plant.Condition) { c.FloatStuck = 1 }, func(fresh, aged plant.TankReading) bool { return aged.LevelM < 0.5*fresh.LevelM }},
		{"a blocked drain", func(c *plant.Condition) { c.DrainLineOpen = 0.01 }, func(fresh, aged plant.TankReading) bool { return aged.LevelM > 1.5*fresh.LevelM }},
		{"no current", func(c *plant.Condition) { c.CurrentLost = 1 }, func(fresh, aged plant.TankReading) bool {
			return math.Abs(aged.LevelM-fresh.LevelM) < 1e-3 && aged.Saturation > 0.99
		}},
	} {
		c := plant.Healthy()
		row.change(&c)
		fresh, aged := m.Start(c), m.Aged(c)
		require.True(t, row.holds(m.Tank(fresh), m.Tank(aged)), "%s: %+v, %+v", row.situation, m.Tank(fresh), m.Tank(aged))
		require.Equal(t, fresh.Tank.SolidMol, aged.Tank.SolidMol, row.situation)
		require.Equal(t, fresh.Bed, aged.Bed, row.situation)
	}
}
