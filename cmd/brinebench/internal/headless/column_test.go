package headless

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

// soundColumn is the regeneration run of testdata/reference/README.md.
const soundColumn = `{"bed": {"depth_m": 0.762, "capacity_eq_per_L": 2.0, "void": 0.38, "cells": 40},
 "exchange": "equilibrium", "dispersivity_m": 0,
 "log_k": {"Na": 0, "K": 0.165733, "Ca": 1.018045, "Mg": 0.822591},
 "start_in_equilibrium_with_mmol_L": {"Na": 2, "Ca": 2.280426, "Mg": 1.140213},
 "stages": [{"name": "brine", "inflow_mmol_L": {"Na": 1901.187672}, "shifts": 152, "direction": "down"},
  {"name": "rinse, slow", "inflow_mmol_L": {"Na": 2, "Ca": 2.280426, "Mg": 1.140213}, "shifts": 240, "direction": "up"}]}`

// kineticColumn has what the plant's own bed needs, and what only equilibrium does.
var kineticColumn = strings.NewReplacer(
	`"equilibrium"`, `"kinetic", "flow_m3_s": 3e-5, "area_m2": 0.041`,
	`"shifts": 152`, `"shifts": 152, "seconds": 1500`,
	`"shifts": 240`, `"seconds": 3000, "flow_m3_s": 6e-5`,
).Replace(soundColumn)

// columnRows runs a case and returns its lines.
func columnRows(t *testing.T, text string, flags ...string) [][]string {
	t.Helper()
	var out strings.Builder
	require.NoError(t, Column(append([]string{columnFile(t, text)}, flags...), &out))
	rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
	require.NoError(t, err)
	return rows
}

func columnFile(t *testing.T, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "case.json")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	return file
}

func columnNumbers(t *testing.T, row []string) (x []float64) {
	t.Helper()
	for _, text := range row {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		x = append(x, v)
	}
	return x
}

func TestColumnPrintsARowPerShift(t *testing.T) {
	rows := columnRows(t, soundColumn)
	require.Equal(t, "stage,shift,pore_volumes,Na_mmol_L,K_mmol_L,Ca_mmol_L,Mg_mmol_L,Cl_mmol_L", strings.Join(rows[0], ","))
	require.Len(t, rows, 1+152+240)
	require.Equal(t, []string{"brine", "1", "0.0375", "2", "0", "2.280426", "1.140213", "8.841278"}, rows[1])
	require.Equal(t, []string{"rinse, slow", "1", "3.8375"}, rows[153][:3])
	require.Equal(t, []string{"rinse, slow", "240", "9.8125"}, rows[392][:3])
	for _, row := range rows[1:] {
		x := columnNumbers(t, row[3:])
		require.InEpsilon(t, x[4], x[0]+x[1]+2*(x[2]+x[3]), 1e-12)
	}
	// PHREEQC 3.8.9 with unit activity coefficients, ii_regen_adv, shift 152:
	// testdata/reference/exchange.
	last := columnNumbers(t, rows[152][3:])
	require.InDelta(t, 1901.187672, last[4], 1e-6)
}

func TestColumnPrintsTheProfileFromTheTop(t *testing.T) {
	down := strings.Replace(soundColumn, `"up"`, `"down"`, 1)
	rows := columnRows(t, down, "--profile")
	require.Equal(t, "cell,yNa,yK,yCa,yMg", strings.Join(rows[0], ","))
	require.Len(t, rows, 41)
	// ii_regen_adv.gamma_off.profile.csv, cells 1 and 19.
	require.InDeltaSlice(t, []float64{1, 0.688245649, 0, 0.2078583044, 0.1038960466}, columnNumbers(t, rows[1]), 1e-8)
	require.InDeltaSlice(t, []float64{19, 0.9441170142, 0, 0.05573548928, 0.0001474965425}, columnNumbers(t, rows[19]), 1e-8)
}

// Upwards, the column is the same seen from below.
func TestColumnRunsUpwards(t *testing.T) {
	up, down := strings.Replace(soundColumn, `"down"`, `"up"`, 1), strings.Replace(soundColumn, `"up"`, `"down"`, 1)
	require.Equal(t, columnRows(t, down), columnRows(t, up))
	above, below := columnRows(t, down, "--profile"), columnRows(t, up, "--profile")
	for j := 1; j <= 40; j++ {
		require.Equal(t, above[j][1:], below[41-j][1:])
	}
}

// A slow flow through the plant's own bed comes near to equilibrium, and a fast
// one does not.
func TestKineticColumnApproachesEquilibriumWhenSlow(t *testing.T) {
	gone := func(text string) (hardness float64) {
		for _, row := range columnRows(t, text)[1:153] {
			x := columnNumbers(t, row[3:])
			hardness += x[2] + x[3]
		}
		return hardness
	}
	run := func(flowM3S float64) string {
		one := strings.Replace(kineticColumn, `3e-5`, fmt.Sprint(flowM3S), 1)
		return strings.Replace(one, `1500`, fmt.Sprint(0.38*0.041*0.762/40*152/flowM3S), 1)
	}
	full, slow, fast := gone(soundColumn), gone(run(1e-7)), gone(run(3e-5))
	t.Logf("hardness driven out by the brine: equilibrium %.0f, slow %.0f, as in a plant %.0f", full, slow, fast)
	require.InEpsilon(t, full, slow, 0.03)
	require.Less(t, fast, 0.95*full)
}

func TestKineticColumnPrintsTheSameTable(t *testing.T) {
	rows := columnRows(t, kineticColumn)
	require.Equal(t, "stage,shift,pore_volumes,Na_mmol_L,K_mmol_L,Ca_mmol_L,Mg_mmol_L,Cl_mmol_L", strings.Join(rows[0], ","))
	shifts := 3e-5 * 1500 / (0.38 * 0.041 * 0.762 / 40)
	whole := int(math.Ceil(shifts))
	require.Equal(t, []string{"brine", strconv.Itoa(whole)}, rows[whole][:2])
	require.InDelta(t, (shifts+0.5)/40, columnNumbers(t, rows[whole][2:])[0], 1e-12)
	require.Equal(t, []string{"rinse, slow", "1"}, rows[whole+1][:2])
	profile := columnRows(t, kineticColumn, "--profile")
	require.Len(t, profile, 41)
	for _, row := range profile[1:] {
		y := columnNumbers(t, row[1:])
		require.InDelta(t, 1, y[0]+y[1]+y[2]+y[3], 1e-9)
	}
}

func TestColumnNeedsNoConstantForAnIonThatIsNotThere(t *testing.T) {
	columnRows(t, strings.Replace(soundColumn, `"K": 0.165733, `, ``, 1))
}

func TestColumnRefusesBadCases(t *testing.T) {
	for _, row := range []struct {
		situation, old, with string
		want                 []string
	}{
		{"no cells", `"cells": 40`, `"cells": 0`, []string{"bed.cells: 0 is outside"}},
		{"negative capacity", `2.0`, `-2`, []string{"bed.capacity_eq_per_L: -2 is outside"}},
		{"no capacity", `2.0`, `0`, []string{"bed.capacity_eq_per_L: 0 is outside"}},
		{"all void and more", `0.38`, `1.5`, []string{"bed.void: 1.5 is outside"}},
		{"unknown ion in the water", `"Na": 2,`, `"Na": 2, "Sr": 1,`, []string{"start_in_equilibrium_with_mmol_L.Sr: unknown", "stages[1].inflow_mmol_L.Sr: unknown"}},
		{"unknown ion of a constant", `"Na": 0,`, `"Na": 0, "Li": 1,`, []string{"log_k.Li: unknown"}},
		{"no constant for an ion", `"Ca": 1.018045, `, ``, []string{"log_k: Ca is missing"}},
		{"not a number", `0.762`, `NaN`, []string{"bed.depth_m: "}},
		{"beyond a double", `1901.187672`, `1e400`, []string{"stages[0].inflow_mmol_L.Na: "}},
		{"beyond a double, constant", `1.018045`, `-1e400`, []string{"log_k.Ca: "}},
		{"negative concentration", `"Na": 2,`, `"Na": -2,`, []string{"start_in_equilibrium_with_mmol_L.Na: -2", "stages[1].inflow_mmol_L.Na: -2"}},
		{"no form of the resin", `{"Na": 2, "Ca": 2.280426, "Mg": 1.140213},
 "st`, `{},
 "st`, []string{"start_in_equilibrium_with_mmol_L: holds no ion"}},
		{"other exchange", `"equilibrium"`, `"chelation"`, []string{`exchange: "chelation" is none of`}},
		{"no stages", soundColumn[strings.Index(soundColumn, `"stages"`):], `"stages": []}`, []string{"stages: none"}},
		{"stages left out", soundColumn[strings.Index(soundColumn, `,
 "stages"`):], `}`, []string{"stages is missing"}},
		{"stage without shifts", `, "shifts": 152`, ``, []string{"stages[0]: shifts is missing"}},
		{"stage without inflow", `"inflow_mmol_L": {"Na": 1901.187672}, `, ``, []string{"stages[0]: inflow_mmol_L is missing"}},
		{"no shifts", `152`, `0`, []string{"stages[0].shifts: 0 is outside"}},
		{"part of a shift", `152`, `1.5`, []string{"stages[0].shifts: "}},
		{"too many shifts", `152`, `1e18`, []string{"stages[0].shifts: "}},
		{"too many shifts in all", `152`, `4999999`, []string{"stages: 5000239 shifts in all"}},
		{"sideways", `"up"`, `"left"`, []string{`stages[1].direction: "left" is none of`}},
		{"spread over far too many cells", `"dispersivity_m": 0`, `"dispersivity_m": 1e5`, []string{"dispersivity_m: "}},
		{"negative dispersivity", `"dispersivity_m": 0`, `"dispersivity_m": -1`, []string{"dispersivity_m: -1"}},
		{"unknown field", `"void"`, `"viod"`, []string{"bed.viod: unknown field", "bed: void is missing"}},
		{"bare word", `"brine"`, `brine`, []string{"without quotation marks"}},
		{"nothing", soundColumn, ``, []string{"EOF"}},
		{"no object", soundColumn, `[1]`, []string{"not an object"}},
		{"cut off", soundColumn, soundColumn[:200], []string{"unexpected EOF"}},
		{"kinetic without flow and area", `"equilibrium"`, `"kinetic"`, []string{"area_m2 is missing", "flow_m3_s is missing", "stages[0]: seconds is missing"}},
	} {
		t.Run(row.situation, func(t *testing.T) {
			require.Contains(t, soundColumn, row.old)
			file := columnFile(t, strings.ReplaceAll(soundColumn, row.old, row.with))
			var out strings.Builder
			err := Column([]string{file}, &out)
			require.ErrorContains(t, err, file)
			for _, want := range row.want {
				require.ErrorContains(t, err, want)
			}
			require.Empty(t, out.String())
		})
	}
}

func TestColumnTellsAllFaultsAtOnce(t *testing.T) {
	text := strings.NewReplacer(`0.762`, `NaN`, `2.0`, `-1`, `"cells": 40`, `"cells": 0`, `152`, `-3`, `"K"`, `"Fe"`, `"up"`, `7`).Replace(soundColumn)
	err := Column([]string{columnFile(t, text)}, &strings.Builder{})
	for _, want := range []string{"depth_m", "capacity_eq_per_L", "cells", "stages[0].shifts", "log_k.Fe", "stages[1].direction"} {
		require.ErrorContains(t, err, want)
	}
	require.Len(t, strings.Split(err.Error(), "\n"), 6, "%v", err)
}

func TestKineticColumnRefusesWhatThePlantsBedIsNot(t *testing.T) {
	for _, row := range []struct{ old, with, want string }{
		{`"cells": 40`, `"cells": 20`, "bed.cells: 20"},
		{`"dispersivity_m": 0`, `"dispersivity_m": 0.1`, "dispersivity_m: 0.1"},
		{`0.38`, `1`, "bed.void: 1"},
		{`3000`, `1e9`, "stages: "},
		{`0.165733`, `49`, "KK"},
	} {
		err := Column([]string{columnFile(t, strings.Replace(kineticColumn, row.old, row.with, 1))}, &strings.Builder{})
		require.ErrorContains(t, err, row.want)
	}
}

func TestColumnRefusesARunThatWouldNotEnd(t *testing.T) {
	for _, edit := range []*strings.Replacer{
		strings.NewReplacer(`152`, `4000000`, `"cells": 40`, `"cells": 10000`),
		strings.NewReplacer(`152`, `4000000`, `"dispersivity_m": 0`, `"dispersivity_m": 1.9`),
	} {
		err := Column([]string{columnFile(t, edit.Replace(soundColumn))}, &strings.Builder{})
		require.ErrorContains(t, err, "stages: ")
		require.ErrorContains(t, err, "turns")
	}
}

func TestColumnRefusesALongFile(t *testing.T) {
	file := columnFile(t, strings.Repeat(" ", maxColumn+1))
	require.ErrorContains(t, Column([]string{file}, &strings.Builder{}), "longer than")
	require.Error(t, Column([]string{"nowhere.json"}, &strings.Builder{}))
	require.Error(t, Column(nil, &strings.Builder{}))
}

// What is let pass runs, and gives numbers. Long runs are left out.
func FuzzColumnCase(f *testing.F) {
	f.Add(soundColumn)
	f.Add(kineticColumn)
	f.Add(strings.Replace(soundColumn, `"dispersivity_m": 0`, `"dispersivity_m": 0.01`, 1))
	f.Fuzz(func(t *testing.T, text string) {
		c, err := decodeColumn("case.json", []byte(text))
		if err != nil {
			return
		}
		require.True(t, json.Valid([]byte(text)))
		for i := range c.stages {
			c.stages[i].shifts = min(c.stages[i].shifts, 20)
			c.stages[i].seconds = min(c.stages[i].seconds, 20*c.cellWaterM3()/max(c.flow(c.stages[i]), 1e-12))
		}
		if c.cells > 200 || len(c.stages) > 20 || c.column().Mixes() > 50 {
			return
		}
		begun := time.Now()
		run := c.runEquilibrium
		if c.kinetic {
			run = c.runKinetic
		}
		profile, err := run(func(_ string, _ int, pv float64, w water.Ions) {
			require.True(t, w.Anion() >= 0 && w.Anion() < 1e7 && pv > 0, "%v %v", pv, w)
		})
		if err != nil {
			require.True(t, c.kinetic, "%v", err)
			return
		}
		for _, y := range profile {
			require.InDelta(t, 1, y[0]+y[1]+y[2]+y[3], 1e-6)
		}
		require.Less(t, time.Since(begun), 20*time.Second)
	})
}
