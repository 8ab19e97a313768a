package resin

import (
	"math"
	"testing"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

// monovalent is a bed without maldistribution, of 1/beds of the usual depth, that
// exchanges sodium for potassium with a constant separation factor r, held up by
// the beads alone: kp/perS·Q/c0, times 2/(1+r), makes n transfer units in all.
func monovalent(t *testing.T, beds int, r, n, normality, perS float64) *Model {
	t.Helper()
	sp := DefaultSpec(ft3/float64(beds), 0.041)
	sp.KK, sp.PathSpread, sp.FreeboardM3, sp.PlenumM3 = 1/r, 0, 1e-12, 1e-12
	sp.LiquidDiffusivityM2S = 1e-4
	m, err := NewModel(sp)
	require.NoError(t, err)
	_, particle := m.rates(perS*Cells, 25)
	lag := sp.CapacityEqM3 / normality
	sp.ParticleDiffusivityM2S *= n * perS / lag * (1 + r) / 2 / particle
	m, err = NewModel(sp)
	require.NoError(t, err)
	return m
}

// breakthrough returns what leaves the last of beds in series, over what enters
// the first, at the throughputs T = (volume − pores)·c0/(Q·bed), which rise.
// step is in MaxVolume.
func breakthrough(m *Model, beds int, normality, perS, step float64, throughput []float64) (got []float64) {
	states := make([]State, beds)
	for i := range states {
		states[i] = m.Fresh(water.Ions{water.Na: normality})
	}
	v := step * m.MaxVolume()
	lag := m.spec.CapacityEqM3 / normality
	time, dt := -v/ft3/perS/2, v/ft3/perS
	last, out := 0.0, 0.0
	for _, at := range throughput {
		at = (at*lag + m.spec.Void) / perS
		for time < at {
			last = out
			w := water.Ions{water.K: normality}
			for i := range states {
				_, w = m.March(&states[i], Ports{TopInM3: v, BottomOutM3: v, TopIn: w, TempC: 25}, dt)
			}
			out = w[water.K] / normality
			time += dt
		}
		got = append(got, out-(out-last)*(time-at)/dt)
	}
	return got
}

// Thomas, J. Am. Chem. Soc. 66 (1944) 1664, has the kinetics of a reaction. Ours,
// a linear driving force in the bead, is the same times 1/(r + (1−r)·x), which is
// 1 for r = 1, the linear exchange in which the two agree, and 2/(1+r) at x = ½,
// which Hiester & Vermeulen, Chem. Eng. Prog. 48 (1952) 505, take for the whole.
func TestConstantSeparationFactorFollowsThomas(t *testing.T) {
	const normality, perS = 100.0, 0.004
	rows := refdata.Rows(t, "tables/thomas_1944_breakthrough.csv")
	for _, c := range []struct{ r, n, within float64 }{
		{1, 20, 0.003},
		{1, 50, 0.006},
		{0.5, 50, 0.06},
		{2, 20, 0.02},
		{2, 50, 0.01},
	} {
		var at, want []float64
		for _, row := range rows {
			if row.Number("separation_factor_R") == c.r && row.Number("N_transfer_units") == c.n {
				at = append(at, row.Number("T_throughput"))
				want = append(want, row.Number("c_over_c0"))
			}
		}
		require.NotEmpty(t, at)
		got := breakthrough(monovalent(t, 1, c.r, c.n, normality, perS), 1, normality, perS, 1, at)
		worst, middle := 0.0, 0.0
		for i := range at {
			worst = max(worst, math.Abs(got[i]-want[i]))
			if at[i] == 1 {
				middle = got[i] - want[i]
			}
		}
		t.Logf("r %g, n %g: worst difference %.4f, at T = 1 %+.4f", c.r, c.n, worst, middle)
		require.Less(t, worst, c.within)
	}
}

// Where potassium is the more wanted ion, its front settles to a shape that travels
// unchanged. With x = y in it and a linear driving force in the bead, whose units
// are N = kp·Q·bed/(c0·flow), the balance gives (after Glueckauf & Coates, J. Chem.
// Soc. (1947) 1315, from memory; integrated here)
//
//	N·(T − 1) = r/(1−r)·ln(x/(1−x)) − ln(1−x) − 1
func TestFavourableFrontHasItsConstantPattern(t *testing.T) {
	const normality, perS, n = 400.0, 0.004, 50.0
	for _, r := range []float64{0.5, 0.2} {
		var at, want []float64
		for x := 0.05; x < 0.96; x += 0.05 {
			want = append(want, x)
			at = append(at, 1+(r/(1-r)*math.Log(x/(1-x))-math.Log(1-x)-1)/(n*(1+r)/2))
		}
		coarser := 0.2
		for _, beds := range []int{1, 2, 4} { // in series
			worst := 0.0
			for i, got := range breakthrough(monovalent(t, beds, r, n, normality, perS), beds, normality, perS, 1, at) {
				worst = max(worst, math.Abs(got-want[i]))
			}
			t.Logf("r %g, %3d cells: worst difference %.4f", r, beds*Cells, worst)
			require.Less(t, worst, 0.5*coarser)
			coarser = worst
		}
	}
}

// The table of convergence in testdata/reference/README.md: pulse of equal ions
// against Klinkenberg's J at 50 transfer units. 80 and 160 cells are two and four
// beds in series.
func TestBedConvergesInCellsAndStep(t *testing.T) {
	const normality, perS, xi = 400.0, 0.004, 50.0
	var at, want []float64
	for _, row := range refdata.Rows(t, "tables/anzelius_klinkenberg_J.csv") {
		if row.Number("xi") == xi {
			at = append(at, row.Number("tau")/xi)
			want = append(want, row.Number("c_over_c0_exact_J"))
		}
	}
	worst := func(beds int, step float64) (e float64) {
		got := breakthrough(monovalent(t, beds, 1, xi, normality, perS), beds, normality, perS, step, at)
		for n := range got {
			e = max(e, math.Abs(got[n]-want[n]))
		}
		t.Logf("%3d cells, step %g: worst difference %.5f", beds*Cells, step, e)
		return e
	}
	one, half := worst(1, 1), worst(1, 0.5)
	require.InEpsilon(t, half, one, 0.1)
	require.Less(t, one, worst(1, 2))
	require.Less(t, worst(1, 2), worst(1, 4))
	two := worst(2, 1)
	require.Less(t, two, 0.5*one)
	require.Less(t, worst(4, 1), 0.6*two)
}
