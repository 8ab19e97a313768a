package water

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/repro"
)

// IAPWS SR6-08 (density) and R12-08 (viscosity).
func TestWaterFollowsIAPWS(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/water_density_viscosity_0_60C.csv") {
		temp := row.Number("T_C")
		require.InDelta(t, row.Number("rho_IAPWS_SR6_08_0.1MPa_kg_m3"), Density(temp), 0.005, row.Where())
		require.InDelta(t, row.Number("rho_Kell1975_kg_m3"), Density(temp), 0.0001, row.Where())
		require.InEpsilon(t, row.Number("mu_IAPWS_R12_08_mPa_s")*1e-3, Viscosity(temp), 5e-5, row.Where())
	}
}

// IAPWS-IF97, table 35, from memory; the triple point and the boiling point.
func TestVapourPressureFollowsIAPWS(t *testing.T) {
	require.InEpsilon(t, 3536.58941, VapourPressure(300-273.15), 1e-8)
	require.InEpsilon(t, 2638897.76, VapourPressure(500-273.15), 1e-8)
	require.InEpsilon(t, 611.657, VapourPressure(0.01), 1e-4)
	require.InEpsilon(t, 101325, VapourPressure(99.974), 1e-4)
}

// Laliberté and Cooper 2004, Laliberté 2007.
func TestBrineFollowsLaliberte(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/nacl_brine_density_viscosity_laliberte.csv") {
		temp, w := row.Number("T_C"), row.Number("w_percent")/100
		rho := BrineDensity(temp, w)
		require.InDelta(t, row.Number("rho_kg_m3"), rho, 0.001, row.Where())
		require.InEpsilon(t, row.Number("mol_per_L")*1e3, MolarConcentration(temp, w), 2e-4, row.Where())
		// The water beneath is IAPWS here and the paper's own there.
		require.InEpsilon(t, row.Number("mu_mPa_s")*1e-3, BrineViscosity(temp, w), 1.3e-3, row.Where())
	}
	// Check points of a public library's tests of the same equations.
	require.InDelta(t, 1002.6250120185854, BrineDensity(0, 0.0037838838), 1e-9)
	require.InEpsilon(t, 1.5285828581961414e-3, BrineViscosity(5, 0.00581), 1e-3)
}

func TestBrineMeetsWaterAtNoSalt(t *testing.T) {
	for temp := 0.0; temp <= 60; temp += 5 {
		require.InEpsilon(t, Density(temp), BrineDensity(temp, 0), 1e-14)
		require.Equal(t, Viscosity(temp), BrineViscosity(temp, 0))
		require.InEpsilon(t, Viscosity(temp), BrineViscosity(temp, 1e-12), 1e-9)
	}
}

func TestBrineThickensWithSaltAndThinsWithWarmth(t *testing.T) {
	for temp := 0.0; temp < 60; temp++ {
		for w := 0.0; w < 0.265; w += 0.005 {
			require.Greater(t, BrineDensity(temp, w+0.005), BrineDensity(temp, w))
			require.Greater(t, BrineViscosity(temp, w+0.005), BrineViscosity(temp, w))
			require.Less(t, BrineViscosity(temp+1, w), BrineViscosity(temp, w))
		}
	}
}

// Langer and Offermann 1982 and CRC, both from memory, to their 3 decimals; PHREEQC
// 3.8.9 with pitzer.dat, independent.
func TestSolubility(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/nacl_solubility_0_60C.csv") {
		got := 100 * Solubility(row.Number("T_C"))
		require.InDelta(t, row.Number("w_percent_LangerOffermann1982_from_memory"), got, 0.0015, row.Where())
		if row.Has("w_percent_CRC_from_memory") {
			require.InDelta(t, row.Number("w_percent_CRC_from_memory"), got, 0.07, row.Where())
		}
	}
	for _, row := range refdata.Rows(t, "tables/nacl_halite_saturation_general_engine.csv") {
		temp := row.Number("T_C")
		w := Solubility(temp)
		require.InDelta(t, row.Number("w_percent_saturated"), 100*w, 0.17, row.Where())
		require.InEpsilon(t, row.Number("rho_g_mL")*1e3, BrineDensity(temp, w), 3e-3, row.Where()) // the strengths differ too
	}
}

func TestMassFractionUndoesMolarConcentration(t *testing.T) {
	for temp := 0.0; temp <= 60; temp += 4 {
		for w := 0.0; w <= 0.275; w += 0.001 {
			require.InDelta(t, w, MassFraction(temp, MolarConcentration(temp, w)), 1e-15)
		}
	}
	require.Zero(t, MassFraction(20, 0))
	require.Zero(t, MassFraction(20, -1))
	require.Equal(t, MaxMassFraction, MassFraction(20, 1e9))
}

// Equivalent conductivities at 25 °C in S·cm²/eq against eq/L: CRC Handbook, from
// memory.
func TestConductivityOfChlorides(t *testing.T) {
	for _, c := range []struct {
		name string
		ion  Ion
		eqL  float64
		want float64
		tol  float64
	}{
		{"NaCl", Na, 0.001, 123.68, 0.005},
		{"NaCl", Na, 0.01, 118.45, 0.005},
		{"NaCl", Na, 0.1, 106.69, 0.02},
		{"NaCl", Na, 1, 85.76, 0.03},
		{"KCl", K, 0.001, 146.88, 0.005},
		{"KCl", K, 0.01, 141.20, 0.005},
		{"KCl", K, 0.1, 128.90, 0.02},
		{"CaCl2", Ca, 0.001, 130.30, 0.005},
		{"CaCl2", Ca, 0.01, 120.30, 0.01},
		{"CaCl2", Ca, 0.1, 102.41, 0.05},
		{"MgCl2", Mg, 0.01, 114.49, 0.01},
	} {
		var ions Ions
		ions[c.ion] = c.eqL * 1000 / Charge[c.ion]
		got := Conductivity(25, ions) / (c.eqL * 1000) * 1e4
		require.InEpsilon(t, c.want, got, c.tol, "%s at %v eq/L", c.name, c.eqL)
	}
}

// CRC Handbook, from memory; itself 7 % off at 0.5 %.
func TestConductivityOfBrineAt20C(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/nacl_conductivity_20C_from_memory.csv") {
		w := row.Number("w_percent") / 100
		if w > 0.02 {
			continue // beyond the method
		}
		got := Conductivity(20, Ions{Na: MolarConcentration(20, w)})
		require.InEpsilon(t, row.Number("kappa_mS_cm_20C_CRC_from_memory")/10, got, 0.05, row.Where())
	}
}

// tables/limiting_ion_conductivity_25C.csv, CRC Handbook.
func TestConductivityAtInfiniteDilution(t *testing.T) {
	ions := map[string]Ion{"Na+": Na, "K+": K, "half Ca2+": Ca, "half Mg2+": Mg}
	found := 0
	for _, row := range refdata.Rows(t, "tables/limiting_ion_conductivity_25C.csv") {
		i, ok := ions[row.Text("ion")]
		if !ok {
			continue
		}
		found++
		var c Ions
		c[i] = 1e-6 / Charge[i]
		want := (row.Number("lambda0_S_cm2_per_equiv") + 76.31) * 1e-10
		require.InEpsilon(t, want, Conductivity(25, c), 1e-4, row.Where())
	}
	require.Equal(t, 4, found)
}

// Exchange of hardness for sodium hardly changes what a conductivity pen reads:
// the pen cannot tell soft water from hard.
func TestSofteningLeavesConductivity(t *testing.T) {
	hard := ComposeFeed(3.42, 2.0/3, 2, 0.05)
	soft := Ions{Na: hard.Anion() - hard[K], K: hard[K]}
	require.InEpsilon(t, Conductivity(15, hard), Conductivity(15, soft), 0.05)
	require.Zero(t, Conductivity(15, Ions{}))
}

func TestComposeFeedKeepsWhatWasAsked(t *testing.T) {
	c := ComposeFeed(3.42, 0.6, 2, 0.1)
	require.InDelta(t, 3.42, c.Hardness(), 1e-15)
	require.InDelta(t, 0.6, c[Ca]/c.Hardness(), 1e-15)
	require.Equal(t, 2.0, c[Na])
	require.Equal(t, 0.1, c[K])
	require.InDelta(t, 2*3.42+2.1, c.Anion(), 1e-12)
}

func TestPropertiesDoNotAllocate(t *testing.T) {
	require.Zero(t, testing.AllocsPerRun(10, func() {
		w := MassFraction(20, 5000)
		if math.IsNaN(BrineViscosity(20, w) + Conductivity(20, Ions{1, 1, 1, 1})) {
			t.Error("NaN")
		}
	}))
}

// The bits every machine has to give.
func TestPropertiesKeepTheirBits(t *testing.T) {
	h := repro.NewHash()
	for temp := 0.0; temp <= 60; temp += 0.5 {
		h.Float64(VapourPressure(temp))
		for w := 0.0; w < 0.27; w += 0.01 {
			h.Float64(BrineDensity(temp, w))
			h.Float64(BrineViscosity(temp, w))
			h.Float64(MassFraction(temp, 5400*w/0.27))
			h.Float64(Conductivity(temp, Ions{100 * w, w, 3 * w, 2 * w}))
		}
	}
	require.Equal(t, uint64(0xe47f09fa0a8c4cb6), h.Sum(), "got %#x", h.Sum())
}

func BenchmarkBrineDensity(b *testing.B) {
	for b.Loop() {
		BrineDensity(17, 0.12)
	}
}

func BenchmarkBrineViscosity(b *testing.B) {
	for b.Loop() {
		BrineViscosity(17, 0.12)
	}
}

func BenchmarkMassFraction(b *testing.B) {
	for b.Loop() {
		MassFraction(17, 2200)
	}
}
