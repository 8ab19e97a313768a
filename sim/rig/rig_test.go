package rig

import (
	"math"
	"os"
	"testing"

	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"

	"github.com/stretchr/testify/require"
)

func bench(t testing.TB, name string) *Rig {
	t.Helper()
	data, err := os.ReadFile("../../scenarios/" + name + ".json")
	require.NoError(t, err)
	f, err := scenario.Decode(name, data)
	require.NoError(t, err)
	r, err := New(f)
	require.NoError(t, err)
	return r
}

func (r *Rig) run(seconds float64) {
	for n := int(seconds / TickS); n > 0; n-- {
		r.Tick()
	}
}

// Every knob is turned from end to end of its range while the unit runs through a
// regeneration: what is refused leaves no trace, and the books close whatever is
// turned. That they close is the conservation of mass, no figure of ours.
func TestAnyKnobTurnedWhileItRunsKeepsTheBooks(t *testing.T) {
	for _, name := range []string{"bench/standard", "bench/counter-current", "marvellous-they-said-at-the-gatehouse"} {
		r := bench(t, name)
		start := r.State.Clone()
		refused := 0
		for i, k := range r.Knobs() {
			if i%12 == 0 {
				require.NoError(t, r.Set("start-regeneration", 1))
			}
			was := r.Value(k.ID)
			for _, v := range []float64{k.Low, k.High, was} {
				if k.Push {
					v = 1
				}
				before, hash := r.Value(k.ID), r.Hash()
				if r.Set(k.ID, v) != nil {
					refused++
					require.Equal(t, hash, r.Hash(), k.ID)
					require.Equal(t, before, r.Value(k.ID), k.ID)
					continue
				}
				if !k.Push {
					require.InDelta(t, v, r.Value(k.ID), 1e-9*math.Max(1, math.Abs(v)), k.ID)
				}
				r.run(20)
				require.Zero(t, r.State.Unsolved, k.ID)
			}
		}
		require.Less(t, r.Model().Audit(start, r.State).Worst(), 1e-9, name)
		require.Less(t, refused, 40)
	}
}

func TestAKnobActsOnThePhysicsItNames(t *testing.T) {
	at := func(r *Rig, n plant.Node) float64 { return r.Model().PressurePa(r.State, n) }
	for _, x := range []struct {
		knob   string
		value  float64
		before []string // pushed first
		afterS float64
		figure func(r *Rig) float64
		less   bool
	}{
		{"supply", 30 * unit.PSI, nil, 5, func(r *Rig) float64 { return at(r, plant.ValveIn) }, true},
		{"steady-draw", 5 * unit.GPM, nil, 5, func(r *Rig) float64 { return r.Model().Flow(r.State, plant.House) }, false},
		{"temperature", 35, []string{"advance"}, 60, func(r *Rig) float64 { return r.State.BedDepthM }, true}, // thin water lifts less
		{"drain-control", 1 * unit.GPM, []string{"advance"}, 30, func(r *Rig) float64 { return r.Model().Flow(r.State, plant.Drain) }, true},
		{"fault.nozzle-plugged", 0.99, []string{"advance", "advance"}, 60, func(r *Rig) float64 { return r.Model().TankDraw(r.State) }, true},
		{"nozzle", 0.5e-3, []string{"advance", "advance"}, 60, func(r *Rig) float64 { return r.Model().Flow(r.State, plant.MotiveSeat) }, true},
	} {
		r := bench(t, "bench/standard")
		require.NoError(t, r.Set("people", 0))
		for _, p := range x.before {
			require.NoError(t, r.Set(p, 1))
			r.run(90)
		}
		other := r.Clone()
		require.NoError(t, other.Set(x.knob, x.value))
		r.run(x.afterS)
		other.run(x.afterS)
		if x.less {
			require.Less(t, x.figure(other), 0.98*x.figure(r), x.knob)
		} else {
			require.Greater(t, x.figure(other), 1.02*x.figure(r)+1e-9, x.knob)
		}
	}
}

func TestHarderWaterUsesTheBedUp(t *testing.T) {
	r := bench(t, "bench/standard")
	require.NoError(t, r.Set("spend-bed", 1))
	require.NoError(t, r.Set("house-tap", 1))
	r.run(120)
	hard := r.Model().Water(r.State, plant.HouseSide).Hardness()
	require.InEpsilon(t, r.Value("hardness"), hard, 0.02, "a bed in equilibrium with the feed lets it through as it is")
	require.NoError(t, r.Set("freshen-bed", 1))
	r.run(240)
	require.Less(t, r.Model().Water(r.State, plant.HouseSide).Hardness(), 0.05*hard)
}

func TestAFaultThatBecomesLessIsLess(t *testing.T) {
	for _, id := range []string{"resin-iron", "resin-lost", "resin-oxidised", "salt-absent", "nozzle-plugged"} {
		if _, ok := Find("fault." + id); !ok {
			t.Fatalf("no fault %s", id)
		}
		r := bench(t, "bench/standard")
		for _, v := range []float64{0.9, 0.3, 0} {
			require.NoError(t, r.Set("fault."+id, v))
			r.run(5)
			mild := bench(t, "bench/standard")
			require.NoError(t, mild.Set("fault."+id, v))
			require.Equal(t, mild.State.Cond, r.State.Cond, "%s at %v", id, v)
			require.InDelta(t, mild.State.Bed.Lost, r.State.Bed.Lost, 1e-9, id)
			require.InDelta(t, mild.State.Bed.Cut, r.State.Bed.Cut, 1e-9, id)
			require.InDelta(t, mild.Model().SaltMissingKg(mild.State), r.Model().SaltMissingKg(r.State), 0.1, id)
		}
	}
}

func TestASettingOutOfReachIsRefusedByName(t *testing.T) {
	r := bench(t, "bench/standard")
	for _, x := range []struct {
		knob  string
		value float64
		says  string
	}{
		{"nosuch", 1, `no knob is named "nosuch"`},
		{"supply", -1, "supply: -1 is outside"},
		{"supply", math.NaN(), "supply: NaN is outside"},
		{"people", 2.5, "people: 2.5 is no whole number"},
		{"throat", 0.7e-3, "throat: plant: ThroatM"},
		{"fault.nozzle-plugged", 1.01, "fault.nozzle-plugged: 1.01 is outside 0 to 1"},
	} {
		hash := r.Hash()
		require.ErrorContains(t, r.Set(x.knob, x.value), x.says)
		require.Equal(t, hash, r.Hash())
	}
}

func TestWhatAUnitLacksCannotBeSetOnIt(t *testing.T) {
	for name, lacks := range map[string][]string{
		"bench/standard":              {"set-hardness", "fault.meter-jammed"}, // regenerates by the clock, and meters nothing
		"brown-towels-at-the-keepers": {"supply"},
	} {
		r := bench(t, name)
		hash := r.Hash()
		for _, id := range lacks {
			k, ok := Find(id)
			require.True(t, ok, id)
			require.NotContains(t, r.Knobs(), k)
			require.ErrorContains(t, r.Set(id, k.High), id+": this unit has none")
			require.Equal(t, hash, r.Hash(), id)
		}
	}
}

func TestTheSameActsGiveTheSameBits(t *testing.T) {
	play := func(r *Rig) uint64 {
		for i, id := range []string{"start-regeneration", "fault.screen-plugged", "hardness", "people", "house-tap"} {
			k, _ := Find(id)
			require.NoError(t, r.Set(id, math.Floor(k.Low+0.7*(k.High-k.Low))))
			if i == 1 {
				require.NoError(t, r.Set(id, 0.985))
			}
			r.run(100)
		}
		return r.Hash()
	}
	r := bench(t, "bench/standard")
	c := r.Clone()
	c.run(30) // a copy is independent
	require.Equal(t, play(bench(t, "bench/standard")), play(r))
}

func BenchmarkSpeedOfATick(b *testing.B) {
	r := bench(b, "bench/standard")
	require.NoError(b, r.Set("start-regeneration", 1))
	for b.Loop() {
		r.Tick()
	}
}

func BenchmarkSetASize(b *testing.B) {
	r := bench(b, "bench/standard")
	for i := 0; b.Loop(); i++ {
		require.NoError(b, r.Set("nozzle", 0.9e-3+float64(i%2)*1e-4))
	}
}
