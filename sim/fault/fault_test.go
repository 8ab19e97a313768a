package fault_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
)

// moved returns the indices of the figures in which two conditions differ.
func moved(a, b plant.Condition) (at []int) {
	av, bv := a.Fields(), b.Fields()
	for i := range av {
		if av[i] != bv[i] {
			at = append(at, i)
		}
	}
	return at
}

func TestCatalogueHasAtLeastFortyFaults(t *testing.T) {
	require.GreaterOrEqual(t, len(fault.Catalogue()), 40)
}

func TestEveryFaultMovesOneFigureAndIsToldInFull(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range fault.Catalogue() {
		t.Run(f.ID, func(t *testing.T) {
			require.False(t, seen[f.ID], "named once")
			seen[f.ID] = true
			require.NotEmpty(t, f.Name)
			require.NotEmpty(t, f.Where)
			require.Positive(t, f.Prior)
			require.NotEmpty(t, f.Severities)
			require.NotEmpty(t, f.Vain, "what does not help")
			require.Contains(t, []fault.Onset{fault.Steady, fault.Growing, fault.Intermittent}, f.Onset)
			c := plant.Healthy()
			f.Apply(&c, 0)
			require.Equal(t, plant.Healthy(), c, "severity 0 changes nothing")
			for _, severity := range append([]float64{1}, f.Severities...) {
				c = plant.Healthy()
				f.Apply(&c, severity)
				require.Len(t, moved(c, plant.Healthy()), 1)
				wrong := fault.Wrong(c)
				require.Len(t, wrong, 1, "no other fault moves the same figure the same way")
				require.Equal(t, f.ID, wrong[0].ID)
				require.InDelta(t, severity, wrong[0].Severity(&c), 1e-12)
			}
		})
	}
}

func TestWhatCuresCuresAndNothingElseDoes(t *testing.T) {
	for _, f := range fault.Catalogue() {
		t.Run(f.ID, func(t *testing.T) {
			bad := plant.Healthy()
			f.Apply(&bad, 0.9)
			for _, w := range []fault.Work{fault.Clean, fault.Adjust, fault.Replace} {
				for _, other := range fault.Catalogue() {
					c := bad
					fault.Do(&c, other.Where, w)
					cures := other.Where == f.Where && (f.Cured(w) || w == fault.Replace && len(f.Cures) > 0)
					require.Equal(t, cures, len(fault.Wrong(c)) == 0, "%s of %s", w, other.Where)
					if !cures {
						require.Equal(t, bad, c)
					}
				}
			}
		})
	}
}

func TestWorseOfTwoStays(t *testing.T) {
	f, ok := fault.Find("nozzle-plugged")
	require.True(t, ok)
	c := plant.Healthy()
	f.Apply(&c, 0.9)
	worse := c
	f.Apply(&c, 0.5)
	require.Equal(t, worse, c)
}

func TestOversizeAndUndersizeExcludeEachOther(t *testing.T) {
	c := plant.Healthy()
	for _, id := range []string{"drain-control-small", "drain-control-large"} {
		f, ok := fault.Find(id)
		require.True(t, ok)
		f.Apply(&c, 1)
		wrong := fault.Wrong(c)
		require.Len(t, wrong, 1, "one control is fitted")
		require.Equal(t, id, wrong[0].ID)
	}
}

func TestTwoFaultsAreMendedOneByOne(t *testing.T) {
	c := plant.Healthy()
	for _, id := range []string{"nozzle-plugged", "salt-bridge"} {
		f, _ := fault.Find(id)
		f.Apply(&c, 0.95)
	}
	require.Len(t, fault.Wrong(c), 2)
	fault.Do(&c, plant.PartInjector, fault.Clean)
	require.Equal(t, "salt-bridge", fault.Wrong(c)[0].ID)
	fault.Do(&c, plant.PartSalt, fault.Clean)
	require.Equal(t, plant.Healthy(), c)
}

func TestHarderWaterIsMetByTheSettingsAndStaysHard(t *testing.T) {
	f, ok := fault.Find("feed-harder")
	require.True(t, ok)
	c := plant.Healthy()
	f.Apply(&c, 0.5)
	fault.Do(&c, f.Where, fault.Adjust)
	require.Empty(t, fault.Wrong(c))
	require.Equal(t, 1.5, c.FeedHarder, "the street's water is as it was")
	require.Equal(t, 1.5, c.HardnessSet)
}

func TestWhatNothingAtTheUnitMendsIsNotHeldAgainstIt(t *testing.T) {
	f, ok := fault.Find("feed-iron")
	require.True(t, ok)
	c := plant.Healthy()
	f.Apply(&c, 1)
	require.Len(t, fault.Wrong(c), 1)
	require.Empty(t, fault.Mendable(c))
}

func TestOnlyOpenedPartsShowWhatIsWrong(t *testing.T) {
	c := plant.Healthy()
	for _, id := range []string{"nozzle-plugged", "screen-plugged"} {
		f, _ := fault.Find(id)
		f.Apply(&c, 0.95)
	}
	require.Equal(t, plant.Healthy(), fault.Shown(&c, nil))
	seen := fault.Shown(&c, []plant.Part{plant.PartScreen})
	require.Equal(t, c.ScreenOpen, seen.ScreenOpen)
	require.Equal(t, 1.0, seen.NozzleOpen)
	require.Equal(t, "screen blocked with grit", fault.Look(&c, plant.PartScreen, "clear"))
	require.Equal(t, "clear", fault.Look(&c, plant.PartRefillCtl, "clear"))
}

func TestUnknownFaultIsNotFound(t *testing.T) {
	_, ok := fault.Find("gremlins")
	require.False(t, ok)
}

// TestWhatIsPutRightInTheHouseIsTold asks it of every cause that work in the house cures: no
// part that was opened tells of it.
func TestWhatIsPutRightInTheHouseIsTold(t *testing.T) {
	for _, f := range fault.Catalogue() {
		if f.Where == plant.PartHouse {
			require.Equal(t, len(f.Cures) > 0, f.Done != "", f.ID)
		}
	}
}
