//go:build !js && !arm64

package debrief_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/plant"
)

// TestSeveralCausesAreJudgedOneByOne plays one unit with a salt bridge and a bypass
// that leaks, in several ways.
func TestSeveralCausesAreJudgedOneByOne(t *testing.T) {
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	data = regexp.MustCompile(`"faults": \[.*\]`).ReplaceAll(data,
		[]byte(`"faults": [{"id": "salt-bridge", "severity": 1}, {"id": "bypass-leak", "severity": 0.6}]`))
	p := openFile(t, "mill", data)
	const bridge, leak = "salt-bridge", "bypass-leak"

	tested := func() hand {
		h := p.hand(5)
		for _, id := range []string{"salt-probe", "brine-strength", "hardness-valve", "hardness-house"} {
			h.test(id)
		}
		h.Look(plant.PartBypass)
		return h
	}
	cause := func(h hand) debrief.Item { h.Ready(); h.finish(); return h.judged().Items[0] }

	both := tested()
	both.name([]string{bridge, leak}, 0.9)
	atOnce := both.judged()
	require.Contains(t, atOnce.Causes, bridge+"+"+leak, "the pair has come to mind")
	require.Equal(t, []string{bridge, leak}, atOnce.True)

	inTurn := p.hand(5)
	inTurn.test("salt-probe")
	inTurn.test("brine-strength")
	inTurn.name([]string{bridge}, 0.9)
	require.False(t, inTurn.Prove(inTurn.mend([]string{bridge})), "the bypass still leaks")
	inTurn.test("hardness-valve")
	inTurn.Look(plant.PartBypass)
	inTurn.name([]string{leak}, 0.9)

	one := tested()
	one.name([]string{bridge}, 0.9)
	half := tested()
	half.name([]string{bridge, "riser-seal"}, 0.9)
	wrong := tested()
	wrong.name([]string{"riser-seal"}, 0.9)

	got := []float64{
		cause(both).Got, cause(inTurn).Got, cause(one).Got, cause(half).Got, cause(wrong).Got,
	}
	t.Log(got)
	require.Greater(t, got[0], 28.0, "both at once")
	require.Greater(t, got[1], 28.0, "one after the other")
	require.InDelta(t, 22, got[2], 2.0, "one of two: half, and a confidence that fits")
	require.Less(t, got[3], 10.0, "one right and one wrong: a quarter, and a confidence that does not")
	require.Less(t, got[4], 3.0)
}

// TestAVerdictAfterAFailedRepairIsHindsight names the true cause of a unit with one
// fault only after something else was replaced in vain.
func TestAVerdictAfterAFailedRepairIsHindsight(t *testing.T) {
	p := open(t, "hard-water-at-the-mill-house")
	h := p.hand(5)
	h.test("brine-level")
	h.name([]string{"screen-plugged"}, 0.9)
	h.Work(call.Clean, plant.PartScreen, "")
	h.name([]string{"nozzle-plugged"}, 0.9)
	h.Ready()
	h.finish()
	r := h.judged()
	require.Less(t, r.Items[0].Got, 4.0, "what the readings spoke little for")
	require.Len(t, r.Unneeded, 1)
}

// drawProven is what the debrief says of a draw that was shown since the repair.
const drawProven = "A test showed it drawing brine after the repair."

// proofAtTheMill finds a plugged nozzle, cleans it or does not, does then what may prove
// the draw, and returns what the debrief says of proof.
func proofAtTheMill(t *testing.T, p *place, mends bool, then func(h hand)) string {
	t.Helper()
	h := p.hand(5)
	h.test("brine-level")
	h.name([]string{"nozzle-plugged"}, 0.9)
	if mends {
		require.True(t, h.mend([]string{"nozzle-plugged"}))
	}
	then(h)
	h.finish()
	return h.judged().Items[4].Reason
}

// TestALookIntoTheBrineLineProvesTheDraw mends a unit, sends it on to brine draw and looks
// at the line in place of measuring; a look before the repair proves nothing.
func TestALookIntoTheBrineLineProvesTheDraw(t *testing.T) {
	p := open(t, "hard-water-at-the-mill-house")
	look := func(h hand) {
		for p.model.Config().Program.Stops[h.call.Plant.Control.Station].ID != "brine" {
			require.True(t, h.Drive())
		}
		h.call.RunTo(h.call.Ticks + 240)
		h.test("line-look")
	}
	require.Contains(t, proofAtTheMill(t, p, true, look), drawProven)
	require.NotContains(t, proofAtTheMill(t, p, false, look), drawProven)
}

// TestTheRecorderProvesADrawSinceTheRepair reads it before the regeneration that follows a
// repair, which tells of the nights before, and after it.
func TestTheRecorderProvesADrawSinceTheRepair(t *testing.T) {
	p := open(t, "hard-water-at-the-mill-house")
	read := func(runs bool) func(h hand) {
		return func(h hand) {
			h.Ready() // in backwash, which let the pressure off
			if runs {
				for ended := h.call.Ticks + int64(3*3600/call.TickS); h.call.Ticks < ended; {
					h.call.RunTo(h.call.Ticks + 240)
				}
				require.False(t, h.call.Plant.Control.Regenerating)
			}
			h.test("draw-watch")
		}
	}
	require.Contains(t, proofAtTheMill(t, p, true, read(true)), drawProven)
	require.NotContains(t, proofAtTheMill(t, p, true, read(false)), drawProven)
}

// TestAFallingLevelProvesTheDraw reads the tape before brine draw and late in it.
func TestAFallingLevelProvesTheDraw(t *testing.T) {
	p := open(t, "hard-water-at-the-mill-house")
	tape := func(minutes float64) func(h hand) {
		return func(h hand) {
			h.test("brine-level")
			for p.model.Config().Program.Stops[h.call.Plant.Control.Station].ID != "brine" {
				require.True(t, h.Drive())
			}
			h.call.RunTo(h.call.Ticks + int64(minutes*60/call.TickS))
			h.test("brine-level")
		}
	}
	require.Contains(t, proofAtTheMill(t, p, true, tape(25)), drawProven)
	require.NotContains(t, proofAtTheMill(t, p, true, tape(1)), drawProven, "it may be the tape")
	require.NotContains(t, proofAtTheMill(t, p, false, tape(25)), drawProven)
	bailed := func(h hand) {
		h.test("brine-level")
		h.call.Plant.Tank.WaterKg += 20
		h.test("brine-level")
		require.NotNil(t, h.Do(call.Act{Kind: call.Bail}, ""))
		h.test("brine-level")
	}
	require.NotContains(t, proofAtTheMill(t, p, true, bailed), drawProven, "it was taken out by hand")
}

// TestAComplaintIsShownToBeGone has the household's pressure set right and the draw shown,
// and reads the flow at a tap then, or before, or not at all: what was complained of counts
// for two points of the proof.
func TestAComplaintIsShownToBeGone(t *testing.T) {
	p := open(t, "a-thin-shower-at-the-water-tower")
	proof := func(before, after bool) debrief.Item {
		h := p.hand(5)
		if before {
			h.test("house-flow")
		}
		h.name([]string{"supply-low"}, 0.9)
		require.True(t, h.mend([]string{"supply-low"}))
		h.Ready()
		if after {
			h.test("house-flow")
		}
		h.finish()
		return h.judged().Items[4]
	}
	const gone, not = `The complaint "there is little flow at the taps" is shown to be gone.`, `The complaint "there is little flow at the taps" is not shown to be gone.`
	after, before, never := proof(false, true), proof(true, false), proof(false, false)
	require.Contains(t, after.Reason, gone)
	require.Contains(t, before.Reason, not, "it was weak then")
	require.Contains(t, never.Reason, not)
	require.InDelta(t, 2, after.Got-never.Got, 1e-9)
	require.InDelta(t, before.Got, never.Got, 1e-9)
}

// TestSaltIsShownToBeGoneByARegenerationAfterTheRepair reads the pen at the house before the
// unit has regenerated, when no brine could have come through, and after.
func TestSaltIsShownToBeGoneByARegenerationAfterTheRepair(t *testing.T) {
	p := open(t, "salt-in-the-tea-at-the-tollhouse")
	const plugged = "drain-control-plugged"
	early := p.hand(5)
	early.name([]string{plugged}, 0.9)
	require.True(t, early.mend([]string{plugged}))
	early.Ready()
	early.test("conductivity-house")
	early.finish()
	require.Contains(t, early.judged().Items[4].Reason, `The complaint "the water tastes of salt" is not shown to be gone.`)

	late := p.hand(5)
	late.name([]string{plugged}, 0.9)
	require.True(t, late.Prove(late.mend([]string{plugged})))
	late.Leave()
	proof := late.judged().Items[4]
	require.Contains(t, proof.Reason, `The complaint "the water tastes of salt" is shown to be gone.`)
	require.Equal(t, proof.Max, proof.Got)
}

// TestWaterIsLetBackInSlowlyInBackwash has the valve off and on again, and lets the water
// back in, in several ways.
func TestWaterIsLetBackInSlowlyInBackwash(t *testing.T) {
	const right, wrong = "The water was let back in slowly", "The water was not let back in slowly"
	p := open(t, "hard-water-at-the-mill-house")
	do := func(h hand, a call.Act) { require.NotNil(t, h.Do(a, "")) }
	off := func(h hand) {
		require.True(t, h.Drive()) // to backwash, which lets the pressure off as well
		require.True(t, h.Look(plant.PartUpperDist))
		do(h, call.Act{Kind: call.Refit, Part: plant.PartUpperDist})
		do(h, call.Act{Kind: call.Power, Value: 1})
	}
	in := func(slowly float64) call.Act { return call.Act{Kind: call.Bypass, ID: "service", Value: slowly} }
	for _, row := range []struct {
		situation string
		play      func(h hand)
		want      string
	}{
		{"little by little, in backwash", func(h hand) { off(h); do(h, in(1)) }, right},
		{"at once, in backwash", func(h hand) { off(h); do(h, in(0)) }, wrong},
		{"little by little, in service", func(h hand) {
			off(h)
			for h.call.Plant.Control.Regenerating {
				do(h, call.Act{Kind: call.Advance})
				h.call.RunTo(h.call.Ticks + int64(120/call.TickS))
			}
			do(h, in(1))
		}, wrong},
		{"by the shut-off, with the bypass in service", func(h hand) {
			off(h)
			do(h, call.Act{Kind: call.ShutOff, Value: 1})
			do(h, in(1))
			do(h, call.Act{Kind: call.ShutOff})
		}, wrong},
		{"the water was off, the valve not", func(h hand) {
			do(h, call.Act{Kind: call.Bypass, ID: "bypass"})
			do(h, in(0))
		}, ""},
	} {
		h := p.hand(5)
		row.play(h)
		h.Ready()
		h.finish()
		reason := h.judged().Items[4].Reason
		for _, said := range []string{right, wrong} {
			require.Equal(t, said == row.want, strings.Contains(reason, said), "%s: %s", row.situation, reason)
		}
	}
}

// TestWhatWasOpenInTheTankIsDisinfected has the valve off and on again, and pours bleach
// before, after and without the draw that takes it along.
func TestWhatWasOpenInTheTankIsDisinfected(t *testing.T) {
	const right, wrong = "was disinfected, and rinsed", "was not disinfected"
	p := open(t, "hard-water-at-the-mill-house")
	do := func(h hand, a call.Act) { require.NotNil(t, h.Do(a, "")) }
	bleach := func(h hand) { do(h, call.Act{Kind: call.Disinfect}) }
	draw := func(h hand) {
		h.Ready()
		h.call.RunTo(h.call.Ticks + int64(3*3600/call.TickS))
		require.False(t, h.call.Plant.Control.Regenerating)
	}
	for _, row := range []struct {
		situation string
		off       plant.Part
		play      func(h hand)
		want      string
	}{
		{"bleach, then the draw", plant.PartUpperDist, func(h hand) { bleach(h); draw(h) }, right},
		{"the draw, then bleach", plant.PartUpperDist, func(h hand) { draw(h); bleach(h) }, wrong},
		{"the draw alone", plant.PartUpperDist, draw, wrong},
		{"only the injector was out", plant.PartInjector, draw, ""},
	} {
		h := p.hand(5)
		require.True(t, h.Drive()) // to backwash
		require.True(t, h.Look(row.off))
		do(h, call.Act{Kind: call.Refit, Part: row.off})
		row.play(h)
		h.test("salt-look") // a deed back in service
		h.finish()
		reason := h.judged().Items[4].Reason
		for _, said := range []string{right, wrong} {
			require.Equal(t, said == row.want, strings.Contains(reason, said), "%s: %s", row.situation, reason)
		}
	}
}

// TestSealsAreNotLeftDry puts an injector back with and without silicone.
func TestSealsAreNotLeftDry(t *testing.T) {
	const said = "Injector: its seals went in without silicone."
	p := open(t, "hard-water-at-the-mill-house")
	grease := func(id string) []call.Act {
		return []call.Act{{Kind: call.Lubricate, Part: plant.PartInjector, ID: id}}
	}
	for situation, row := range map[string]struct {
		acts []call.Act
		dry  bool
	}{
		"with silicone":    {grease("silicone"), false},
		"dry":              {nil, true},
		"with the wrong":   {grease("petroleum"), true},
		"a new one, dry":   {[]call.Act{{Kind: call.Replace, Part: plant.PartInjector}}, true},
		"wiped, then good": {append(grease("petroleum"), grease("silicone")...), false},
	} {
		h := p.hand(5)
		require.True(t, h.Look(plant.PartInjector))
		for _, a := range append(row.acts, call.Act{Kind: call.Refit, Part: plant.PartInjector}) {
			require.NotNil(t, h.Do(a, ""))
		}
		h.Ready()
		h.finish()
		require.Equal(t, row.dry, strings.Contains(h.judged().Items[4].Reason, said), situation)
	}
}

// TestNobodyEarnsForLeavingWhatIsWrong hands a unit back as it was found, and another one
// with something else amiss besides.
func TestNobodyEarnsForLeavingWhatIsWrong(t *testing.T) {
	p := open(t, "hard-water-at-the-mill-house")
	h := p.hand(5)
	h.finish()
	proof := h.judged().Items[4]
	require.Zero(t, proof.Got)
	require.NotContains(t, proof.Reason, "left")

	h = p.hand(5)
	require.NotNil(t, h.Do(call.Act{Kind: call.RawTap, Value: 1}, ""))
	h.finish()
	require.Contains(t, h.judged().Items[4].Reason, "It was not left as it should be. A tap runs.")
}

// TestADrumDrivenRoundWithoutBrineLeavesAFalseCount drives a sound unit whose controller
// counts water round by hand, and then regenerates it as it should be.
func TestADrumDrivenRoundWithoutBrineLeavesAFalseCount(t *testing.T) {
	const said = "The drum was driven round without brine"
	p := open(t, "a-skin-on-the-tea-at-the-toymakers")
	round := func(h hand) {
		require.True(t, h.Drive())
		for h.call.Plant.Control.Regenerating {
			require.True(t, h.Drive())
		}
	}
	for _, row := range []struct {
		situation string
		play      func(h hand)
		want      bool
	}{
		{"driven round", round, true},
		{"left as it was", func(hand) {}, false},
		{"driven round, and regenerated", func(h hand) {
			round(h)
			require.NotNil(t, h.Do(call.Act{Kind: call.StartRegen}, ""))
			h.call.RunTo(h.call.Ticks + int64(3*3600/call.TickS))
			require.False(t, h.call.Plant.Control.Regenerating)
		}, false},
	} {
		h := p.hand(5)
		row.play(h)
		h.finish()
		reason := h.judged().Items[4].Reason
		require.Equal(t, row.want, strings.Contains(reason, said), "%s: %s", row.situation, reason)
	}
}

// TestAProgramWithoutBackwashAsksOnlyForSlowWater has the valve off a counter-current unit
// and lets the water back in slowly, and at once.
func TestAProgramWithoutBackwashAsksOnlyForSlowWater(t *testing.T) {
	p := open(t, "spots-on-the-panes-at-the-glasshouse")
	require.Negative(t, p.model.Config().Program.Place("backwash"))
	for slowly, said := range map[float64]string{1: "The water was let back in slowly.", 0: "The water was not let back in slowly: "} {
		h := p.hand(5)
		require.True(t, h.Look(plant.PartUpperDist))
		require.NotNil(t, h.Do(call.Act{Kind: call.Refit, Part: plant.PartUpperDist}, ""))
		require.NotNil(t, h.Do(call.Act{Kind: call.Bypass, ID: "service", Value: slowly}, ""))
		h.Ready()
		h.finish()
		require.Contains(t, h.judged().Items[4].Reason, said)
	}
}
