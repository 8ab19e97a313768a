package resin

import (
	"math"
	"math/rand"
	"testing"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/repro"
	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

func newTestColumn(t testing.TB, sp ColumnSpec) *Column {
	t.Helper()
	k, err := NewColumn(sp)
	require.NoError(t, err)
	return k
}

// softenerSpec is the bed of the reference's service and regeneration.
func softenerSpec(cells int) ColumnSpec {
	return ColumnSpec{
		DepthM: 0.762, CapacityEqM3: 2000, Void: 0.38, Cells: cells,
		LogK: water.Ions{water.K: 0.165733, water.Ca: 1.018045, water.Mg: 0.822591},
	}
}

// manualSpec is the bed of example 11 of the PHREEQC manual, 0.0011 eq per kg of
// pore water. Any void will do.
func manualSpec(dispersivityM float64) ColumnSpec {
	return ColumnSpec{
		DepthM: 0.08, CapacityEqM3: 1.1 * 0.4, Void: 0.4, Cells: 40, DispersivityM: dispersivityM,
		LogK: water.Ions{water.K: 0.7, water.Ca: 0.8},
	}
}

// Example 11 of the PHREEQC manual, USGS TM 6-A43: in its database the activity
// coefficients of an ion in water and on the resin are the same and cancel.
func TestColumnReproducesThePublishedExample(t *testing.T) {
	for _, c := range []struct {
		file          string
		dispersivityM float64
		within        float64 // mmol/L
	}{
		{"exchange/ex11_advection.csv", 0, 5.1e-5}, // printed with 5 digits
		{"exchange/ex11_transport.csv", 0.002, 5e-7},
	} {
		k := newTestColumn(t, manualSpec(c.dispersivityM))
		k.Equilibrate(water.Ions{water.Na: 1, water.K: 0.2})
		var worst water.Ions
		for _, row := range refdata.Rows(t, c.file) {
			if row.Number("step") > 0 {
				require.True(t, k.Shift(water.Ions{water.Ca: 0.6}, false))
			}
			want := water.Ions{row.Number("Na_mol_kgw"), row.Number("K_mol_kgw"), row.Number("Ca_mol_kgw")}
			widen(&worst, k.Water(39), want.Scale(1000))
		}
		t.Logf("%s: worst differences %.2g mmol/L, %d rounds of mixing", c.file, worst, k.mixes)
		require.Less(t, max(worst[0], worst[1], worst[2], worst[3]), c.within)
	}
}

// widen raises worst to the differences between got and want.
func widen(worst *water.Ions, got, want water.Ions) {
	for i := range worst {
		worst[i] = max(worst[i], math.Abs(got[i]-want[i]))
	}
}

// Salt through resin that has nothing to exchange moves as chloride does.
func TestColumnSpreadsATracerAsTheReferenceDoes(t *testing.T) {
	k := newTestColumn(t, manualSpec(0.002))
	engine, analytic := 0.0, 0.0
	for _, row := range refdata.Rows(t, "exchange/ex11_cl_vs_ogata_banks.csv") {
		require.True(t, k.Shift(water.Ions{water.Na: 1.2}, false))
		got := k.Water(39).Anion()
		engine = max(engine, math.Abs(got-row.Number("Cl_engine_mmol")))
		analytic = max(analytic, math.Abs(got-row.Number("Cl_OgataBanks_mmol")))
	}
	t.Logf("chloride: %.2g mmol/L from the reference, %.4f from Ogata and Banks", engine, analytic)
	require.Less(t, engine, 1e-8)
	require.InDelta(t, 2.474e-3, analytic, 1e-6) // the reference's own greatest difference
}

// Column runs of PHREEQC 3.8.9 with unit activity coefficients, printed with 7 to
// 10 digits; it iterates to 1e-8 (from memory).
func TestColumnReproducesTheServiceRun(t *testing.T) {
	k := newTestColumn(t, softenerSpec(20))
	k.Equilibrate(water.Ions{water.Na: 8.841279})
	var worst, resin water.Ions
	for _, row := range refdata.Rows(t, "exchange/i_service_adv.gamma_off.effluent.csv") {
		for range 10 {
			require.True(t, k.Shift(columnFeed, false))
		}
		worstOf(&worst, &resin, k, 19, row, "_outlet_cell")
	}
	t.Logf("outlet: worst differences %.2g mmol/L, %.2g on the resin", worst, resin)
	profile, onResin := compareProfile(t, k, "exchange/i_service_adv.gamma_off.profile.csv")
	t.Logf("profile: worst differences %.2g mmol/L, %.2g on the resin", profile, onResin)
	require.Less(t, highest(worst), 2e-6)
	require.Less(t, highest(resin), 5e-7)
	require.Less(t, highest(profile), 1e-8)
	require.Less(t, highest(onResin), 1e-8)
}

func TestColumnReproducesTheRegenerationRun(t *testing.T) {
	k := newTestColumn(t, softenerSpec(40))
	k.Equilibrate(columnFeed)
	var worst, resin water.Ions
	for n, row := range refdata.Rows(t, "exchange/ii_regen_adv.gamma_off.effluent.csv") {
		require.True(t, k.Shift(regenerant(n, 1), false))
		worstOf(&worst, &resin, k, 39, row, "_outlet_cell")
	}
	t.Logf("outlet: worst differences %.2g of 1901 mmol/L, %.2g on the resin", worst, resin)
	profile, onResin := compareProfile(t, k, "exchange/ii_regen_adv.gamma_off.profile.csv")
	t.Logf("profile: worst differences %.2g mmol/L, %.2g on the resin", profile, onResin)
	require.Less(t, highest(worst), 5e-6)
	require.Less(t, highest(resin), 5e-7)
	require.Less(t, highest(profile), 1e-8)
	require.Less(t, highest(onResin), 1e-8)
}

func highest(w water.Ions) float64 { return max(w[0], w[1], w[2], w[3]) }

// worstOf raises c and y to the differences of cell j from a row of the
// reference, in water (mmol/L) and on the resin.
func worstOf(c, y *water.Ions, k *Column, j int, row refdata.Row, suffix string) {
	widen(c, k.Water(j), water.Ions{
		water.Na: row.Number("Na_mmol_kgw"), water.Ca: row.Number("Ca_mmol_kgw"), water.Mg: row.Number("Mg_mmol_kgw"),
	})
	widen(y, k.Resin(j), water.Ions{
		water.Na: row.Number("yNa" + suffix), water.Ca: row.Number("yCa" + suffix), water.Mg: row.Number("yMg" + suffix),
	})
}

func compareProfile(t *testing.T, k *Column, file string) (c, y water.Ions) {
	rows := refdata.Rows(t, file)
	require.Len(t, rows, k.Cells())
	for j, row := range rows {
		worstOf(&c, &y, k, j, row, "")
	}
	return c, y
}

// The exit of a column of length L against the half-infinite column of Ogata and
// Banks, USGS Prof. Paper 411-A (1961), and the concentration at L within a
// column twice as long against Lindstrom et al., Soil Sci. Soc. Am. Proc. 31
// (1967) 701, whose inlet is ours. Chloride enters at 1 mmol/L.
func TestDispersionConvergesToTheAnalyticSolutions(t *testing.T) {
	rows := refdata.Rows(t, "tables/ogata_banks.csv")
	for _, peclet := range []float64{5, 20, 80} {
		exits, withins := 1.0, 1.0
		for _, cells := range []int{10, 20, 40, 80, 160} {
			if peclet < 20 && cells > 40 {
				continue // hundreds of rounds of mixing a shift
			}
			exit, within := dispersionErrors(t, rows, peclet, cells)
			t.Logf("vL/D %3g, %3d cells: exit %.5f from Ogata and Banks, within %.5f from Lindstrom", peclet, cells, exit, within)
			require.Less(t, within, 0.6*withins)
			exits, withins = exit, within
		}
		// What stays at the exit: a column that ends there disperses nothing
		// through its end.
		require.Less(t, exits, 0.12/math.Sqrt(peclet)+0.001)
		require.Less(t, withins, 0.005)
	}
}

func dispersionErrors(t *testing.T, rows []refdata.Row, peclet float64, cells int) (exit, within float64) {
	sp := ColumnSpec{DepthM: 1, CapacityEqM3: 1, Void: 0.4, Cells: cells, DispersivityM: 1 / peclet}
	short := newTestColumn(t, sp)
	sp.DepthM, sp.Cells = 2, 2*cells
	long := newTestColumn(t, sp)
	passed, last := 0, 0.0
	for _, row := range rows {
		if row.Number("Peclet_vL_over_D") != peclet {
			continue
		}
		at := row.Number("T_vt_over_L")
		for ; passed < int(math.Round(at*float64(cells))); passed++ {
			last = short.Water(cells - 1).Anion()
			short.Shift(water.Ions{water.Na: 1}, false)
			long.Shift(water.Ions{water.Na: 1}, false)
		}
		// The last cell stands for half a shift later; the edge at L lies between two cells.
		exit = max(exit, math.Abs((last+short.Water(cells-1).Anion())/2-row.Number("C_over_C0_OgataBanks")))
		edge := (long.Water(cells-1).Anion() + long.Water(cells).Anion()) / 2
		within = max(within, math.Abs(edge-row.Number("C_over_C0_resident_flux_inlet_Lindstrom1967")))
	}
	return exit, within
}

// Gaines and Thomas, J. Chem. Phys. 21 (1953) 714, in closed form. One cell is
// washed from the sodium form until it is at rest.
func TestColumnComesToRestAtGainesAndThomas(t *testing.T) {
	low, high := math.Inf(1), 0.0 // separation factor
	points, worst := 0, 0.0
	for _, row := range refdata.Rows(t, "tables/gaines_thomas_binary_divalent_Na.csv") {
		ion := water.Ca
		if row.Text("divalent") == "Mg" {
			ion = water.Mg
		}
		normality, x := row.Number("total_normality_eq_per_kgw"), row.Number("x_equiv_fraction_solution")
		sp := softenerSpec(1)
		sp.LogK[ion] = math.Log10(row.Number("K_GT"))
		w := water.Ions{water.Na: 1000 * normality * (1 - x)}
		w[ion] = 500 * normality * x
		y := washed(t, sp, w)[ion]
		want := row.Number("y_equiv_fraction_resin")
		worst = max(worst, math.Abs(y/want-1))
		points++
		alpha := y * (1 - x) / (x * (1 - y))
		low, high = min(low, alpha), max(high, alpha)
	}
	t.Logf("%d points of 0.001 to 5 N, worst relative difference %.2g, separation factors %.3g to %.3g", points, worst, low, high)
	require.Less(t, worst, 1e-9)
	require.Less(t, low, 1.0) // selectivity reversed in strong brine
	require.Greater(t, high, 100.0)
}

// Four ions at once have a closed form too: with u = y_Na the mass action of K
// is linear in u, that of Ca and Mg square, and all fractions add up to 1.
func TestColumnComesToRestWithFourIons(t *testing.T) {
	worst := 0.0
	for _, normality := range []float64{0.001, 0.01, 0.1, 0.5, 1, 2} {
		for _, x := range []water.Ions{{0.5, 0, 0.3, 0.2}, {0.9, 0, 0.05, 0.05}, {0.1, 0, 0.6, 0.3}, {0.4, 0.2, 0.3, 0.1}, {0.05, 0.9, 0.04, 0.01}} {
			sp := softenerSpec(1)
			w := x.Scale(1000 * normality)
			w[water.Ca], w[water.Mg] = w[water.Ca]/2, w[water.Mg]/2
			y := washed(t, sp, w)
			na := w[water.Na] / 1000
			k := math.Pow(10, sp.LogK[water.K]) * w[water.K] / 1000 / na
			ca := math.Pow(10, sp.LogK[water.Ca]) * w[water.Ca] / 1000 / (na * na)
			mg := math.Pow(10, sp.LogK[water.Mg]) * w[water.Mg] / 1000 / (na * na)
			u := 2 / ((1 + k) + math.Sqrt((1+k)*(1+k)+4*(ca+mg)))
			for i, want := range (water.Ions{u, k * u, ca * u * u, mg * u * u}) {
				if want > 0 {
					worst = max(worst, math.Abs(y[i]/want-1))
				}
			}
		}
	}
	t.Logf("30 points of 0.001 to 2 N, worst relative difference %.2g", worst)
	require.Less(t, worst, 1e-9)
}

// washed returns the resin of one cell in the sodium form after w has passed
// until nothing changes, and requires Equilibrate to give the same. The capacity
// says only how long that takes: it is twice what stands in the water.
func washed(t *testing.T, sp ColumnSpec, w water.Ions) water.Ions {
	sp.CapacityEqM3 = 2 * w.Anion()
	scarce := math.Inf(1)
	for _, c := range w {
		if c > 0 {
			scarce = min(scarce, c)
		}
	}
	k := newTestColumn(t, sp)
	for range 100 + int(40*sp.CapacityEqM3/(sp.Void*scarce)) {
		k.Shift(w, false)
	}
	y := k.Resin(0)
	k.Equilibrate(w)
	direct := k.Resin(0)
	require.InDeltaSlice(t, direct[:], y[:], 1e-10, "%v", w)
	return y
}

// randomWater is anything from pure water to strong brine.
func randomWater(r *rand.Rand) (w water.Ions) {
	strength := math.Pow(10, 7*r.Float64()-3.5)
	for i := range w {
		if r.Intn(3) > 0 {
			w[i] = strength * r.Float64()
		}
	}
	return w
}

func TestColumnConservesIonsAndCharge(t *testing.T) {
	ions, charge, resin := 0.0, 0.0, 0.0
	for seed := range int64(6) {
		r := rand.New(rand.NewSource(seed))
		sp := softenerSpec(1 + r.Intn(30))
		sp.DispersivityM = float64(seed%3) * 0.02
		k := newTestColumn(t, sp)
		k.Equilibrate(columnFeed)
		held := k.inventory()
		gross, anion, grossAnion := held, 0.0, 0.0
		for j := range k.cells {
			anion += sp.Void * k.Water(j).Anion()
		}
		w, up := columnFeed, false
		for range 4000 {
			if r.Intn(20) == 0 {
				w, up = randomWater(r), r.Intn(2) == 0
			}
			out := k.Water(k.Cells() - 1)
			if up {
				out = k.Water(0)
			}
			require.True(t, k.Shift(w, up))
			held = held.Plus(sp.Void, w).Plus(-sp.Void, out)
			gross = gross.Plus(sp.Void, w)
			anion += sp.Void * (w.Anion() - out.Anion())
			grossAnion += sp.Void * w.Anion()
			requirePositiveColumn(t, k)
		}
		now, nowAnion := k.inventory(), 0.0
		for j := range k.cells {
			nowAnion += sp.Void * k.Water(j).Anion()
			y := k.Resin(j)
			resin = max(resin, math.Abs(y[0]+y[1]+y[2]+y[3]-1))
		}
		for i := range now {
			ions = max(ions, math.Abs(now[i]-held[i])/gross[i])
		}
		charge = max(charge, math.Abs(nowAnion-anion)/grossAnion)
	}
	t.Logf("of what went in: ions %.1g, chloride %.1g; resin's capacity %.1g", ions, charge, resin)
	require.Less(t, ions, 1e-13)
	require.Less(t, charge, 1e-13)
	require.Less(t, resin, 1e-11)
}

// inventory is the sum over the cells of what 1 m³ of each holds, mol.
func (k *Column) inventory() (sum water.Ions) {
	for j := range k.cells {
		for i, z := range water.Charge {
			sum[i] += (k.cells[j].c[i] + k.cells[j].q[i]) / z
		}
	}
	return sum
}

func requirePositiveColumn(t *testing.T, k *Column) {
	t.Helper()
	for j := range k.cells {
		for i := range k.cells[j].c {
			c, q := k.cells[j].c[i], k.cells[j].q[i]
			if !(c >= 0 && q >= 0 && c+q < math.Inf(1)) {
				require.Fail(t, "not positive", "cell %d: %v", j, k.cells[j])
			}
		}
	}
}

// No resin and no water that the file of a case may tell is beyond it.
func TestColumnStandsWhateverItIsGiven(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	power := func(lo, hi float64) float64 { return math.Pow(10, lo+(hi-lo)*r.Float64()) }
	for range 1500 {
		sp := ColumnSpec{DepthM: 1, CapacityEqM3: power(-6, 6), Void: power(-3, 0), Cells: 1 + r.Intn(4), DispersivityM: r.Float64()}
		reach := []float64{1, 10, 50}[r.Intn(3)]
		for i := range sp.LogK {
			sp.LogK[i] = reach * (2*r.Float64() - 1)
		}
		k := newTestColumn(t, sp)
		wild := func() (w water.Ions) {
			for i := range w {
				if r.Intn(3) > 0 {
					w[i] = power([]float64{-3, -30, -300}[r.Intn(3)], 5)
				}
			}
			return w
		}
		k.Equilibrate(wild())
		for range 30 {
			require.True(t, k.Shift(wild(), r.Intn(2) == 0), "%+v", sp)
			requirePositiveColumn(t, k)
		}
	}
}

func TestUpflowMirrorsDownflowInTheColumn(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	sp := softenerSpec(17)
	sp.DispersivityM = 0.03
	a, b := newTestColumn(t, sp), newTestColumn(t, sp)
	for range 500 {
		w := randomWater(r)
		a.Shift(w, false)
		b.Shift(w, true)
	}
	for j := range 17 {
		require.Equal(t, a.Water(j), b.Water(16-j))
		require.Equal(t, a.Resin(j), b.Resin(16-j))
	}
}

func TestPureWaterLeavesTheResinAlone(t *testing.T) {
	k := newTestColumn(t, softenerSpec(5))
	k.Equilibrate(columnFeed)
	was := k.Resin(2)
	for range 20 {
		require.True(t, k.Shift(water.Ions{}, false))
	}
	require.Equal(t, was, k.Resin(2))
	require.Zero(t, k.Water(4).Anion())
	require.True(t, k.Shift(columnFeed, false))
	requirePositiveColumn(t, k)
}

func TestColumnSpecNamesEveryBadField(t *testing.T) {
	_, err := NewColumn(ColumnSpec{CapacityEqM3: -1, Void: 1.2, DispersivityM: math.NaN(), LogK: water.Ions{water.Mg: math.Inf(1)}})
	for _, field := range []string{"DepthM", "CapacityEqM3", "Void", "Cells", "DispersivityM", "LogK[3]"} {
		require.ErrorContains(t, err, field)
	}
	sp := softenerSpec(40)
	sp.DispersivityM = 1e9
	_, err = NewColumn(sp)
	require.ErrorContains(t, err, "DispersivityM")
}

// The same on every processor: also run under GOARCH=wasm and arm64.
func TestColumnKeepsItsBits(t *testing.T) {
	sp := softenerSpec(40)
	sp.DispersivityM = 0.01
	k := newTestColumn(t, sp)
	k.Equilibrate(columnFeed)
	for n := range 1200 {
		k.Shift(regenerant(n%392, 1).Plus(1, water.Ions{water.K: 0.5}), n/400 == 1)
	}
	h := repro.NewHash()
	for j := range 40 {
		w, y := k.Water(j), k.Resin(j)
		h.Floats(w[:])
		h.Floats(y[:])
	}
	require.Equal(t, uint64(0x2e4e678530f0875), h.Sum())
}

func TestShiftAllocatesNothing(t *testing.T) {
	sp := softenerSpec(40)
	sp.DispersivityM = 0.01
	k := newTestColumn(t, sp)
	require.Zero(t, testing.AllocsPerRun(50, func() { k.Shift(columnFeed, true) }))
}

// The published engine needs 10 µs per cell and shift.
func BenchmarkSpeedShift(b *testing.B) {
	r := rand.New(rand.NewSource(1))
	var any64 [64]water.Ions
	for i := range any64 {
		any64[i] = water.Ions{500 * r.Float64(), r.Float64(), 3 * r.Float64(), 2 * r.Float64()}
	}
	dispersive := softenerSpec(40)
	dispersive.DispersivityM = dispersive.DepthM / 40
	constant := func(w water.Ions) func(int) water.Ions { return func(int) water.Ions { return w } }
	example, native := water.Ions{water.Ca: 0.6}, water.Ions{water.Na: 1, water.K: 0.2}
	for _, c := range []struct {
		name  string
		spec  ColumnSpec
		start water.Ions
		again int // shifts after which it starts again
		in    func(n int) water.Ions
	}{
		{"service", softenerSpec(40), water.Ions{water.Na: 8.841279}, 26000, constant(columnFeed)},
		{"regeneration", softenerSpec(40), columnFeed, 392, func(n int) water.Ions { return regenerant(n, 1) }},
		{"another water each shift", softenerSpec(40), columnFeed, math.MaxInt, func(n int) water.Ions { return any64[n%64] }},
		{"example 11, advection", manualSpec(0), native, 100, constant(example)},
		{"example 11, dispersion", manualSpec(0.002), native, 100, constant(example)},
		{"service, dispersion", dispersive, water.Ions{water.Na: 8.841279}, 26000, constant(columnFeed)},
		{"regeneration, dispersion", dispersive, columnFeed, 392, func(n int) water.Ions { return regenerant(n, 1) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			k := newTestColumn(b, c.spec)
			n := 0
			b.ReportAllocs()
			for b.Loop() {
				if n%c.again == 0 {
					k.Equilibrate(c.start)
				}
				k.Shift(c.in(n%c.again), false)
				n++
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(c.spec.Cells), "ns/cell")
		})
	}
}
