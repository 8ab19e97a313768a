//go:build !js && !arm64

// A library takes seconds; it is made on one processor here, and testdata/replays
// shows that the plant gives the same bits on all.

package signature_test

import (
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/signature"
	"brinebench/sim/unit"
)

var (
	once sync.Once
	made *signature.Library
)

// library is that of the first call.
func library(t *testing.T) *signature.Library {
	once.Do(func() {
		f, m := installation(t, mill)
		last := 0.0
		made = signature.Make(f, m, func(done float64) {
			require.Greater(t, done, last)
			last = done
		})
		require.Equal(t, 1.0, last)
	})
	return made
}

// reading is what a unit shows of an instrument at a stage.
func reading(t *testing.T, sig *signature.Signature, stage signature.Stage, id string) instrument.Reading {
	i := slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return sig[stage][i]
}

// unitOf is the signature of the worst unit with a fault; "" is the sound one.
func unitOf(t *testing.T, l *signature.Library, id string) *signature.Signature {
	at := len(l.Units) - 1
	for i, u := range l.Units {
		if signature.Causes()[u.Cause] == id {
			at = i
		}
	}
	return &l.Signatures[at]
}

func TestASoundUnitShowsASoundCycle(t *testing.T) {
	l := library(t)
	sound := unitOf(t, l, "")
	at := func(stage signature.Stage, id string) float64 { return reading(t, sound, stage, id).Value }
	require.Less(t, at(signature.Service, "hardness-house"), 1*unit.GPG)
	require.InDelta(t, 2.2*unit.GPM, at(signature.Backwash, "drain-flow"), 0.1*unit.GPM, "its drain control's rating")
	require.Greater(t, at(signature.Draw, "brine-draw"), 0.15*unit.GPM)
	require.InDelta(t, 0, at(signature.SlowRinse, "brine-draw"), 0.01*unit.GPM, "the air check has seated")
	require.Greater(t, at(signature.FastRinse, "drain-flow"), 2*unit.GPM)
	require.InDelta(t, -0.4*unit.GPM, at(signature.Refill, "brine-draw"), 0.02*unit.GPM, "its refill control's rating")
	require.Less(t, at(signature.After, "hardness-house"), 1*unit.GPG)
	require.Equal(t, "quiet", reading(t, sound, signature.Service, "valve-listen").Seen)
}

func TestFaultsShowWhatTheTradeKnowsThemBy(t *testing.T) {
	l := library(t)
	raw := 15 * unit.GPG
	for _, row := range []struct {
		fault string
		stage signature.Stage
		id    string
		shows func(v float64, seen string) bool
	}{
		{"motor-dead", signature.Backwash, "drain-flow", func(v float64, _ string) bool { return v < 0.01*unit.GPM }},
		{"salt-absent", signature.Service, "salt-look", func(_ float64, seen string) bool { return seen == "no salt" }},
		{"nozzle-plugged", signature.Draw, "brine-draw", func(v float64, _ string) bool { return v < 0.01*unit.GPM }},
		{"brine-line-air", signature.Draw, "line-look", func(_ float64, seen string) bool { return seen != "brine runs up, no bubbles" }},
		{"bypass-ajar", signature.Service, "hardness-house", func(v float64, _ string) bool { return v > raw }},
		{"pass-seat-stuck-open", signature.Service, "hardness-valve", func(v float64, _ string) bool { return v > 2*unit.GPG }},
		{"days-wrong", signature.After, "hardness-house", func(v float64, _ string) bool { return v < 1*unit.GPG }},
		{"motive-seat-stuck-open", signature.Backwash, "valve-listen", func(_ float64, seen string) bool { return seen != "quiet" }},
	} {
		r := reading(t, unitOf(t, l, row.fault), row.stage, row.id)
		require.True(t, row.shows(r.Value, r.Seen), "%s: %s in %s: %v", row.fault, row.id, row.stage, r)
	}
}

// TestSwiftHistoriesGiveTheReadingsOfWatchedOnes compares a library unit with one
// that lives in finer grains, every draw by itself.
func TestSwiftHistoriesGiveTheReadingsOfWatchedOnes(t *testing.T) {
	f, m := installation(t, mill)
	l, coarse := library(t), m.Coarse()
	historyS := float64(f.HistoryDays) * unit.Day
	readings, apart := 0, 0
	for u := 0; u < len(l.Units); u += 19 {
		s := coarse.Start(l.Units[u].Cond)
		for s.TimeS < historyS {
			coarse.Step(s, min(coarse.MaxStep(s), historyS-s.TimeS))
		}
		s.NoDraw = true
		watched := signature.Of(coarse, s)
		for stage := range signature.NumStages {
			for i := range instrument.All() {
				in := &instrument.All()[i]
				readings++
				if signature.Likelihood(in, l.Signatures[u][stage][i], 0, 0, watched[stage][i], watched[stage][i]) < 0.5 {
					apart++
				}
			}
		}
	}
	require.Greater(t, readings, 4000)
	require.Less(t, apart, readings/100, "of %d readings", readings)
}

// TestUnitsOfAnySeverityAreNamed names a few units that the library does not have;
// testdata/signatures has a thousand.
func TestUnitsOfAnySeverityAreNamed(t *testing.T) {
	f, m := installation(t, mill)
	const n, seed = 77, 3
	first, second := 0, 0
	trials := signature.Trials(f, m, n, seed, nil)
	for _, x := range library(t).Name(trials, signature.Everything, seed) {
		first += x.First
		second += x.Second
	}
	require.GreaterOrEqual(t, float64(first)/n, 0.95)
	require.GreaterOrEqual(t, float64(second)/n, 0.98)
}

func TestALibraryComesOutTheSameAgain(t *testing.T) {
	f, m := installation(t, mill)
	l := library(t)
	past, tour := signature.NewPast(f, m), m.Coarse()
	for _, u := range []int{0, len(l.Units) / 2, len(l.Units) - 1} {
		require.Equal(t, l.Signatures[u], signature.Of(tour, past.Live(&l.Units[u])))
	}
}

func TestAUnitThatDoesNotGoOnIsNotWaitedFor(t *testing.T) {
	_, m := installation(t, mill)
	s := m.Start(plant.Healthy())
	s.StartNow = true
	m.Run(s, 120)
	require.NotNil(t, signature.Ahead(m, s.Clone(), "refill"))
	s.Powered = false
	m.Run(s, 1)
	require.True(t, s.Control.Regenerating)
	require.Nil(t, signature.Ahead(m, s, "refill"), "unplugged on the way")
}
