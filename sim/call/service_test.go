package call_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/call"
	"brinebench/sim/plant"
	"brinebench/sim/record"
	"brinebench/sim/valve"
)

func TestWorkOrderTakesTheNextReadingAsItsResult(t *testing.T) {
	c := visit(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Test, ID: "salt-look"})
	do(t, c, call.Act{Kind: call.Plan, ID: "nozzle-plugged", Text: "no draw"})
	require.Equal(t, []call.Line{{Suspect: "nozzle-plugged", Expected: "no draw", Result: -1}}, c.Order(), "what was read before does not count")
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Conclude, ID: "against"}), "no result")
	do(t, c, call.Act{Kind: call.Test, ID: "brine-draw"})
	do(t, c, call.Act{Kind: call.Test, ID: "salt-look"})
	do(t, c, call.Act{Kind: call.Conclude, ID: "for"})
	do(t, c, call.Act{Kind: call.Plan})
	lines := c.Order()
	require.Len(t, lines, 2)
	require.Equal(t, "brine-draw", c.Journal[lines[0].Result].Reading.Instrument)
	require.Equal(t, "for", lines[0].Conclusion)
	require.Equal(t, call.Line{Result: -1}, lines[1])
}

func TestWritingAndHelpTakeNoTimeAndLeaveTheUnitAlone(t *testing.T) {
	c := visit(t, plant.Healthy())
	c.Help = func(rung string) string { return rung }
	before := c.Plant.Hash()
	do(t, c, call.Act{Kind: call.Plan, ID: call.NoFault, Text: "all well"})
	for _, rung := range call.Rungs {
		do(t, c, call.Act{Kind: call.Hint, ID: rung})
	}
	require.Zero(t, c.Ticks)
	require.Equal(t, before, c.Plant.Hash())
	require.Equal(t, 4, c.Helped())
}

func TestHelpComesStepByStep(t *testing.T) {
	c := visit(t, plant.Healthy())
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Hint, ID: "answer"}), "step by step")
	do(t, c, call.Act{Kind: call.Hint, ID: "area"})
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Hint, ID: "area"}), "already")
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Hint, ID: "all"}), "no help")
}

func TestVerdictMayNameSeveralCausesButNotNonsense(t *testing.T) {
	c := visit(t, plant.Healthy())
	e := do(t, c, call.Act{Kind: call.Diagnose, ID: "nozzle-plugged+salt-bridge", Value: 0.7})
	require.Contains(t, e.Text, "; and: ")
	require.Equal(t, []string{"nozzle-plugged", "salt-bridge"}, call.VerdictIDs(c.Verdict.ID))
	for id, why := range map[string]string{
		"":                              "No fault",
		"nozzle-plugged+":               "No fault",
		"nozzle-plugged+nozzle-plugged": "twice",
		"none+salt-bridge":              "Either",
		"nozzle-plugged+salt-bridge+salt-absent+float-stuck": "at most 3",
	} {
		require.ErrorContains(t, c.Do(call.Act{Kind: call.Diagnose, ID: id, Value: 0.5}), why, id)
	}
}

func TestOnlySiliconeBelongsOnSeals(t *testing.T) {
	c := opened(t, plant.Healthy())
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Lubricate, Part: plant.PartSeats, ID: "silicone"}), "open it first")
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Lubricate, Part: plant.PartScreen, ID: "silicone"}), "no seals")
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Lubricate, Part: plant.PartInjector, ID: "butter"}), "No lubricant")
	require.False(t, do(t, c, call.Act{Kind: call.Lubricate, Part: plant.PartInjector, ID: "silicone"}).Needless)
	wrong := do(t, c, call.Act{Kind: call.Lubricate, Part: plant.PartInjector, ID: "petroleum"})
	require.True(t, wrong.Needless)
	require.Contains(t, wrong.Text, "swells EPDM")
}

func TestWorkOnAnOpenedPartSaysWhatItLeaves(t *testing.T) {
	for name, row := range map[string]struct {
		cond func(*plant.Condition)
		work call.Kind
		left string // "" for nothing
	}{
		"grit is rinsed out of a nozzle":           {func(c *plant.Condition) { c.NozzleOpen = 0.1 }, call.Clean, ""},
		"wear is not":                              {func(c *plant.Condition) { c.NozzleWear = 0.5 }, call.Clean, "bore worn wide"},
		"nor with the grit that is":                {func(c *plant.Condition) { c.NozzleOpen, c.NozzleWear = 0.1, 0.5 }, call.Clean, "bore worn wide"},
		"nothing is left of it in a new injector":  {func(c *plant.Condition) { c.NozzleWear = 0.5 }, call.Replace, ""},
		"nothing is left where there was no fault": {func(*plant.Condition) {}, call.Clean, ""},
	} {
		t.Run(name, func(t *testing.T) {
			cond := plant.Healthy()
			row.cond(&cond)
			c := opened(t, cond)
			e := do(t, c, call.Act{Kind: row.work, Part: plant.PartInjector})
			if row.left == "" {
				require.NotContains(t, e.Text, "Still to be seen")
			} else {
				require.Regexp(t, "Still to be seen: .*"+row.left, e.Text)
				require.NotContains(t, e.Text, "grit")
			}
		})
	}
}

func TestCostIsLabourAndNewParts(t *testing.T) {
	c := opened(t, plant.Healthy())
	at := c.Cost()
	require.InDelta(t, call.LabourPerMinute*c.Minutes(), at, 1e-9)
	p, _ := call.Part(plant.PartInjector)
	do(t, c, call.Act{Kind: call.Replace, Part: plant.PartInjector})
	require.InDelta(t, call.LabourPerMinute*p.Minutes.Replace+p.Price, c.Cost()-at, 0.5)
}

func TestTheCustomerIsTold(t *testing.T) {
	c := visit(t, plant.Healthy())
	for _, topic := range call.Topics {
		e := do(t, c, call.Act{Kind: call.Tell, ID: topic.ID})
		require.Equal(t, topic.Text, e.Text)
	}
	require.InDelta(t, float64(len(call.Topics)), c.Minutes(), 1e-9)
	require.ErrorContains(t, c.Do(call.Act{Kind: call.Tell, ID: "weather"}), "no topic")
}

func TestOwnWordsAreBounded(t *testing.T) {
	c := visit(t, plant.Healthy())
	for _, bad := range []string{strings.Repeat("x", record.MaxText+1), "\xff", "a\x07"} {
		err := c.Do(call.Act{Kind: call.Plan, Text: bad})
		require.ErrorContains(t, err, "text: ")
	}
	require.NoError(t, c.Do(call.Act{Kind: call.Plan, Text: "two\nlines"}))
}

func TestEveryPartThatIsSwappedHasItsPrice(t *testing.T) {
	for _, p := range call.Parts() {
		require.Equal(t, p.CanSwap, p.Price > 0, p.ID)
	}
}

// TestBailingLeavesOneRefill fills the brine tank by a seat that leaks and bails it out,
// twice: what is taken is booked.
func TestBailingLeavesOneRefill(t *testing.T) {
	bad := plant.Healthy()
	bad.TankSeepM3S = 2e-5
	c := visit(t, bad)
	start := c.Plant.Clone()
	wait(c, 15)
	sound := c.Model().Config().BrineM
	require.Greater(t, c.Model().Tank(c.Plant).LevelM, sound+0.05)
	c.Plant.Cond.TankSeepM3S = 0

	first := do(t, c, call.Act{Kind: call.Bail})
	require.False(t, first.Needless, first.Text)
	require.InDelta(t, sound, c.Model().Tank(c.Plant).LevelM, 1e-6)
	require.Positive(t, c.Plant.Ledger.BailedKg)
	require.Less(t, c.Model().Audit(start, c.Plant).Worst(), 1e-10)

	held := c.Plant.Ledger.BailedKg
	again := do(t, c, call.Act{Kind: call.Bail})
	require.True(t, again.Needless)
	require.Contains(t, again.Text, "Nothing taken out")
	require.Equal(t, held, c.Plant.Ledger.BailedKg)
}

// TestABailedTankFreesItsFloat bails a tank that a worn brine seat has filled up to its float:
// water runs again at once, for whoever listens.
func TestABailedTankFreesItsFloat(t *testing.T) {
	bad := plant.Healthy()
	bad.SeatLeakCv[valve.Brine] = 0.05
	c := visit(t, bad)
	for range 40 {
		wait(c, 60)
	}
	require.True(t, c.Plant.Felt.FloatShut)
	require.Less(t, -c.Model().TankDraw(c.Plant), 1e-8)
	do(t, c, call.Act{Kind: call.Bail})
	wait(c, 0.1)
	require.False(t, c.Plant.Felt.FloatShut)
	require.Greater(t, -c.Model().TankDraw(c.Plant), 1e-7)
}

// TestBleachMeetsNoResinCleaner cleans the bed and pours bleach before and after water has
// gone through it; without the cleaner nothing stands against it.
func TestBleachMeetsNoResinCleaner(t *testing.T) {
	bleach := call.Act{Kind: call.Disinfect}
	require.False(t, do(t, visit(t, plant.Healthy()), bleach).Unsafe)

	c := opened(t, plant.Healthy())
	do(t, c, call.Act{Kind: call.Open, Part: plant.PartBed})
	do(t, c, call.Act{Kind: call.Clean, Part: plant.PartBed})
	require.True(t, do(t, c, bleach).Unsafe)
	for _, p := range []plant.Part{plant.PartBed, plant.PartInjector} {
		do(t, c, call.Act{Kind: call.Refit, Part: p})
	}
	do(t, c, call.Act{Kind: call.Bypass, ID: "service", Value: 1})
	require.True(t, do(t, c, bleach).Unsafe, "the tank has only filled")
	wait(c, 8) // in backwash
	require.False(t, do(t, c, bleach).Unsafe)
}

// TestWaterLetIntoAnEmptyTankIsHeard lets water in after the valve was off, in several ways.
func TestWaterLetIntoAnEmptyTankIsHeard(t *testing.T) {
	in := func(slowly float64) call.Act { return call.Act{Kind: call.Bypass, ID: "service", Value: slowly} }
	for _, row := range []struct {
		situation string
		off       plant.Part
		acts      []call.Act
		heard     string
	}{
		{"at once", plant.PartUpperDist, []call.Act{in(0)}, "the pipes knock"},
		{"slowly, in backwash", plant.PartUpperDist, []call.Act{in(1)}, "air hisses out at the drain"},
		{"slowly, past backwash", plant.PartUpperDist, []call.Act{{Kind: call.Power, Value: 1}, {Kind: call.Advance}, in(1)}, "its air stays"},
		{"by the shut-off", plant.PartUpperDist, []call.Act{{Kind: call.ShutOff, Value: 1}, in(1), {Kind: call.ShutOff}}, "the pipes knock"},
		{"the valve was on all the time", plant.PartScreen, []call.Act{in(0)}, ""},
	} {
		c := opened(t, plant.Healthy())
		do(t, c, call.Act{Kind: call.Open, Part: row.off})
		for _, p := range []plant.Part{row.off, plant.PartInjector} {
			do(t, c, call.Act{Kind: call.Refit, Part: p})
		}
		require.Equal(t, row.heard != "", c.Dry, row.situation)
		var last call.Entry
		for _, a := range row.acts {
			last = do(t, c, a)
			wait(c, 1) // until the drum stands
		}
		require.Equal(t, row.heard != "", last.Filled, row.situation)
		require.Contains(t, last.Text, row.heard, row.situation)
		require.False(t, c.Dry, row.situation)
	}
}
