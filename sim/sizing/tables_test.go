package sizing_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// tableOf is a job's table of an id.
func tableOf(t *testing.T, j *sizing.Job, id string, sys sizing.System) sizing.Table {
	t.Helper()
	tables := sizing.Tables(j, sys)
	i := slices.IndexFunc(tables, func(x sizing.Table) bool { return x.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return tables[i]
}

// The rules that a worked solution goes by stand among the tables, in its words.
func TestTheTablesHaveEveryRule(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	sol := sizing.Solve(j)
	for _, sys := range []sizing.System{sizing.US, sizing.SI} {
		table := tableOf(t, j, sizing.RuleTable, sys)
		require.Len(t, table.Rows, len(sol.Steps))
		for i, st := range sol.Steps {
			require.Equal(t, []string{st.Name, st.Formula[sys]}, table.Rows[i])
		}
	}
	told := ""
	for _, row := range tableOf(t, j, sizing.RuleTable, sizing.US).Rows {
		told += strings.Join(row, ": ") + "\n"
	}
	for _, rule := range []string{"showers (up to 3), or a bath, + one fixture more", "a quarter of C at least", "L × (3 days + 1 day)", "the least dose at which the tank lasts for 3 days; to save salt, of all such doses the one that takes the least salt in a year", "lasts for 3 days; to save salt a larger one, where it saves 5 % of salt"} {
		require.Contains(t, told, rule)
	}
}

// The demand table has the two rows that every house is read between, be it as small or as
// large as a job sheet can have it.
func TestThePeakIsReadBetweenTwoRowsOfTheTable(t *testing.T) {
	for _, row := range []struct {
		house      string
		fixtures   fixtures
		below, gpm string // rows, and their flows
		with       string
	}{
		{"a bathroom with a shower", fixtures{sizing.Toilet: 1, sizing.Shower: 1, sizing.Basin: 1, sizing.KitchenTap: 1, sizing.Washer: 1}, "6 7", "10.7 11.8", "10.7 gpm + (6.4 − 6) ÷ (7 − 6) × (11.8 gpm − 10.7 gpm)"},
		{"one basin", fixtures{sizing.Basin: 1}, "1", "3", "0.7 ÷ 1 × 3 gpm"},
		{"five kitchen taps, on a row", fixtures{sizing.KitchenTap: 5}, "7", "11.8", "11.8 gpm"},
		{"a house of four bathrooms and more", fixtures{sizing.Toilet: 4, sizing.Shower: 4, sizing.Basin: 4, sizing.KitchenTap: 4, sizing.Washer: 1}, "20 25", "19.6 21.5", "19.6 gpm + (21.4 − 20) ÷ (25 − 20) × (21.5 gpm − 19.6 gpm)"},
	} {
		j := named(t, "four-at-20-gpg")
		j.Fixtures = row.fixtures
		st := sizing.Solve(j).Steps[sizing.PeakFlow]
		require.Equal(t, row.with, st.With[sizing.US], row.house)
		require.InDelta(t, worth(t, row.with), st.Value/unit.GPM, 1e-9, row.house)
		table := tableOf(t, j, "demand", sizing.US)
		flows := strings.Fields(row.gpm)
		for i, units := range strings.Fields(row.below) {
			at := slices.Index(table.Head, units)
			require.Positive(t, at, "%s: %s", row.house, units)
			require.Equal(t, flows[i], table.Rows[0][at], row.house)
			require.Contains(t, st.Why[sizing.US], " "+flows[i]+" gpm at "+units+" unit", row.house)
		}
		require.NotContains(t, table.Head, "0", row.house)
	}
}

// A job's hardness is asked in another unit than its sheet has it in, and the factor is
// that of the units' definitions: a grain is 64.79891 mg, a US gallon 3.785411784 L, an
// imperial one 4.54609 L; CaCO3 100.0869 and CaO 56.0774 g/mol.
func TestHardnessIsConvertedIntoAnotherUnit(t *testing.T) {
	const mg = 1 / 100.0869 // mmol/L of one mg/L as CaCO3
	const grain = 64.79891 / 3.785411784
	for _, row := range []struct {
		sheet  string
		value  float64
		asked  [2]string
		factor [2]float64
		means  string
	}{
		{"gpg", 20, [2]string{"mg/L as CaCO3", "mmol/L"}, [2]float64{grain, grain * mg}, "1 gpg is a grain as CaCO₃ in a US gallon."},
		{"mmol/L", 4.4, [2]string{"gpg", "mg/L as CaCO3"}, [2]float64{1 / mg / grain, 1 / mg}, "1 mmol/L is a mmol of calcium and magnesium in a litre."},
		{"mg/L as CaCO3", 308.1, [2]string{"gpg", "mmol/L"}, [2]float64{1 / grain, mg}, "1 mg/L as CaCO₃ is a mg in a litre, counted as CaCO₃."},
		{"meq/L", 6.8, [2]string{"gpg", "mmol/L"}, [2]float64{0.5 / mg / grain, 0.5}, "1 meq/L is half a mmol of calcium and magnesium in a litre."},
		{"dH", 22, [2]string{"gpg", "mmol/L"}, [2]float64{10 / 56.0774 / mg / grain, 10 / 56.0774}, "1 °dH is 10 mg/L as CaO."},
		{"fH", 35, [2]string{"gpg", "mmol/L"}, [2]float64{10 / grain, 10 * mg}, "1 °fH is 10 mg/L as CaCO₃."},
		{"Clark", 21, [2]string{"gpg", "mmol/L"}, [2]float64{3.785411784 / 4.54609, 64.79891 / 4.54609 * mg}, "1 °Clark is a grain as CaCO₃ in an imperial gallon."},
	} {
		j := named(t, "four-at-20-gpg")
		j.Hardness = sizing.AmountOf(sizing.Hardness, 1, row.sheet)
		j.Hardness = sizing.AmountOf(sizing.Hardness, row.value/j.Hardness.Value, row.sheet)
		st := sizing.Solve(j).Steps[sizing.RawHardness]
		for sys, asked := range row.asked {
			for _, line := range j.Lines(sizing.System(sys)) {
				if line.ID == "hardness" {
					require.Equal(t, asked, line.Into, row.sheet)
				}
			}
			require.NotContains(t, row.asked, row.sheet)
			e := names(j.Entry(sizing.RawHardness).Units[sys])
			require.Equal(t, asked, e[0], row.sheet)
			require.ElementsMatch(t, append(e, row.sheet), sizing.Hardness.Units(sizing.US), "all but the sheet's own")
			require.InEpsilon(t, row.value*row.factor[sys], worth(t, st.With[sys]), 2e-4, "%s: %s", row.sheet, st.With[sys])
			require.InEpsilon(t, row.value*row.factor[sys], leading(t, st.Result[sys]), 4e-3, row.sheet)
			require.Contains(t, st.Why[sys], row.means)
		}
	}
}

// Between the first two rows, and before the first, the words are still right.
func TestASmallHouseIsToldTheRowsInWords(t *testing.T) {
	for basins, told := range map[int]string{
		1: "The table begins with 3 gpm at 1 unit: below that the flow goes with the units.",
		2: "The table has 3 gpm at 1 unit. The table has 5 gpm at 2 units.",
	} {
		j := named(t, "four-at-20-gpg")
		j.Fixtures = fixtures{sizing.Basin: basins}
		require.Equal(t, told, sizing.Solve(j).Steps[sizing.PeakFlow].Why[sizing.US])
	}
}

// The table of units has what one of each is, in the unit that is reckoned in and by mass.
func TestTheTableOfHardnessAgreesWithTheUnits(t *testing.T) {
	for sys, in := range []string{"gpg", "mmol/L"} {
		table := tableOf(t, named(t, "four-at-20-gpg"), "hardness", sizing.System(sys))
		require.Len(t, table.Rows, 7)
		for i, name := range sizing.Hardness.Units(sizing.US) {
			require.NotEmpty(t, table.Rows[i][1], "%s: what it is", name)
			one := sizing.AmountOf(sizing.Hardness, 1, name).Value // of a mmol/L
			for col, unit := range []string{in, "mg/L as CaCO3"} {
				got, err := strconv.ParseFloat(table.Rows[i][2+col], 64)
				require.NoError(t, err)
				require.InEpsilon(t, sizing.AmountOf(sizing.Hardness, 1/one, unit).Value, got, 1e-4, "%s in %s", name, unit)
			}
		}
	}
}

// What a controller counts in whole gpg and kilograin is asked and told in these, whatever
// units are read, and comes out whole; every other figure is in the reader's units.
func TestAControllersSettingsAreInItsOwnUnits(t *testing.T) {
	for seed := range uint64(6) {
		j := sizing.Drawn(seed)
		sol := sizing.Solve(j)
		for f, unit := range map[sizing.Figure]string{sizing.SetHardness: "gpg", sizing.SetCapacity: "kilograin"} {
			e := j.Entry(f)
			for sys := range 2 {
				require.Equal(t, unit, e.Units[sys][0].Name)
				require.ElementsMatch(t, f.Kind().Units(sizing.System(sys))[:len(e.Units[sys])], names(e.Units[sys]))
				require.Equal(t, unit, sol.Steps[f].Unit[sys])
				whole := leading(t, sol.Steps[f].Result[sys])
				require.Equal(t, float64(int(whole)), whole, "seed %d: %s", seed, sol.Steps[f].Result[sys])
			}
		}
		require.Equal(t, "mmol/L", j.Entry(sizing.CompensatedHardness).Units[1][0].Name)
	}
}

func names(units []sizing.EntryUnit) (list []string) {
	for _, u := range units {
		list = append(list, u.Name)
	}
	return list
}
