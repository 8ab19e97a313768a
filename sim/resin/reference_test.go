package resin

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

const reference = "../../testdata/reference/"

// table reads columns of numbers by name; text reads as not a number.
func table(t *testing.T, name string) map[string][]float64 {
	t.Helper()
	f, err := os.Open(reference + name)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	cols := map[string][]float64{}
	for _, row := range rows[1:] {
		for i, head := range rows[0] {
			x, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				x = math.NaN()
			}
			cols[head] = append(cols[head], x)
		}
	}
	return cols
}

// Gaines and Thomas, J. Chem. Phys. 21 (1953) 714, in closed form: see
// testdata/reference/tables/SOURCES.csv.
func TestEquilibriumFollowsGainesThomas(t *testing.T) {
	f, err := os.Open(reference + "tables/gaines_thomas_binary_divalent_Na.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	num := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return x
	}
	for n, row := range rows[1:] {
		ion, normality, k, x, want := water.Ca, num(row[1]), num(row[2]), num(row[3]), num(row[4])
		if row[0] == "Mg" {
			ion = water.Mg
		}
		m := testModel(t, func(sp *Spec) {
			if ion == water.Ca {
				sp.KCa = k
			} else {
				sp.KMg = k
			}
		})
		w := water.Ions{water.Na: 1000 * normality * (1 - x)}
		w[ion] = 500 * normality * x
		var s State
		m.Equilibrate(&s, w)
		require.InEpsilon(t, want, s.Q[1][17][ion]/m.spec.CapacityEqM3, 1e-10, "row %d %v", n+2, row)
		if n%20 > 0 {
			continue
		}
		s = m.Fresh(w) // the march comes to rest at the same point
		for range 40 {
			m.March(&s, Ports{TopInM3: 1e4, BottomOutM3: 1e4, TopIn: w, TempC: 25}, 1e7)
		}
		// A march of 1e9 cell volumes leaves about 1e9 rounding errors of 1e-16.
		require.InEpsilon(t, want, s.Q[1][17][ion]/m.spec.CapacityEqM3, 1e-6, "row %d marched", n+2)
	}
}

// Exchange between two ions of equal selectivity is linear, and film and
// particle resistance then add up: Anzelius' solution holds. Table: Klinkenberg,
// Ind. Eng. Chem. 46 (1954) 2285, see SOURCES.csv.
func TestLinearExchangeFollowsAnzelius(t *testing.T) {
	const normality, perS = 100.0, 0.004 // mol/m³, bed volumes per second
	j := table(t, "tables/anzelius_klinkenberg_J.csv")
	for _, xi := range []float64{10, 20, 50} {
		sp := DefaultSpec(ft3, 0.041)
		sp.KK, sp.PathSpread, sp.FreeboardM3, sp.PlenumM3 = 1, 0, 1e-12, 1e-12
		m, err := NewModel(sp)
		require.NoError(t, err)
		film, particle := m.rates(perS*Cells, 25)
		lag := sp.CapacityEqM3 / normality
		k := xi * perS / lag
		sp.ParticleDiffusivityM2S *= 1 / (1/k - lag/film) / particle // so that both resist
		m, err = NewModel(sp)
		require.NoError(t, err)

		s := m.Fresh(water.Ions{water.Na: normality})
		v := m.MaxVolume()
		dt := v / ft3 / perS
		worst, rows, time, last, out := 0.0, 0, -dt/2, 0.0, 0.0
		for i := range j["xi"] {
			if j["xi"][i] != xi {
				continue
			}
			at := j["tau"][i]/k + sp.Void/perS
			for time < at {
				last = out
				_, w := m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: water.Ions{water.K: normality}, TempC: 25}, dt)
				out = w[water.K] / normality
				time += dt
			}
			got := out - (out-last)*(time-at)/dt
			worst = max(worst, math.Abs(got-j["c_over_c0_exact_J"][i]))
			rows++
		}
		t.Logf("xi %g: %d points, worst difference %.5f", xi, rows, worst)
		require.Greater(t, rows, 5)
		require.Less(t, worst, 0.01)
	}
}

// nearEquilibrium is the bed of the reference columns, with exchange so fast
// that nothing but equilibrium is left.
func nearEquilibrium(t *testing.T) *Model {
	return testModel(t, func(sp *Spec) {
		sp.DepthM, sp.CapacityEqM3, sp.Void = 0.762, 2000, 0.38
		sp.KK, sp.KCa, sp.KMg = math.Pow(10, 0.165733), math.Pow(10, 1.018045), math.Pow(10, 0.822591)
		sp.ParticleDiffusivityM2S, sp.LiquidDiffusivityM2S = 1e-7, 1e-5
		sp.PathSpread, sp.FreeboardM3, sp.PlenumM3 = 0, 1e-12, 1e-12
	})
}

var columnFeed = water.Ions{water.Na: 2, water.Ca: 2.280426, water.Mg: 1.140213}

// crossing returns where y first passes level, between points.
func crossing(x, y []float64, level float64) float64 {
	for i := 1; i < len(y); i++ {
		if (y[i-1] < level) != (y[i] < level) {
			return x[i-1] + (x[i]-x[i-1])*(level-y[i-1])/(y[i]-y[i-1])
		}
	}
	return math.NaN()
}

// mixingColumn is the reference's own scheme on the cell of this package: each
// shift moves the water one cell on, then every cell comes to equilibrium.
type mixingColumn struct {
	x    exchange
	c, q []water.Ions
	root []float64
}

func newMixingColumn(m *Model, cells int, w water.Ions) *mixingColumn {
	var s State
	m.Equilibrate(&s, w)
	k := &mixingColumn{root: make([]float64, cells)}
	k.x = exchange{trend: 1, w: 0.5, store: m.spec.Void, a: m.spec.Void, b: 1, reach: 1, hold: m.kappa.Scale(m.spec.CapacityEqM3)}
	for range cells {
		k.c, k.q = append(k.c, w), append(k.q, s.Q[0][0])
	}
	return k
}

func (k *mixingColumn) shift(in water.Ions) (out water.Ions) {
	copy(k.c[1:], k.c)
	k.c[0] = in
	for j := range k.c {
		out, before := in, in
		k.x.cell(&k.c[j], &k.q[j], &k.root[j], &out, &before, &in)
	}
	return k.c[len(k.c)-1]
}

// Column runs of PHREEQC 3.8.9, unit activity coefficients: see
// testdata/reference/README.md.
func TestCellReproducesReferenceColumn(t *testing.T) {
	t.Run("service", func(t *testing.T) {
		ref := table(t, "exchange/i_service_adv.gamma_off.effluent.csv")
		k := newMixingColumn(nearEquilibrium(t), 20, water.Ions{water.Na: columnFeed.Anion()})
		var out water.Ions
		for row, shift := range ref["shift_total"] {
			for range 10 {
				out = k.shift(columnFeed)
			}
			require.InDelta(t, ref["Na_mmol_kgw"][row], out[water.Na], 1e-4, "shift %g", shift)
			require.InDelta(t, ref["Ca_mmol_kgw"][row], out[water.Ca], 1e-4, "shift %g", shift)
			require.InDelta(t, ref["Mg_mmol_kgw"][row], out[water.Mg], 1e-4, "shift %g", shift)
		}
	})
	t.Run("regeneration", func(t *testing.T) {
		ref := table(t, "exchange/ii_regen_adv.gamma_off.effluent.csv")
		k := newMixingColumn(nearEquilibrium(t), 40, columnFeed)
		for shift := range ref["shift_total"] {
			out := k.shift(regenerant(shift, 1))
			require.InDelta(t, ref["Na_mmol_kgw"][shift], out[water.Na], 1e-2, "shift %d", shift)
			require.InDelta(t, ref["Ca_mmol_kgw"][shift], out[water.Ca], 1e-2, "shift %d", shift)
			require.InDelta(t, ref["Mg_mmol_kgw"][shift], out[water.Mg], 1e-2, "shift %d", shift)
		}
	})
}

// Example 11 of the PHREEQC manual (USGS TM 6-A43), a bed with potassium. Its
// activity coefficients are not ours, hence the width of the tolerance.
func TestCellFollowsPotassiumOffTheColumn(t *testing.T) {
	ref := table(t, "exchange/ex11_advection.csv")
	m := testModel(t, func(sp *Spec) {
		sp.Void, sp.CapacityEqM3 = 0.4, 0.4*1.1
		sp.KK, sp.KCa = math.Pow(10, 0.7), math.Pow(10, 0.8)
	})
	k := newMixingColumn(m, 40, water.Ions{water.Na: 1, water.K: 0.2})
	for row := range ref["step"] {
		out := k.shift(water.Ions{water.Ca: 0.6})
		require.InDelta(t, 1e3*ref["Na_mol_kgw"][row], out[water.Na], 0.05, "shift %d", row+1)
		require.InDelta(t, 1e3*ref["K_mol_kgw"][row], out[water.K], 0.05, "shift %d", row+1)
		require.InDelta(t, 1e3*ref["Ca_mol_kgw"][row], out[water.Ca], 0.05, "shift %d", row+1)
	}
}

// regenerant is what enters at a shift of the reference's regeneration, with
// fine shifts to one of its own.
func regenerant(shift, fine int) water.Ions {
	if shift < 152*fine {
		return water.Ions{water.Na: 1901.187672}
	}
	return columnFeed
}

func TestServiceBreakthroughMatchesEquilibriumColumn(t *testing.T) {
	ref := table(t, "exchange/i_service_adv.gamma_off.effluent.csv")
	m := nearEquilibrium(t)
	s := m.Fresh(columnFeed)
	var pv, hard, ca []float64
	v := 2 * m.MaxVolume()
	pore := m.spec.Void * m.spec.AreaM2 * m.spec.DepthM
	for x := v / 2; x < 1300*pore; x += v {
		_, out := m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: columnFeed, TempC: 25}, 1)
		pv, hard, ca = append(pv, x/pore), append(hard, out.Hardness()/gpg), append(ca, out[water.Ca])
	}
	at := ref["pore_volumes_mid"]
	for _, c := range []struct {
		name      string
		got, want float64
		within    float64
	}{
		{"hardness at half the feed", crossing(pv, hard, 10), crossing(at, ref["hardness_gpg_as_CaCO3"], 10), 0.002},
		// The calcium front is wide in the reference's 20 mixed cells, and lopsided.
		{"calcium at half the feed", crossing(pv, ca, 1.14), crossing(at, ref["Ca_mmol_kgw"], 1.14), 0.015},
		{"hardness taken up", taken(pv, hard), taken(at, ref["hardness_gpg_as_CaCO3"]), 0.002},
		{"calcium taken up", taken(pv, ca), taken(at, ref["Ca_mmol_kgw"]), 0.002},
	} {
		t.Logf("%s: %.1f pore volumes, reference %.1f", c.name, c.got, c.want)
		require.InEpsilon(t, c.want, c.got, c.within, c.name)
	}
}

// taken returns the pore volumes whose whole content has stayed in the bed.
func taken(pv, c []float64) (sum float64) {
	end := c[len(c)-1]
	for i := 1; i < len(pv); i++ {
		sum += (pv[i] - pv[i-1]) * (1 - 0.5*(c[i]+c[i-1])/end)
	}
	return sum
}

// Against the reference's scheme in 20 times as many cells, whose own mixing is
// then small; the 40 mixed cells of the reference itself differ from it by more
// than this march does.
func TestRegenerationMatchesFineEquilibriumColumn(t *testing.T) {
	const fine = 20
	m := nearEquilibrium(t)
	var s State
	m.Equilibrate(&s, columnFeed)
	k := newMixingColumn(m, Cells*fine, columnFeed)
	v := m.MaxVolume()
	worst, gone, wantGone := 0.0, 0.0, 0.0
	for shift := range 392 {
		got, want := 0.0, 0.0
		for range fine {
			out := k.shift(regenerant(shift*fine, fine))
			want += out.Hardness() / fine
		}
		for range 2 {
			_, out := m.March(&s, Ports{TopInM3: v, BottomOutM3: v, TopIn: regenerant(shift, 1), TempC: 25}, 1)
			got += out.Hardness() / 2
		}
		gone, wantGone = gone+got, wantGone+want
		if shift < 36 || shift > 44 && shift < 188 { // away from the two salt fronts
			worst = max(worst, math.Abs(got-want))
		}
	}
	t.Logf("hardness driven out %.0f, reference %.0f; worst difference %.1f of 934 mol/m³", gone, wantGone, worst)
	require.InEpsilon(t, wantGone, gone, 0.01)
	require.Less(t, worst, 60.0)
}
