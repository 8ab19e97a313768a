package sizing_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

// inUnit is a desk with a job whose hardness is written in a unit.
func inUnit(t *testing.T, text, unit string) *sizing.Desk {
	t.Helper()
	d := sizing.New(nil)
	d.Own = with(sound(), "water.hardness", text, unit)
	require.Empty(t, d.TakeOwn())
	return d
}

// A figure that is only to be converted cannot be copied from the sheet: it is asked in
// another unit, whatever the sheet has it in and whatever units are read.
func TestTheHardnessOfTheSheetIsNotAskedAsItStands(t *testing.T) {
	for _, row := range []struct {
		text, unit string
		asked      [2]string // in US and SI units
		converted  string    // into the first of these
	}{
		{"20", "gpg", [2]string{"mg/L as CaCO3", "mmol/L"}, "342"},
		{"4.4", "mmol/L", [2]string{"gpg", "mg/L as CaCO3"}, "25.7"},
		{"308.1", "mg/L as CaCO3", [2]string{"gpg", "mmol/L"}, "18"},
		{"22", "dH", [2]string{"gpg", "mmol/L"}, "22.9"},
	} {
		d := inUnit(t, row.text, row.unit)
		e := sizing.Figure(&d.Job, "hardness")
		for sys, units := range e.Units {
			require.Equal(t, row.asked[sys], units[0].Name, row.unit)
			for _, u := range units {
				require.NotEqual(t, row.unit, u.Name)
			}
			require.Len(t, units, 6, row.unit)
		}
		require.Equal(t, "Hardness, converted from "+sizing.UnitName(row.unit), sizing.FigureName(&d.Job, "hardness"))
		for _, copied := range []sizing.Typed{{Text: row.text + " " + row.unit, Unit: row.asked[0]}, {Text: row.text, Unit: row.unit}} {
			f := sizing.Form{}
			f.Set("hardness", copied)
			_, troubles := f.Answer(&d.Job)
			require.Len(t, troubles, 1, "%s: %v", row.unit, copied)
			require.Equal(t, "sizing.bad.unit", troubles[0].ID, "%s: %v", row.unit, copied)
		}
		f := with(sizing.Form{}, "hardness", row.converted, row.asked[0])
		_, troubles := f.Answer(&d.Job)
		require.Empty(t, troubles, row.unit)
	}
}

// The desks of two jobs do not share what is asked.
func TestAJobInOtherUnitsIsAskedByItsOwnSheet(t *testing.T) {
	a, b := inUnit(t, "20", "gpg"), inUnit(t, "4.4", "mmol/L")
	require.Equal(t, "mg/L as CaCO3", sizing.Figure(&a.Job, "hardness").Units[0][0].Name)
	require.Equal(t, "gpg", sizing.Figure(&b.Job, "hardness").Units[0][0].Name)
}

// What a worksheet leaves a blank for is asked in the unit of its result, and what a choice
// rests on is told whole in each language.
func TestAStepIsToldInTheUnitThatIsAsked(t *testing.T) {
	english := regexp.MustCompile(`(?i)\b(the|of|than|with|below|and|is|at|would)\b`)
	told := 0
	for _, l := range say.Langs {
		speak(t, l)
		for _, text := range []string{"20 gpg", "4.4 mmol/L", "22 dH"} {
			number, unit, _ := strings.Cut(text, " ")
			d := inUnit(t, number, unit)
			for _, si := range []bool{false, true} {
				for _, s := range sizing.Steps(&d.Job, d.Solution(), si) {
					if s.ID == "hardness" {
						require.True(t, strings.HasSuffix(s.Result, " "+s.Unit), "%s: %s in %s", text, s.Result, s.Unit)
					}
					if s.Why == "" {
						continue
					}
					told++
					if l != say.English {
						require.NotRegexp(t, english, s.Why)
					}
				}
			}
		}
	}
	require.Greater(t, told, 20)
}

// The smallest house lies before the first row of the table, which is told in each language.
func TestAHouseOfOneBasinIsToldItsPeak(t *testing.T) {
	for l, want := range map[say.Lang][2]string{
		say.English: {"= 0.7 ÷ 1 × 3 gpm", "The table begins with 3 gpm at 1 unit: below that the flow goes with the units."},
		say.Spanish: {"= 0,7 ÷ 1 × 3 gpm", "La tabla empieza en 3 gpm con 1 unidad: por debajo, el caudal es proporcional a las unidades."},
	} {
		speak(t, l)
		d := sizing.New(nil)
		d.Own = sound()
		for _, e := range sizing.JobFields("fixtures") {
			d.Own.Set(e.ID, sizing.Typed{})
		}
		d.Own.Set("fixtures.basin", sizing.Typed{Text: "1"})
		require.Empty(t, d.TakeOwn())
		for _, s := range sizing.Steps(&d.Job, d.Solution(), false) {
			if s.ID == "peak_flow" {
				require.Equal(t, want, [2]string{s.With, s.Why})
			}
		}
	}
}

// A sheet of a class is asked like any other.
func TestAJobOfAClassIsAskedConverted(t *testing.T) {
	job := sim.DrawSizing(3) // in gpg
	d, err := sizing.NewGiven(job.JSON)
	require.NoError(t, err)
	require.Equal(t, "mg/L as CaCO3", sizing.Figure(&d.Job, "hardness").Units[0][0].Name)
}
