package control

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each bound of each field: just inside, just outside, and the name of the field.
func TestBoundsAreStrictAndNamed(t *testing.T) {
	whole := func(lo, hi int, put func(set *Settings, v int)) (good, bad []func(*Settings)) {
		at := func(v int) func(*Settings) { return func(set *Settings) { put(set, v) } }
		return []func(*Settings){at(lo), at(hi)}, []func(*Settings){at(lo - 1), at(hi + 1)}
	}
	real := func(lo, hi, over float64, put func(set *Settings, v float64)) (good, bad []func(*Settings)) {
		at := func(v float64) func(*Settings) { return func(set *Settings) { put(set, v) } }
		return []func(*Settings){at(lo), at(hi)},
			[]func(*Settings){at(math.Nextafter(lo, -1)), at(over), at(math.NaN()), at(math.Inf(1)), at(math.Inf(-1))}
	}
	check := func(field string, kind Kind) func(good, bad []func(*Settings)) {
		return func(good, bad []func(*Settings)) {
			t.Run(field, func(t *testing.T) {
				base := Settings{Kind: kind, StartS: 7200, RefillS: 300}
				if kind == Demand {
					base.HardnessGPG, base.CapacityKgr = 20, 24
				}
				for _, change := range good {
					set := base
					change(&set)
					require.Empty(t, set.Validate())
				}
				for _, change := range bad {
					set := base
					change(&set)
					errs := set.Validate()
					require.Len(t, errs, 1)
					require.ErrorContains(t, errs[0], field+": ")
				}
			})
		}
	}
	below := math.Nextafter(86400, 0)
	for _, kind := range []Kind{Clock, Demand} {
		check("start_s", kind)(real(0, below, 86400, func(set *Settings, v float64) { set.StartS = v }))
		check("refill_s", kind)(real(0, 14400, 14400.1, func(set *Settings, v float64) { set.RefillS = v }))
		check("runs_without_s", kind)(real(0, 365*86400, 365*86400+1, func(set *Settings, v float64) { set.RunsWithoutS = v }))
	}
	check("every_days", Clock)(whole(0, 99, func(set *Settings, v int) { set.EveryDays = v }))
	check("hardness_gpg", Demand)(whole(1, 99, func(set *Settings, v int) { set.HardnessGPG = v }))
	check("capacity_kgr", Demand)(whole(1, 99, func(set *Settings, v int) { set.CapacityKgr = v }))
	check("reserve_pct", Demand)(whole(0, 90, func(set *Settings, v int) { set.ReservePct = v }))
	check("override_days", Demand)(whole(0, 30, func(set *Settings, v int) { set.OverrideDays = v }))
	check("when", Demand)(whole(0, 1, func(set *Settings, v int) { set.When = When(v) }))
	check("reserve", Demand)(whole(0, 1, func(set *Settings, v int) { set.Reserve = Reserve(v) }))
	check("kind", Clock)(nil, []func(*Settings){
		func(set *Settings) { set.Kind = -1 },
		func(set *Settings) { set.Kind = 2 },
	})
}

func TestEveryFaultOfADemandControllerIsFound(t *testing.T) {
	bad := Settings{
		Kind: Demand, StartS: -1, RefillS: -1, RunsWithoutS: -1,
		HardnessGPG: 100, CapacityKgr: 0, When: 5, Reserve: 5, ReservePct: 91, OverrideDays: -1,
	}
	require.Len(t, bad.Validate(), 9)
}

func TestDriftIsBounded(t *testing.T) {
	for _, good := range []float64{-86400, 0, 86400} {
		require.Empty(t, (&Wear{DriftSPerDay: good}).Validate())
	}
	for _, bad := range []float64{-86401, 86401, math.NaN(), math.Inf(1), math.Inf(-1)} {
		errs := (&Wear{DriftSPerDay: bad}).Validate()
		require.Len(t, errs, 1)
		require.ErrorContains(t, errs[0], "drift_s_per_day")
	}
}
