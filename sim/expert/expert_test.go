//go:build !js && !arm64

package expert_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/expert"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// atTheMill opens the plainest call.
func atTheMill(t *testing.T) (*call.Call, *adviser.Library) {
	t.Helper()
	return at(t, "hard-water-at-the-mill-house")
}

// at opens a call.
func at(t *testing.T, id string) (*call.Call, *adviser.Library) {
	t.Helper()
	data, err := scenarios.FS.ReadFile(id + ".json")
	require.NoError(t, err)
	f, err := scenario.Decode(id, data)
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	past, endS := f.Begin(m.Coarse()), float64(f.HistoryDays)*86400
	for past.State.TimeS < endS {
		past.Step(endS)
	}
	return call.New(m, past.End(), 5), adviser.NewLibrary(f, m, nil)
}

// TestNoHouseTapIsOpenedBeforeTheDrainRunsFresh has the expert prove a unit and plays
// a whole call: after every brine draw the drain is read before a tap runs in the house.
func TestNoHouseTapIsOpenedBeforeTheDrainRunsFresh(t *testing.T) {
	k, lib := atTheMill(t)
	e := expert.New(k, lib, k.RunTo)
	run := e.Play()
	require.True(t, k.Finished)
	require.Len(t, run.Reasons, len(run.Deeds))
	require.Len(t, run.Steps, len(run.Deeds))
	require.NotNil(t, k.Verdict)

	brine, proofs := false, 0
	for _, x := range k.Journal {
		require.False(t, x.Unsafe, x.Text)
		if x.Reading == nil {
			brine = brine || x.Action.Kind == call.StartRegen
			continue
		}
		switch in, _ := instrument.Find(x.Reading.Instrument); {
		case in.ID == "drain-conductivity" && x.Reading.Value < 0.2: // S/m; brine has 20
			proofs++
			brine = false
		case in.RunHouseTap > 0:
			require.False(t, brine, "%s at %d", in.Name, x.Tick)
		}
	}
	require.Positive(t, proofs)
}

// TestTheUnitGoesHomeBeforeAnythingIsOpened plays a call in which the drum is sent on for
// what the drain tells: it comes back to service, where the house's taps may tell as much,
// before the first part is opened.
func TestTheUnitGoesHomeBeforeAnythingIsOpened(t *testing.T) {
	k, lib := at(t, "grey-sheets-at-the-laundry-cottage")
	run := expert.New(k, lib, k.RunTo).Play()
	drove, home, opened := false, false, false
	for i, d := range run.Deeds {
		drove = drove || d.Act.Kind == call.StartRegen
		home = home || drove && strings.HasPrefix(run.Reasons[i], "Before anything is opened the unit goes back to service")
		if d.Act.Kind == call.Open && !opened {
			opened = true
			require.True(t, home, "%v", d.Act)
		}
	}
	require.True(t, opened)
}

// TestWhatLiesInTheHouseIsSeenBeforeItIsNamed plays a call at a sound unit, whose kitchen's tap
// is fed ahead of it: the taps are compared before the cause is named, the drum is left where
// it stands, and no part is opened.
func TestWhatLiesInTheHouseIsSeenBeforeItIsNamed(t *testing.T) {
	k, lib := at(t, "a-skin-on-the-tea-at-the-toymakers")
	run := expert.New(k, lib, k.RunTo).Play()
	seen, named := false, false
	for _, d := range run.Deeds {
		require.NotContains(t, []call.Kind{call.Open, call.StartRegen}, d.Act.Kind, "%v", d.Act)
		seen = seen || d.Act.Kind == call.Test && d.Act.ID == "kitchen-compare"
		if d.Act.Kind == call.Diagnose {
			named = true
			require.True(t, seen, d.Act.ID)
		}
	}
	require.True(t, named)
	require.Equal(t, "kitchen-raw", k.Verdict.ID)
}

// TestADrumDrivenRoundIsRegeneratedWhereWaterIsCounted drives the drum round by hand and
// leaves: a controller that counts water needs a whole regeneration then, a clock does not.
func TestADrumDrivenRoundIsRegeneratedWhereWaterIsCounted(t *testing.T) {
	for id, counts := range map[string]bool{"a-skin-on-the-tea-at-the-toymakers": true, "hard-water-at-the-mill-house": false} {
		k, lib := at(t, id)
		e := expert.New(k, lib, k.RunTo)
		require.True(t, e.Drive())
		for k.Plant.Control.Regenerating {
			require.True(t, e.Drive())
		}
		before := len(k.Journal)
		e.Leave()
		started := slices.ContainsFunc(k.Journal[before:], func(x call.Entry) bool { return x.Action.Kind == call.StartRegen })
		require.Equal(t, counts, started, id)
		require.False(t, k.Plant.Control.Regenerating, id)
	}
}
