package unit

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
)

// Exact by definition: the international yard and pound of 1959, the US gallon
// of 231 in³, the imperial gallon of 1985, standard gravity (CGPM 1901).
func TestUnitsHaveTheirDefinedValues(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"grain", Grain, 64.79891e-6},
		{"pound", Pound, 0.45359237},
		{"US gallon", USGallon, 3.785411784e-3},
		{"cubic foot", CubicFoot, 28.316846592e-3},
		{"US gallons in a cubic foot", CubicFoot / USGallon, 1728.0 / 231},
		{"psi", PSI, 6894.757293168361},
		{"gpm", GPM, 3.785411784e-3 / 60},
		{"fluid ounce", FluidOunce, 29.5735295625e-6},
	} {
		require.InEpsilon(t, c.want, c.got, 1e-15, c.name)
	}
}

// tables/unit_facts.csv, computed from the definitions.
func TestUnitFacts(t *testing.T) {
	const na, k, nacl = 22.98977e-3, 39.0983e-3, 58.443e-3 // kg/mol
	facts := map[string][]float64{
		"1 grain":                  {Grain * 1e6},
		"1 US gal":                 {USGallon / Litre},
		"1 lb":                     {Pound / Gram},
		"1 ft3":                    {CubicFoot / Litre, CubicFoot / USGallon},
		"1 kilograin/ft3 as CaCO3": {KilograinPerFt3 * MolarCaCO3, KilograinPerFt3 / MeqPerLitre / 1000},
		"1 eq/L":                   {1000 * MeqPerLitre / KilograinPerFt3},
		"2.0 eq/L":                 {2000 * MeqPerLitre / KilograinPerFt3},
		"1 lb/ft3":                 {Pound / CubicFoot},
		"NaCl theoretical":         {Pound / nacl * MeqPerLitre * MolarCaCO3 / Grain},
		"Na added per gpg removed": {GPG / MeqPerLitre * na * 1e3},
		"K added per gpg removed":  {GPG / MeqPerLitre * k * 1e3},
		"salt for 3350 gr/lb":      {3350 / 5993.95 * 100},
		"salt for 4000 gr/lb":      {4000 / 5993.95 * 100},
		"Fe2+ 1 mg/L as CaCO3":     {MolarCaCO3 / 55.845e-3},
	}
	for _, row := range refdata.Rows(t, "tables/unit_facts.csv") {
		want, ok := facts[row.Text("item")]
		require.True(t, ok, row.Where())
		got := numbers(row.Text("value"))
		for i, w := range want {
			require.InEpsilon(t, w, got[i], 1e-4, "%s: %s", row.Where(), row.Text("item"))
		}
	}
}

// tables/hardness_units.csv, computed from the definitions to 10 figures.
func TestHardnessUnits(t *testing.T) {
	units := map[string]float64{
		"1 US gpg": GPG, "20 US gpg": 20 * GPG, "1 mg/L as CaCO3": MgPerLitreCaCO3,
		"1 mmol/L": 1, "1 meq/L": MeqPerLitre, "1 deg dH (10 mg/L CaO)": GermanDegree,
		"1 deg fH (10 mg/L CaCO3)": FrenchDegree, "1 deg Clark (1 gr per Imp gal)": Clark,
	}
	for _, row := range refdata.Rows(t, "tables/hardness_units.csv") {
		u, ok := units[row.Text("quantity")]
		require.True(t, ok, row.Where())
		h := Hardness(u)
		for column, got := range map[string]float64{
			"mg_L_as_CaCO3": h.MgPerLitreCaCO3(), "US_gpg": h.GPG(), "mmol_L": float64(h),
			"meq_L": float64(h) / MeqPerLitre, "deg_dH": h.GermanDegrees(),
			"deg_fH": h.FrenchDegrees(), "deg_Clark": h.Clark(),
		} {
			require.InEpsilon(t, row.Number(column), got, 1e-9, "%s: %s", row.Where(), column)
		}
	}
}

// tables/kv_cv_relations.csv: IEC 60534-1, IEC 60534-2-1.
func TestFlowCoefficients(t *testing.T) {
	values := map[string]float64{}
	for _, row := range refdata.Rows(t, "tables/kv_cv_relations.csv") {
		if n := numbers(row.Text("value")); len(n) > 0 {
			values[row.Text("item")] = n[0]
		}
	}
	require.InEpsilon(t, values["Kv per Cv, exact units (m3/h, bar vs US gpm, psi)"], Kv(FromCv(1)), 1e-9)
	require.InEpsilon(t, values["Cv per Kv"], Cv(FromKv(1)), 1e-9)

	// Velocity-head coefficient of Kv 1 in a bore of 1 m: Δp = K ρ/2 (4Q/π)².
	want := values["K (velocity head) from Kv: K = 2e5/1000*(3600*pi/4)^2*d^4/Kv^2 with d in m (rho 1000): coefficient"]
	b := LossFromCv(Cv(FromKv(1)), 1000)
	require.InEpsilon(t, want, b/500*math.Pi*math.Pi/16, 1e-8)

	// Worked example of IEC 60534-2-1: 360 m³/h at 4.6 bar, density 965.4; the
	// standard refers SG to 999.1 kg/m³, we to 1000, hence the 0.05 %.
	require.InEpsilon(t, values["Same by hand: Q/sqrt(dP/SG), SG=965.4/999.10329"],
		Kv(360*CubicMetrePerHr/math.Sqrt(460*Kilopascal/0.9654)), 5e-4)
}

func TestQuantitiesGoOutAndComeBack(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"psi", Pressure(55 * PSI).PSI(), 55},
		{"bar", Pressure(3 * Bar).Bar(), 3},
		{"kPa", Pressure(3 * Bar).Kilopascals(), 300},
		{"gpm", Flow(2.4 * GPM).GPM(), 2.4},
		{"L/min", Flow(1 * GPM).LitresPerMinute(), 3.785411784},
		{"in", Length(Foot).Inches(), 12},
		{"ft", Length(0.762).Feet(), 2.5},
		{"mm", Length(0.0009).Millimetres(), 0.9},
		{"gal", Volume(CubicFoot).USGallons(), 7.480519480519},
		{"ft³", Volume(CubicFoot).CubicFeet(), 1},
		{"L", Volume(0.002).Litres(), 2},
		{"lb", Mass(6 * Pound).Pounds(), 6},
		{"gr", Mass(Pound).Grains(), 7000},
		{"60 °F in °C", float64(FromFahrenheit(60)), 140.0 / 9},
		{"-40 °C in °F", Temperature(-40).Fahrenheit(), -40},
		{"100 °C in °F", Temperature(100).Fahrenheit(), 212},
		{"20 °C in K", Temperature(20).Kelvin(), 293.15},
		{"293.15 K in °C", float64(FromKelvin(293.15)), 20},
		{"Cv", Cv(FromCv(3.5)), 3.5},
		{"Kv", Kv(FromKv(0.2)), 0.2},
		{"loss at Cv 1 and 1 gpm", LossFromCv(1, 1000) * GPM * GPM, PSI},
	} {
		require.InEpsilon(t, c.want, c.got, 1e-12, c.name)
	}
}

// numbers returns the numbers in a sentence, thousands not separated.
func numbers(s string) []float64 {
	var out []float64
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" ,;()=", r) }) {
		if x, err := strconv.ParseFloat(w, 64); err == nil {
			out = append(out, x)
		}
	}
	return out
}
