package signature_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/signature"
	"brinebench/sim/valve"
)

func clockUnit(t *testing.T) *plant.Config {
	_, m := installation(t, mill)
	return m.Config()
}

func TestPriorsSumToOne(t *testing.T) {
	sum := 0.0
	for _, p := range signature.Prior(clockUnit(t)) {
		sum += p
	}
	require.InDelta(t, 1, sum, 1e-12)
}

func TestUnitsCoverWhatAnInstallationCanHave(t *testing.T) {
	clock := *clockUnit(t)
	demand := clock
	demand.Control.Kind = control.Demand
	ids := signature.Causes()
	of := func(c *plant.Config) (list []string) {
		for _, u := range signature.Units(c) {
			list = append(list, ids[u.Cause])
		}
		return list
	}
	require.NotContains(t, of(&clock), "meter-jammed", "a time clock has no meter")
	require.Zero(t, signature.Prior(&clock)[slices.Index(ids, "meter-jammed")])
	require.Contains(t, of(&demand), "meter-jammed")
	outdoors, upflow := clock, clock
	outdoors.Site.Outdoors = true
	upflow.Program, _ = valve.ProgramNamed("counter-current")
	require.NotContains(t, of(&clock), "brine-line-frozen", "no frost in a cellar")
	require.Contains(t, of(&outdoors), "brine-line-frozen")
	require.Contains(t, of(&clock), "upflow-seat-stuck-shut")
	require.NotContains(t, of(&upflow), "upflow-seat-stuck-shut", "it has no backwash")
	require.Contains(t, of(&upflow), "upflow-seat-worn")
	for _, c := range []*plant.Config{&clock, &demand, &outdoors, &upflow} {
		units := signature.Units(c)
		require.Equal(t, plant.Healthy(), units[len(units)-1].Cond, "the sound unit is the last")
		for i, f := range fault.Catalogue() {
			n := 0
			for _, u := range units {
				if u.Cause == i {
					n++
					require.InDelta(t, u.Severity, f.Severity(&u.Cond), 1e-12)
				}
			}
			if f.CanBe(c) {
				require.Equal(t, len(f.Severities), n, f.ID)
			}
		}
	}
}

func TestHypothesesLieBetweenNeighbouringSeverities(t *testing.T) {
	units, prior := signature.Units(clockUnit(t)), signature.Prior(clockUnit(t))
	sums := make([]float64, len(prior))
	for _, h := range signature.Hypotheses(units, prior) {
		lo, hi := units[h.Lo], units[h.Hi]
		require.Equal(t, h.Cause, lo.Cause)
		require.Equal(t, h.Cause, hi.Cause)
		require.LessOrEqual(t, h.Hi-h.Lo, 1)
		if h.Lo == h.Hi {
			f := fault.Catalogue()
			require.True(t, h.Cause == len(f) || len(f[h.Cause].Severities) == 1)
		}
		sums[h.Cause] += h.Prior
	}
	require.InDeltaSlice(t, prior, sums, 1e-12)
}
