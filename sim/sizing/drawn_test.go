//go:build !js && !arm64

package sizing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/outfit"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// Every drawn job can be solved, comes back from its own file, and the hard cases are
// all among them.
func TestTwoHundredDrawnJobsFit(t *testing.T) {
	seen := map[string]int{}
	for seed := range uint64(200) {
		j := sizing.Drawn(seed)
		sol := sizing.Solve(j)
		require.Empty(t, sol.Faults, "seed %d", seed)
		require.Empty(t, outfit.Check(tankOf(&sol), partsOf(&sol), outfit.Site{
			WaterC: j.Temperature.SI, SupplyPSI: j.SupplyPa(sol.Sheet.Value[sizing.DrainControl]) / unit.PSI, SaltLb: sol.Sheet.Value[sizing.SaltDose] / unit.Pound,
		}), "seed %d", seed)
		back, err := sizing.DecodeJob("drawn", j.JSON())
		require.NoError(t, err, "seed %d", seed)
		require.Equal(t, j.JSON(), back.JSON())
		require.Equal(t, sol.Sheet, sizing.Solve(back).Sheet, "seed %d", seed)
		_, what, _ := strings.Cut(j.Title, ": ")
		seen[what]++
	}
	require.Len(t, seen, 8, "%v", seen)
	require.Equal(t, sizing.Drawn(7).JSON(), sizing.Drawn(7).JSON())
}

func tankOf(sol *sizing.Solution) outfit.Tank {
	set, _ := outfit.Named(sol.Sheet.Tank)
	return set.Tank
}

func partsOf(sol *sizing.Solution) outfit.Parts {
	set, _ := outfit.Named(sol.Sheet.Tank)
	p, v := set.Parts, &sol.Sheet.Value
	p.NozzleMM, p.ThroatMM = v[sizing.Nozzle]*1e3, v[sizing.Throat]*1e3
	p.DrainControlGPM, p.RefillControlGPM, p.ProgramID = v[sizing.DrainControl]/unit.GPM, v[sizing.RefillControl]/unit.GPM, sol.Sheet.Program
	return p
}
