package resin

import (
	"math"
	"testing"

	"brinebench/sim/water"

	"github.com/stretchr/testify/require"
)

const (
	gpg         = 0.1710319837 // mol/m³ of hardness
	kilograinEq = 21.8688      // kilograin/ft³ in 1 mol of charge per litre of bed
	lbFt3       = 16018.463    // g/m³ in 1 lb/ft³
	ft3         = 0.0283168466 // m³
	gpmFt3      = 2.2280093e-3 // bed volumes per second in 1 US gpm/ft³
	saltGPerMol = 58.44
)

// hard20 is 20 gpg water, two thirds calcium, with a little sodium.
var hard20 = water.Ions{water.Na: 2, water.Ca: 20 * gpg * 2 / 3, water.Mg: 20 * gpg / 3}

// cycle runs rounds of regeneration and service on a bed of 1 ft³ in a 9 inch
// tank. Flows and times are common practice, no source.
type cycle struct {
	model          *Model
	state          State
	feed           water.Ions
	ironMolM3      float64 // in it
	potassium      bool    // brine of potassium chloride, mole for mole of the sodium chloride
	serviceGPMFt3  float64
	saltLbFt3      float64
	tempC          float64
	coarse         float64 // times MaxVolume per march
	counter        bool    // brine and slow rinse go up through the bed
	capacity, leak float64 // of the last service: kilograin/ft³ removed, gpg half-way
	ironLeak       float64 // mean, mol/m³
}

func (c *cycle) bedM3() float64 { return c.model.spec.AreaM2 * c.model.spec.DepthM }

// run passes bv bed volumes of w at perS bed volumes a second, up when negative.
func (c *cycle) run(bv, perS float64, w water.Ions, remix float64, each func(out water.Ions, m3 float64) bool) {
	up := perS < 0
	if up {
		perS = -perS
	}
	step := c.model.MaxVolume() * c.coarse
	for left := bv * c.bedM3(); left > 1e-12; left -= step {
		v := min(step, left)
		p := Ports{TopInM3: v, BottomOutM3: v, TopIn: w, TopInIron: c.ironMolM3, TempC: c.tempC, Remix: remix}
		if up {
			p = Ports{TopOutM3: v, BottomInM3: v, BottomIn: w, BottomInIron: c.ironMolM3, TempC: c.tempC, Remix: remix}
		}
		_, out := c.model.March(&c.state, p, v/c.bedM3()/perS)
		if each != nil && !each(out, v) {
			return
		}
	}
}

// regenerate backwashes, draws 10 % brine, rinses slowly and fast.
func (c *cycle) regenerate() {
	brine := c.feed
	const normality = 107.07e3 / saltGPerMol // 10 % by mass at 20 °C, 1.0707 kg/L
	if c.potassium {
		brine[water.K] += normality
	} else {
		brine[water.Na] += normality
	}
	brineBV := c.saltLbFt3 * lbFt3 / 107.07e3
	backwash := 5 * 6.309e-5 / 0.09290304 / c.model.spec.DepthM // 5 gpm/ft²
	c.run(backwash*600, -backwash, c.feed, 0.05, nil)
	sign := 1.0
	if c.counter {
		sign = -1
	}
	c.run(brineBV, sign*0.5*gpmFt3, brine, 0, nil)
	c.run(1.75, sign*0.3*gpmFt3, c.feed, 0, nil)
	c.run(1.5, 2*gpmFt3, c.feed, 0, nil)
}

// serve runs to 1 gpg at the outlet and fills in capacity and leak.
func (c *cycle) serve() {
	removed, passed, iron := 0.0, 0.0, 0.0
	var leak []float64
	c.run(1000, c.serviceGPMFt3*gpmFt3, c.feed, 0, func(out water.Ions, m3 float64) bool {
		removed += (c.feed.Hardness() - out.Hardness()) * m3
		passed += m3
		iron += m3 * c.state.Iron.BottomOut
		leak = append(leak, out.Hardness()/gpg)
		return passed < 5*c.bedM3() || out.Hardness() < gpg
	})
	c.capacity = 2 * removed / c.bedM3() / 1000 * kilograinEq
	c.leak = leak[len(leak)/2]
	c.ironLeak = iron / passed
}

// settle repeats cycles from exhaustion until the capacity holds within 0.2 %.
func (c *cycle) settle(t *testing.T) {
	t.Helper()
	c.model.Equilibrate(&c.state, c.feed)
	for range 10 {
		last := c.capacity
		c.regenerate()
		c.serve()
		if math.Abs(c.capacity-last) < 0.002*c.capacity {
			return
		}
	}
	require.Fail(t, "no periodic state")
}

func newCycle(sp Spec, salt float64) *cycle {
	m, err := NewModel(sp)
	if err != nil {
		panic(err)
	}
	c := &cycle{model: m, feed: hard20, serviceGPMFt3: 2.5, saltLbFt3: salt, tempC: 20, coarse: 1}
	m.Equilibrate(&c.state, c.feed)
	return c
}

func settled(t *testing.T, salt float64, change func(*cycle)) *cycle {
	c := newCycle(DefaultSpec(ft3, 0.041), salt)
	c.coarse = 2
	if change != nil {
		change(c)
	}
	c.settle(t)
	t.Logf("%g lb/ft³: %.2f kilograin/ft³, leakage %.3f gpg", salt, c.capacity, c.leak)
	return c
}

// 20 kilograin/ft³ at 6 lb/ft³: 12VAC5-590-900 D and 35 Ill. Adm. Code
// 604.805(c). The other two and the leakage: common practice, no source.
func TestCapacityFollowsTheSaltDose(t *testing.T) {
	leak := math.Inf(1)
	for _, c := range []struct{ saltLbFt3, kilograinFt3 float64 }{{6, 20}, {10, 26}, {15, 30}} {
		got := settled(t, c.saltLbFt3, nil)
		require.InEpsilon(t, c.kilograinFt3, got.capacity, 0.05)
		require.Less(t, got.leak, leak)
		leak = got.leak
		if c.saltLbFt3 == 6 {
			require.Greater(t, got.leak, 0.15)
			require.Less(t, got.leak, 0.6)
		}
	}
}

func TestLeakageIsOrderedWithDoseAndDissolvedSolids(t *testing.T) {
	above := [3]float64{}
	for _, sodium := range []float64{0.5, 2, 8} {
		left := math.Inf(1)
		for n, salt := range []float64{6, 10, 15} {
			got := settled(t, salt, func(c *cycle) { c.coarse, c.feed[water.Na] = 4, sodium })
			require.Less(t, got.leak, left)
			require.Greater(t, got.leak, above[n])
			left, above[n] = got.leak, got.leak
		}
	}
}

func TestCapacityFallsSlightlyWithFlow(t *testing.T) {
	slow := settled(t, 10, func(c *cycle) { c.coarse, c.serviceGPMFt3 = 4, 1.5 })
	fast := settled(t, 10, func(c *cycle) { c.coarse, c.serviceGPMFt3 = 4, 5 })
	require.Less(t, fast.capacity, slow.capacity)
	require.Greater(t, fast.capacity, 0.93*slow.capacity)
}

func TestColdBedHoldsLessAndLeaksMore(t *testing.T) {
	capacity, leak := 0.0, math.Inf(1)
	for _, tempC := range []float64{5, 15, 25, 35} {
		got := settled(t, 10, func(c *cycle) { c.coarse, c.tempC = 4, tempC })
		require.Greater(t, got.capacity, capacity)
		require.Less(t, got.leak, leak)
		require.InEpsilon(t, 26, got.capacity, 0.1)
		capacity, leak = got.capacity, got.leak
	}
}

// The capacity test of NSF/ANSI 44 (20 gpg, half the rated flow, to 1 gpg: published,
// secondary; rated at 5 gpm/ft³: common practice, no source) is serve's. An efficient
// unit gives 3,350 grain to the pound of salt (from memory), the best practice aims
// at 4,000 (published, secondary): rules_of_thumb.csv. All the salt would give 5,994.
func TestSaltEfficiencyRisesAsTheDoseFalls(t *testing.T) {
	last := 5994.0
	for _, c := range []struct {
		saltLbFt3, least, most float64
		counter                bool
	}{{3, 4000, 4400, true}, {4, 3500, 4000, false}, {5, 3350, 3700, false}, {6, 3200, 3400, false}} {
		got := settled(t, c.saltLbFt3, func(y *cycle) { y.coarse, y.counter = 4, c.counter })
		efficiency := 1000 * got.capacity / c.saltLbFt3
		t.Logf("%.0f grain/lb, counter-current %v", efficiency, c.counter)
		require.Less(t, efficiency, min(last, c.most))
		require.Greater(t, efficiency, c.least)
		last = efficiency
	}
}

// Of two regenerants the one that resin holds more strongly drives hardness out
// better, equivalent for equivalent; a pound of potassium chloride has only
// 58.44/74.55 of the equivalents of a pound of salt, which makes up for that.
func TestPotassiumChlorideRegenerates(t *testing.T) {
	const equivalents = 58.44 / 74.55
	salt := settled(t, 8, func(c *cycle) { c.coarse = 4 })
	same := settled(t, 8, func(c *cycle) { c.coarse, c.potassium = 4, true })
	pound := settled(t, 8*equivalents, func(c *cycle) { c.coarse, c.potassium = 4, true })
	require.Greater(t, same.capacity, salt.capacity)
	require.Less(t, same.capacity, 1.2*salt.capacity)
	require.InEpsilon(t, salt.capacity, pound.capacity, 0.03)
	require.Greater(t, pound.leak, salt.leak)

	// In service potassium leaves, mole of charge for mole of charge.
	c := same
	c.regenerate()
	var in, out water.Ions
	was := c.model.Inventory(&c.state)
	c.run(100, c.serviceGPMFt3*gpmFt3, c.feed, 0, func(w water.Ions, m3 float64) bool {
		in, out = in.Plus(m3, c.feed), out.Plus(m3, w)
		return true
	})
	anion := was.Anion() + in.Anion() - out.Anion()
	require.InEpsilon(t, anion, func() float64 { x := c.model.Inventory(&c.state); return x.Anion() }(), 1e-12)
	removed := 2 * (in.Hardness() - out.Hardness())
	gained := out[water.K] + out[water.Na] - in[water.K] - in[water.Na]
	t.Logf("%.3f eq of hardness removed, %.3f eq of potassium and %.3f of sodium given", removed, out[water.K]-in[water.K], out[water.Na]-in[water.Na])
	require.InEpsilon(t, removed, gained, 0.01) // the water in the bed changes a little too
	require.Greater(t, out[water.K]-in[water.K], 0.9*removed)
}

// The table of convergence in testdata/reference/README.md: first service after
// one regeneration of an exhausted bed.
func TestCapacityConvergesInStep(t *testing.T) {
	var got []float64
	for _, coarse := range []float64{8, 4, 2, 1} {
		c := newCycle(DefaultSpec(ft3, 0.041), 10)
		c.coarse = coarse
		c.regenerate()
		c.serve()
		t.Logf("step %g: %.3f kilograin/ft³, leakage %.4f gpg", coarse, c.capacity, c.leak)
		got = append(got, c.capacity)
	}
	off := func(n int) float64 { return math.Abs(got[n]/got[3] - 1) }
	require.Less(t, off(0), 0.02)
	require.Less(t, off(1), 0.6*off(0))
	require.Less(t, off(2), 0.001)
}

func TestCounterCurrentLeaksLess(t *testing.T) {
	co := settled(t, 6, func(c *cycle) { c.coarse = 4 })
	counter := settled(t, 6, func(c *cycle) { c.coarse, c.counter = 4, true })
	require.Less(t, counter.leak, 0.5*co.leak)
}

func TestSpecNamesEveryBadField(t *testing.T) {
	_, err := NewModel(Spec{Void: 1.2, PathSpread: -1, KCa: math.NaN()})
	for _, field := range []string{
		"AreaM2", "DepthM", "CapacityEqM3", "Void", "BeadM", "KCa", "KMg", "KK",
		"ParticleDiffusivityM2S", "LiquidDiffusivityM2S", "PathSpread", "FreeboardM3", "PlenumM3",
	} {
		require.ErrorContains(t, err, field)
	}
}
