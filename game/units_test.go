package game

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestQuantitiesInBothSystems(t *testing.T) {
	// Factors: 1 psi = 6894.757 Pa, 1 US gpm = 3.785411784 L/min, 1 in = 2.54 cm
	// (exact by definition); 1 gpg = 17.118 mg/L as CaCO3, M(CaCO3) = 100.087 g/mol.
	us, si := Look{}, Look{SI: true}
	for _, row := range []struct {
		value  float64
		unit   sim.Unit
		us, si string
	}{
		{55 * 6894.757293168, sim.UnitPressure, "55.0 psi", "379 kPa"},
		{2.4 * 3.785411784e-3 / 60, sim.UnitFlow, "2.40 gpm", "9.08 L/min"},
		{3, sim.UnitHardness, "17.5 gpg", "300 mg/L as CaCO₃"},
		{0.254, sim.UnitLength, "10.0 in", "25.4 cm"},
		{0.26, sim.UnitFraction, "26 %", "26 %"},
		{0.05, sim.UnitSpecific, "500 µS/cm", "500 µS/cm"},
		{11.5, sim.UnitWarmth, "52.7 °F", "11.5 °C"}, // °F = 1.8 °C + 32, by definition
		{-40, sim.UnitWarmth, "−40.0 °F", "−40.0 °C"},
		{0.0012, sim.UnitContent, "1.2 mg/L", "1.2 mg/L"},
		{0.09, sim.UnitContent, "90 mg/L", "90 mg/L"},
		{4.5359237, sim.UnitWeight, "10 lb", "4.5 kg"}, // 1 lb = 0.45359237 kg, exact
		{12, sim.UnitCount, "12", "12"},
		{15, sim.UnitAngle, "15°", "15°"},
		{-900, sim.UnitSpan, "−15 min", "−15 min"},
		{330, sim.UnitSpan, "5 min 30 s", "5 min 30 s"},
		{16 * 3600, sim.UnitSpan, "16 h 00 min", "16 h 00 min"},
		{-0.2, sim.UnitSpan, "0 min", "0 min"},
		{-1e-9, sim.UnitFlow, "0.00 gpm", "0.00 L/min"},
		{-6894.757293168, sim.UnitPressure, "−1.0 psi", "−7 kPa"},
	} {
		require.Equal(t, row.us, us.Quantity(row.value, row.unit))
		if row.unit != sim.UnitSpan && row.unit != sim.UnitContent { // written coarser where there is much
			require.NotEqual(t, row.us, us.Quantity(row.value+us.Grain(row.unit), row.unit))
			require.Equal(t, us.Quantity(0, row.unit), us.Quantity(0.4*us.Grain(row.unit), row.unit))
		}
		require.Equal(t, row.si, si.Quantity(row.value, row.unit))
	}
}

func TestVolumesInBothSystems(t *testing.T) {
	require.Equal(t, "1,120 gal", Look{}.Volume(1120*3.785411784e-3))
	require.Equal(t, "-1.5 gal", strings.ReplaceAll(Look{}.Draught(-1.5*3.785411784e-3), "−", "-"))
	require.Equal(t, "12.5 L", Look{SI: true}.Draught(12.5e-3))
	require.Equal(t, "20.0 kgr", Look{}.Exchange(20/21.8688*28.316846592), "1 eq/L is 21.8688 kilograin/ft³: testdata/reference/tables/unit_facts.csv")
	require.Equal(t, "3.5 eq", Look{SI: true}.Exchange(3.5))
	require.Equal(t, "4,240 L", Look{SI: true}.Volume(4.24))
	require.Equal(t, "0 gal", Look{}.Volume(0))
}

func TestAHousesTextHasTheUnitsSizeInBothSystems(t *testing.T) {
	// A tank of 10 in is 25.4 cm, 1.5 ft³ are 42.5 L (exact by definition).
	unit := &sim.Setup{TankDiameterM: 0.254, ResinM3: 1.5 * 28.316846592e-3}
	text := "{resin} of resin in a tank of {tank}."
	require.Equal(t, "1.5 ft³ of resin in a tank of 10 in.", Look{}.Story(text, unit))
	require.Equal(t, "42 L of resin in a tank of 25.4 cm.", Look{SI: true}.Story(text, unit))

	for _, pattern := range []string{"*.json", "*/*.json"} {
		names, _ := filepath.Glob("../scenarios/" + pattern)
		require.NotEmpty(t, names)
		for _, name := range names {
			var call struct{ House string }
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(data, &call))
			require.NotRegexp(t, `[{}]|\d *(ft|in|pie|pulg)`, Look{SI: true}.Story(call.House, unit), name)
		}
	}
}

func TestTimesReadAsPeopleSayThem(t *testing.T) {
	require.Equal(t, "12:05 am", Look{}.Clock(300))
	require.Equal(t, "2:00 pm", Look{}.Clock(14*3600))
	require.Equal(t, "14:00", Look{SI: true}.Clock(14*3600))
	require.Equal(t, "5 min", Minutes(5))
	require.Equal(t, "2.5 min", Minutes(2.5))
}

func TestConfidenceRisesThroughWords(t *testing.T) {
	seen := map[string]bool{}
	last := ""
	for p := 0.0; p <= 1.0001; p += 0.05 {
		w := Confidence(p)
		require.False(t, w != last && seen[w], "words come back")
		seen[w], last = true, w
	}
	require.Len(t, seen, 7)
}

// A US gallon is 3.785411784 L (NIST SP 811, appendix B).
func TestAPrintedFlowKeepsItsTradeSize(t *testing.T) {
	require.Equal(t, "2.7\u00a0gpm", Look{}.Printed(2.7))
	require.Equal(t, "2.0\u00a0gpm", Look{}.Printed(2))
	require.Equal(t, "0.65\u00a0gpm", Look{}.Printed(0.65))
	require.Equal(t, Look{SI: true}.Quantity(10.22e-3/60, sim.UnitFlow)+" (2.7\u00a0gpm)", Look{SI: true}.Printed(2.7))
}

func TestUnitsAreThoseOfTheCountry(t *testing.T) {
	for tag, si := range map[string]bool{
		"en-US": false, "es-US": false, "en": false, "en-Latn-US": false,
		"en-GB": true, "en-AU": true, "es": true, "es-MX": true, "es-419": true, "de-DE": true, "": true,
	} {
		require.Equal(t, si, UsesSI(tag), tag)
	}
}
