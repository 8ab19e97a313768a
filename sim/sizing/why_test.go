package sizing_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// dose is that of a sheet, lb/ft³.
func dose(s *sizing.Sheet) float64 {
	return s.Value[sizing.SaltDose] / unit.Pound / (s.Value[sizing.Resin] / unit.CubicFoot)
}

// A worked dose says what stopped the lower one, with its number: the limit of the water
// beside the job's, the days of the tank, iron, or that salt is not to be saved.
func TestADoseSaysWhatStoppedALowerOne(t *testing.T) {
	for _, row := range []struct {
		situation string
		change    func(j *sizing.Job)
		lb        float64
		why       string
	}{
		{"nobody saves salt", func(*sizing.Job) {}, 6, "A dose below 6 lb/ft³ is for who wishes to save salt."},
		{"salt is saved", func(j *sizing.Job) { j.SaltSaving = true }, 4, "No lower dose is taken."},
		{"salt is saved, in water over the limit", func(j *sizing.Job) {
			j.SaltSaving, j.Sodium = true, mgL(200)
		}, 6, "Hardness and sodium together are 45.4 gpg, more than the 26.3 gpg up to which a dose below 6 lb/ft³ is taken to save salt."},
		{"salt is saved, in water a hair over the limit", func(j *sizing.Job) {
			j.SaltSaving, j.Sodium = true, mgL(0)
			j.Hardness = sizing.AmountOf(sizing.Hardness, 26.3*unit.GPG, "gpg")
			j.People = 3
		}, 6, "Hardness and sodium together are 26.3 gpg, more than the 26.288 gpg up to which"},
		{"salt is saved, with iron", func(j *sizing.Job) {
			j.SaltSaving, j.Iron = true, mgL(1)
		}, 10, "1 mg/L of iron and manganese: from 0.1 mg/L on no dose below 10 lb/ft³ is taken."},
		{"nobody saves salt, and the largest tank is too small at 6 lb/ft³", func(j *sizing.Job) {
			j.People, j.Hardness = 8, sizing.AmountOf(sizing.Hardness, 20*unit.GPG, "gpg")
			j.FloorWidth = sizing.AmountOf(sizing.Length, 80*unit.Inch, "in")
		}, 8, "With 6 lb/ft³ of salt the tank would last for 2"},
	} {
		j := named(t, "four-at-20-gpg")
		row.change(j)
		sol := sizing.Solve(j)
		require.InDelta(t, row.lb, dose(&sol.Sheet), 1e-9, row.situation)
		require.Contains(t, sol.Steps[sizing.SaltDose].Why[sizing.US], row.why, row.situation)
	}
}

// Where salt is saved, the least dose that lasts gives way to one that takes less salt in a
// year, and the rule says so as the reason does.
func TestADoseThatSavesSaltIsNotTheLeastThatLasts(t *testing.T) {
	for _, seed := range []uint64{11, 40, 110, 152} {
		j := sizing.Drawn(seed)
		require.True(t, j.SaltSaving, "seed %d", seed)
		st := sizing.Solve(j).Steps[sizing.SaltDose]
		require.Regexp(t, `^With .+ of salt it would take .+ of salt in a year, and with this `, st.Why[sizing.US], "seed %d", seed)
		require.Contains(t, st.Formula[sizing.US], "to save salt, of all such doses the one that takes the least salt in a year")
	}
}

// The rule for a tank has the saving that the reason for one does.
func TestTheRuleForATankHasTheSavingThatIsWorthIt(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	j.SaltSaving = true
	st := sizing.Solve(j).Steps[sizing.Resin]
	require.Contains(t, st.Why[sizing.US], "worth it where it saves 5 % for each size")
	require.Contains(t, st.Formula[sizing.US], "where it saves 5 % of salt in a year for each size")
}

// A worked tank says what stopped the smaller one.
func TestATankSaysWhatStoppedASmallerOne(t *testing.T) {
	for _, row := range []struct {
		situation string
		change    func(j *sizing.Job)
		why       string
	}{
		{"the house draws more together", func(j *sizing.Job) { j.People = 1 }, "The next smaller tank does not do. The house draws 7 gpm (26.5 L/min) together, and the tank is for 5 gpm (18.9 L/min)."},
		{"it does not last", func(j *sizing.Job) { j.People = 8 }, "The next smaller tank would last for 2."},
		{"it takes more salt", func(j *sizing.Job) { j.SaltSaving = true }, "of salt in a year, this one"},
		{"one bath, few people", func(j *sizing.Job) {
			j.People, j.Fixtures = 1, fixtures{sizing.Basin: 1}
			j.Hardness = sizing.AmountOf(sizing.Hardness, 5*unit.GPG, "gpg")
		}, "No tank is smaller."},
	} {
		j := named(t, "four-at-20-gpg")
		row.change(j)
		require.Contains(t, sizing.Solve(j).Steps[sizing.Resin].Why[sizing.US], row.why, row.situation)
	}
}
