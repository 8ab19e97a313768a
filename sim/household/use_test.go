package household

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
)

// EPA WaterSense puts a running toilet at about 200 US gal a day (from memory).
func TestLeakRunsDayAndNight(t *testing.T) {
	const leak = 200 * galM3 / 86400
	sp, tight := Standard(4, 9), Standard(4, 9)
	sp.LeakM3S = leak
	require.Equal(t, DayDraws(&tight, 3), DayDraws(&sp, 3))
	require.InEpsilon(t, 200*galM3, DailyM3(&sp, 3)-DailyM3(&tight, 3), 1e-12)
	s := Start(&sp, 0, 0)
	drawn, want := 0.0, 0.0
	for day := range 3 {
		want += DailyM3(&sp, day)
	}
	for s.Day < 3 {
		dt, flow := NextChange(&s), FlowAt(&sp, &s)
		require.GreaterOrEqual(t, flow, leak)
		require.InDelta(t, FlowAt(&tight, &s)+leak, flow, 1e-18)
		drawn += dt * flow
		Advance(&sp, &s, dt)
	}
	require.InEpsilon(t, want, drawn, 1e-12)
}

func TestLeakIsAllThatAnEmptyHouseDraws(t *testing.T) {
	sp := Standard(2, 9)
	sp.Visits, sp.LeakM3S = []Visit{{People: -2}}, 1e-6
	s := Start(&sp, 0, 0)
	require.Equal(t, 1e-6, FlowAt(&sp, &s))
	require.Equal(t, 86400.0, NextChange(&s))
	require.InEpsilon(t, 0.0864, DailyM3(&sp, 0), 1e-12)
	require.Equal(t, 1e-6, PeakM3S(&sp, 0, 10))
	require.Equal(t, 1e-6, QuantileM3S(&sp, 0, 10, 0.99))
}

// Two fixtures that each run a share p of the time, apart from one another: both
// run in p² of it, any in 2p − p² (the binomial reasoning of Hunter, BMS65, 1940).
func TestFlowNotExceededIsThatOfTheBinomial(t *testing.T) {
	const p, seconds, small, large = 0.2, 400, 1e-4, 3e-4
	sp := Spec{People: 1, Seed: 5}
	for _, flow := range []float64{small, large} {
		f := Fixture{ID: fmt.Sprint(flow), FlowM3S: flow, Seconds: seconds, Runs: 1, PerDay: p * 86400 / seconds}
		for h := range f.Hours {
			f.Hours[h] = 1
		}
		sp.Fixtures = append(sp.Fixtures, f)
	}
	const days, within = 300, 0.02
	one, both := p*(1-p)/(2*p-p*p), p*p/(2*p-p*p)
	for _, c := range []struct {
		share, want float64
	}{
		{one - within, small},
		{one + within, large},
		{1 - both - within, large},
		{1 - both + within, small + large},
	} {
		require.InEpsilon(t, c.want, QuantileM3S(&sp, 0, days, c.share), 1e-12, "share %v", c.share)
	}
	require.InEpsilon(t, small+large, PeakM3S(&sp, 0, days), 1e-12)
}

// Common practice, no source: a family's peak is some 6 to 12 gpm, reached for
// moments; most of the time in which water runs it is one or two fixtures.
func TestPeaksOfAFamily(t *testing.T) {
	sp := Standard(4, 1)
	peak, p99, p50 := PeakM3S(&sp, 0, 30)/gpm, QuantileM3S(&sp, 0, 30, 0.99)/gpm, QuantileM3S(&sp, 0, 30, 0.5)/gpm
	t.Logf("peak %.2f, 99 %% %.2f, half %.2f gpm", peak, p99, p50)
	require.Greater(t, peak, 6.0)
	require.Less(t, peak, 12.0)
	require.Less(t, p99, peak)
	require.Greater(t, p99, 4.0)
	require.Less(t, p50, 3.0)
	require.Equal(t, peak, QuantileM3S(&sp, 0, 30, 1)/gpm)
	require.GreaterOrEqual(t, PeakM3S(&sp, 0, 60)/gpm, peak)

	leaky := sp
	leaky.LeakM3S = 0.5 * gpm
	require.InDelta(t, peak+0.5, PeakM3S(&leaky, 0, 30)/gpm, 1e-9)
	require.InDelta(t, p99+0.5, QuantileM3S(&leaky, 0, 30, 0.99)/gpm, 1e-9)
	crowd := sp
	crowd.Visits = []Visit{{People: 6}}
	require.GreaterOrEqual(t, PeakM3S(&crowd, 0, 30)/gpm, peak, "guests add draws")
}

// A fixture serves one use at a time, so all running together bound the peak, even
// where one use follows another at once.
func TestPeakIsNoMoreThanAllFixtures(t *testing.T) {
	sp := Standard(16, 2)
	sp.Fixtures = sp.Fixtures[6:7] // the washing machine, always in use
	sp.Fixtures[0].PerDay = 2
	require.InEpsilon(t, sp.Fixtures[0].FlowM3S, PeakM3S(&sp, 0, 50), 1e-12)
}

// International Plumbing Code, table E103.3(3), from memory.
func TestDesignFlowIsThatOfTheCode(t *testing.T) {
	for _, row := range refdata.Rows(t, "tables/supply_fixture_units.csv") {
		sp := Spec{Fixtures: []Fixture{{Units: row.Number("units") / 2}, {Units: row.Number("units") / 2}}}
		require.InEpsilon(t, row.Number("demand_gpm_flush_tanks"), DesignM3S(&sp)/gpm, 1e-12, row.Where())
	}
	require.Zero(t, DesignM3S(&Spec{}))
	sp := Standard(4, 1)
	require.InEpsilon(t, 15.4+0.3*(16.0-15.4), DesignM3S(&sp)/gpm, 1e-12, "11.3 units")
	require.Greater(t, DesignM3S(&sp), QuantileM3S(&sp, 0, 100, 0.99), "the code is on the safe side")
}

func TestStepAllocatesNothing(t *testing.T) {
	sp := Standard(4, 9)
	sp.LeakM3S, sp.Visits = 1e-6, []Visit{{People: 2}}
	s := Start(&sp, 0, 0)
	flow := 0.0
	require.Zero(t, testing.AllocsPerRun(1000, func() {
		Advance(&sp, &s, 60)
		flow += FlowAt(&sp, &s) + NextChange(&s)
	}))
	require.Positive(t, flow)
	require.Equal(t, 0, s.Day)
}

func BenchmarkPeakOfAYear(b *testing.B) {
	sp := Standard(4, 1)
	for b.Loop() {
		PeakM3S(&sp, 0, 365)
	}
}

// The rows are the code's, from one unit on, and the design flow goes through them.
func TestTheDesignFlowGoesThroughTheRowsOfTheTable(t *testing.T) {
	rows := DemandRows()
	require.Len(t, rows, len(demand)-1)
	require.Equal(t, 1.0, rows[0].Units)
	for _, row := range rows {
		require.InEpsilon(t, row.FlowM3S, DesignM3S(&Spec{Fixtures: []Fixture{{Units: row.Units}}}), 1e-12, "%v units", row.Units)
	}
}
