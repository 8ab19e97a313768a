package resin

import (
	"math/rand"
	"testing"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

func testColumn(t testing.TB, sp ColumnSpec) *Column {
	t.Helper()
	k, err := NewColumn(sp)
	require.NoError(t, err)
	return k
}

func softenerColumn(cells int) ColumnSpec {
	return ColumnSpec{
		DepthM: 0.762, CapacityEqM3: 2000, Void: 0.38, Cells: cells,
		LogK: water.Ions{water.K: 0.165733, water.Ca: 1.018045, water.Mg: 0.822591},
	}
}

func manualColumn(dispersivityM float64) ColumnSpec {
	return ColumnSpec{
		DepthM: 0.08, CapacityEqM3: 1.1 * 0.4, Void: 0.4, Cells: 40, DispersivityM: dispersivityM,
		LogK: water.Ions{water.K: 0.7, water.Ca: 0.8},
	}
}

func TestX(t *testing.T) {
	for _, f := range []struct {
		name string
		disp float64
	}{{"exchange/ex11_advection.csv", 0}, {"exchange/ex11_transport.csv", 0.002}} {
		k := testColumn(t, manualColumn(f.disp))
		k.Equilibrate(water.Ions{water.Na: 1, water.K: 0.2})
		var worst water.Ions
		for _, row := range refdata.Rows(t, f.name) {
			if row.Number("step") == 0 {
				continue
			}
			k.Shift(water.Ions{water.Ca: 0.6}, false)
			w := k.Water(39)
			for i, s := range []string{"Na", "K", "Ca"} {
				worst[i] = max(worst[i], abs(w[i]-1e3*row.Number(s+"_mol_kgw")))
			}
		}
		t.Log(f.name, k.mixes, worst)
	}
}

func abs(x float64) float64 { return max(x, -x) }

func BenchmarkColumnActive(b *testing.B) {
	k := testColumn(b, softenerColumn(40))
	k.Equilibrate(columnFeed)
	r := rand.New(rand.NewSource(1))
	var in [64]water.Ions
	for i := range in {
		in[i] = water.Ions{500 * r.Float64(), r.Float64(), 3 * r.Float64(), 2 * r.Float64()}
	}
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		k.Shift(in[n%64], false)
		n++
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/40, "ns/cell-shift")
}
func BenchmarkColumnRegen(b *testing.B) {
	k := testColumn(b, softenerColumn(40))
	b.ReportAllocs()
	for b.Loop() {
		k.Equilibrate(columnFeed)
		for s := range 392 {
			k.Shift(regenerant(s, 1), false)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/40/392, "ns/cell-shift")
}
