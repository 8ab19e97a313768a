package water

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
)

// CRC Handbook, concentrative properties of aqueous solutions, from memory.
func TestBrineFreezesAtTheHandbooksPoints(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/nacl_freezing_point.csv") {
		require.InDelta(t, row.Number("freezing_C_from_memory"), FreezingPoint(row.Number("w_percent")/100), 0.011, row.Where())
	}
}

// Thermodynamics: −t = 2·1.86 K·kg/mol·b·φ (cryoscopic constant of water), where
// the osmotic coefficient φ of NaCl lies between 0.91 and 0.98 up to 1 mol/kg
// (Robinson and Stokes, Electrolyte Solutions, 1959, from memory). The fit's 0.01 K
// bears the rest.
func TestWeakBrineFreezesAsVantHoffSays(t *testing.T) {
	for _, w := range []float64{0.001, 0.005, 0.01, 0.02, 0.04, 0.055} {
		molality := w / (1 - w) / MolarMassNaCl
		osmotic := -FreezingPoint(w) / (2 * 1.86 * molality)
		require.Greater(t, osmotic, 0.905, "w %v", w)
		require.Less(t, osmotic, 0.98, "w %v", w)
	}
}

func TestMoreSaltFreezesLowerDownToTheEutectic(t *testing.T) {
	require.Zero(t, FreezingPoint(0))
	require.Zero(t, FreezingPoint(-1e-9))
	for w := 0.0; w < EutecticMassFraction-0.001; w += 0.001 {
		require.Less(t, FreezingPoint(w+0.001), FreezingPoint(w))
	}
	require.InDelta(t, EutecticC, FreezingPoint(EutecticMassFraction-1e-9), 0.01)
	require.Equal(t, EutecticC, FreezingPoint(MaxMassFraction))
}
