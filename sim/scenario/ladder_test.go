//go:build !js && !arm64

// The calls of the ladder live through their histories on one processor here;
// testdata/replays shows that histories are the same on all.

package scenario_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// everyCall decodes all calls that come with the program.
func everyCall(t *testing.T) (list []*scenario.File) {
	t.Helper()
	files, err := scenarios.FS.ReadDir(".")
	require.NoError(t, err)
	for _, file := range files {
		data, err := scenarios.FS.ReadFile(file.Name())
		require.NoError(t, err)
		f, err := scenario.Decode(file.Name(), data)
		require.NoError(t, err)
		list = append(list, f)
	}
	return list
}

func TestTheLadderHasEveryRungAndLookAlikes(t *testing.T) {
	calls := everyCall(t)
	require.GreaterOrEqual(t, len(calls), 24)
	rungs, groups, seeds := map[int]int{}, map[string][]string{}, map[int]string{}
	for _, f := range calls {
		rungs[f.Ladder.Rung]++
		groups[f.Ladder.Group] = append(groups[f.Ladder.Group], f.ID)
		for _, seed := range append([]int{f.Seed}, f.OtherSeeds...) {
			require.Empty(t, seeds[seed], "%s has the same family as", f.ID)
			seeds[seed] = f.ID
		}
		require.Equal(t, f.Ladder.Rung > 10, len(f.Faults) > 1, "%s: two things wrong are for the top", f.ID)
	}
	for rung := 1; rung <= scenario.TopRung; rung++ {
		require.Positive(t, rungs[rung], "rung %d", rung)
	}
	require.Len(t, seeds, 5*len(calls), "every call can be had again")
	require.Len(t, rungs, scenario.TopRung, "every call stands on a rung")
	for group, ids := range groups {
		require.GreaterOrEqual(t, len(ids), 2, "%s: %v", group, ids)
		require.LessOrEqual(t, len(ids), 4, "%s: %v", group, ids)
	}
}

// past is what a family has lived through by the time of the call.
type past struct {
	hardM3, saltyM3, suppliedM3 float64
	levelM                      float64 // in the brine tank
	weak                        bool    // at the taps
	sand                        bool    // in their strainers

	model *plant.Model
	state *plant.State
}

// lived runs a history; the models differ in their grains.
func lived(t *testing.T, f *scenario.File, grains func(m *plant.Model) *plant.Model) past {
	t.Helper()
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	m = grains(m)
	p := f.Begin(m)
	for end := float64(f.HistoryDays) * unit.Day; p.State.TimeS < end; {
		p.Step(end)
	}
	s := p.End()
	m.Exchange(s)
	require.Zero(t, s.Unsolved)
	require.Equal(t, s.Ledger.HouseHardM3 > 0.02, s.Log.HardFromS > 0, "who has had hardly any hard water tells of none")
	sand, ok := instrument.FindComplaint("sand")
	require.True(t, ok)
	return past{
		hardM3: s.Ledger.HouseHardM3, saltyM3: s.Ledger.HouseSaltyM3, suppliedM3: s.Ledger.SupplyM3,
		levelM: m.Tank(s).LevelM, weak: m.WeakAtTaps(s), sand: sand.So(m, s, nil),
		model: m, state: s,
	}
}

// complains tells whether there is anything to call about, against a sound unit in
// the same house: hard water, in the kitchen at least, or salty, little of it, sand in it, a great bill, or a brine
// tank that stands far too high.
func (p past) complains(sound past) bool {
	return p.hardM3 > 0.05 || p.state.Cond.KitchenRaw > 0.5 || p.saltyM3 > 0.002 || p.weak || p.sand ||
		p.suppliedM3 > 1.5*sound.suppliedM3 || p.levelM > sound.levelM+0.1
}

// Whoever calls has a reason to, and but for what the file says is wrong the unit
// suits its house: with the faults taken away, and visitors, nobody has one. Where a
// file says that nothing is wrong and nobody came, there is none: the customer errs.
// Of two faults each would have brought the call about. What the customer complains of
// is so.
func TestACallComesAboutByWhatItsFileSays(t *testing.T) {
	for _, f := range everyCall(t) {
		for seed := range uint64(1 + len(f.OtherSeeds)) {
			other := *f
			other.Vary(scenario.FirstSeed + seed)
			t.Run(fmt.Sprintf("%s as %d", f.ID, other.Seed), func(t *testing.T) {
				t.Parallel()
				comesAbout(t, &other)
			})
		}
	}
}

func comesAbout(t *testing.T, f *scenario.File) {
	with := func(faults ...scenario.Fault) *scenario.File {
		x := *f
		x.Faults = faults
		return &x
	}
	quiet := with()
	quiet.Visits = nil
	sound := lived(t, quiet, func(m *plant.Model) *plant.Model { return m.Swift(3600) })
	require.False(t, sound.complains(sound), "sound: %+v", sound)
	found := lived(t, f, (*plant.Model).Coarse)
	require.Equal(t, len(f.Faults)+len(f.Visits) > 0, found.complains(sound), "%+v against %+v", found, sound)
	for _, id := range f.Says {
		c, ok := instrument.FindComplaint(id)
		require.True(t, ok, id)
		require.True(t, c.So(found.model, found.state, sound.state), "%s: %s", c.Name, id)
	}
	cfg := f.Config()
	for _, x := range f.Faults {
		entry, _ := fault.Find(x.ID)
		require.True(t, entry.CanBe(&cfg), x.ID)
		if len(f.Faults) > 1 {
			require.True(t, lived(t, with(x), (*plant.Model).Coarse).complains(sound), x.ID)
		}
	}
}
