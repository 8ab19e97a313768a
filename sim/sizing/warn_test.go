package sizing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// warning finds one of a job by its id; empty where there is none.
func warning(j *sizing.Job, id string) (w sizing.Warning) {
	for _, x := range sizing.Solve(j).Warnings {
		if x.ID == id {
			return x
		}
	}
	return w
}

func mgL(v float64) sizing.Amount { return sizing.AmountOf(sizing.Concentration, v*1e-3, "mg/L") }

// 200 mg/L: EU Directive 2020/2184, Annex I part C, from memory. 20 gpg add 157.28 mg/L.
func TestSodiumOverTheLimitForDrinkingWaterIsTold(t *testing.T) {
	for sodium, over := range map[float64]bool{20: false, 43: false, 43.5: true, 60: true} {
		j := named(t, "four-at-20-gpg")
		j.Sodium = mgL(sodium)
		w := warning(j, "sodium")
		if !over {
			require.NotContains(t, w.What, "over 200 mg/L", "%v mg/L", sodium)
			require.NotContains(t, w.Source, "EU Directive", "%v mg/L", sodium)
			continue
		}
		require.Contains(t, w.What, "That is over 200 mg/L, the limit for drinking water in many countries: leave the kitchen's cold tap unsoftened", "%v mg/L", sodium)
		require.NotContains(t, w.What, " 200 mg/L in all", "%v mg/L", sodium)
		require.Contains(t, w.Source, "EU Directive 2020/2184, Annex I part C: 200 mg/L, from memory; WHO names 200 mg/L for taste")
	}
}

// Where the raw water itself is over the limit, no tap before the softener helps.
func TestSodiumOfTheRawWaterIsNotDodgedByAnUntreatedTap(t *testing.T) {
	for sodium, raw := range map[float64]bool{200: false, 201: true} {
		j := named(t, "four-at-20-gpg")
		j.Sodium = mgL(sodium)
		w := warning(j, "sodium")
		require.Equal(t, raw, strings.Contains(w.What, "an untreated tap does not help"), "%v mg/L", sodium)
		require.Equal(t, !raw, strings.Contains(w.What, "leave the kitchen's cold tap unsoftened"), "%v mg/L", sodium)
		require.Contains(t, w.Source, "EU Directive 2020/2184")
	}
}

// No public supply has as much iron as a drawn job with iron: US EPA's secondary limit is
// 0.3 mg/L (40 CFR 143.3), the EU's 0.2 mg/L (Directive 2020/2184, Annex I part C), from memory.
func TestDrawnWaterWithIronIsFromAWell(t *testing.T) {
	const mostOfMains = 0.3
	wells := 0
	for seed := range uint64(64) {
		j := sizing.Drawn(seed)
		if j.Iron.SI > mostOfMains*1e-3 {
			require.True(t, j.Well, "seed %d", seed)
			wells++
		}
	}
	require.Greater(t, wells, 4)
}

// International Plumbing Code 607.3, from memory.
func TestAReducerAsksForAnExpansionTank(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	require.Empty(t, warning(j, "pressure-high").What)
	j.Static = sizing.AmountOf(sizing.Pressure, 100*unit.PSI, "psi")
	w := warning(j, "pressure-high")
	require.Contains(t, w.What, "the heater needs an expansion tank")
	require.Contains(t, w.Source, "607.3, from memory")
}

// Common practice, no source.
func TestWhatIsTreatedBeforeASoftenerIsTold(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	require.Empty(t, warning(j, "iron-clear").What)
	for _, iron := range []float64{0.2, 1, 8} {
		j.Iron = mgL(iron)
		require.Contains(t, warning(j, "iron-clear").What, "clear, dissolved iron only", "%v mg/L", iron)
	}
	j.PH = 6
	require.Contains(t, warning(j, "ph-low").What, "limestone adds hardness: test the water behind it, then size")
}

// The loss at the code's peak is told as information; two units are spoken of from 20 gpm
// on only: common practice, no source.
func TestThePeakByTheCodeCallsForNothing(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	told := 0
	for n := range 6 {
		for kind := range j.Fixtures {
			j.Fixtures[kind] = 1 + n*min(1, j.Fixtures[kind])
		}
		sheet := sizing.Solve(j).Sheet
		w := warning(j, "peak-loss").What
		if sheet.Value[sizing.PeakLoss] <= 25*unit.PSI {
			require.Empty(t, w)
			continue
		}
		told++
		require.Contains(t, w, "For information")
		require.Contains(t, w, sizing.Pressure.Text(sheet.Value[sizing.PeakLoss], sizing.US))
		if sheet.Value[sizing.PeakFlow] < 20*unit.GPM {
			require.NotContains(t, w, "two units")
		} else {
			require.Contains(t, w, "two units side by side")
		}
	}
	require.Greater(t, told, 3)
}

// Above 15 lb/ft³ some capacity is gained, though little for the salt: common practice, no
// source.
func TestALargeDoseGainsLittle(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	s := sizing.NewSheet("tank-10-in", "", []sizing.Figure{sizing.SaltDose}, []float64{30 * unit.Pound})
	full := j.Completed(&s)
	against := sizing.Against(j.Faults(&full), sizing.SaltDose)
	require.NotEmpty(t, against)
	require.Equal(t, "dose-large", against[0].ID)
	require.Contains(t, against[0].What, "it gains little for the salt")
}

// Common practice, no source; the square is that of mass action, between ions of one
// charge and of two.
func TestWaterTooHardAndSaltyForItsDoseIsTold(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	require.Empty(t, warning(j, "leaks").What)
	j.Sodium = mgL(300)
	require.Contains(t, warning(j, "leaks").What, "lets hardness through all the while")
	j.Hardness, j.Sodium = sizing.AmountOf(sizing.Hardness, 60*unit.GPG, "gpg"), mgL(200)
	require.Contains(t, warning(j, "leaks").What, "lets hardness through all the while")
}

func TestALittleIronIsToldToCount(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	for iron, told := range map[float64]bool{0: false, 0.05: false, 0.1: true, 0.3: true, 0.5: false} {
		j.Iron = mgL(iron)
		require.Equal(t, told, warning(j, "iron-some").What != "", "%v mg/L", iron)
	}
}

// TestPotassiumIsToldWithItsOwnFigures: 13.37 mg/L for a gpg, 1.276 times the weight and, by
// the solubilities told with it, 1.47 times the refill (rules_of_thumb.csv; CRC Handbook, from
// memory).
func TestPotassiumIsToldWithItsOwnFigures(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	require.Empty(t, warning(j, "potassium").What)
	j.LowSodium = true
	v := sizing.Solve(j).Sheet.Value
	require.InEpsilon(t, rule(t, "sodium added"), v[sizing.SaltAdded]*1e3/20, 1e-4, "the sheet is that of salt")
	what := warning(j, "potassium").What
	require.Contains(t, what, sizing.Concentration.Number(rule(t, "potassium added (KCl)")*20e-3, sizing.US)+" mg/L of potassium")
	require.Contains(t, what, sizing.Mass.Text(v[sizing.SaltDose]*74.55/58.44, sizing.US))
	require.Contains(t, what, sizing.Minutes.Text(v[sizing.RefillTime]*74.55/58.44*3/2.6, sizing.US))
	require.Contains(t, warning(j, "low-sodium").What, "kitchen tap")
}

// TestSettingsInWholeNumbersAreToldToRegenerateSooner holds the warning to what the settings
// of a demand controller let pass.
func TestSettingsInWholeNumbersAreToldToRegenerateSooner(t *testing.T) {
	told := 0
	for n := range uint64(12) {
		j := sizing.Drawn(n)
		v := sizing.Solve(j).Sheet.Value
		days := v[sizing.SetCapacity] * (1 - v[sizing.SetReserve]/100) / v[sizing.SetHardness] / v[sizing.DailyWater]
		w := warning(j, "whole-settings").What
		require.Equal(t, j.Demand && days < 0.97*365/v[sizing.RegenerationsPerYear], w != "", "job %d", n)
		if w != "" {
			told++
		}
	}
	require.Positive(t, told)
}
