//go:build !js && !arm64

package marking_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/marking"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

// setUp is a controller set as the worked solution says, in a house where it is noon.
func setUp(j *sizing.Job, demand bool) marking.Setup {
	_, s := marking.SetupJob(j, demand)
	const noon = 12 * unit.Hour
	return marking.Setup{
		Demand: demand, NowS: noon, ClockS: noon, StartS: 2 * unit.Hour, RefillS: s.Value[sizing.RefillTime],
		EveryDays: int(s.Value[sizing.EveryDays]/unit.Day + 0.5), HardnessGPG: int(s.Value[sizing.SetHardness]/unit.GPG + 0.5),
		CapacityKgr: int(s.Value[sizing.SetCapacity]*unit.MolarCaCO3/(1000*unit.Grain) + 0.5), ReservePct: int(s.Value[sizing.SetReserve]),
		OverrideDays: int(s.Value[sizing.OverrideDays]/unit.Day + 0.5),
	}
}

func markSetup(t *testing.T, j *sizing.Job, u marking.Setup) marking.SetupMarks {
	t.Helper()
	m, ok, err := marking.MarkSetup(j, &u, nil)
	require.NoError(t, err)
	require.True(t, ok)
	return m
}

func itemPoints(m marking.SetupMarks, id string) float64 {
	for _, x := range m.Items {
		if x.ID == id {
			return x.Points
		}
	}
	return -1
}

func TestAControllerSetAsWorkedEarnsAll(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	for _, demand := range []bool{false, true} {
		m := markSetup(t, j, setUp(j, demand))
		require.InDelta(t, 100, m.Score, 1e-9, "demand %v: %+v", demand, m.Items)
		require.Equal(t, m.Worked, m.Answer)
	}
}

// A start time meant for the night that comes by day, because the clock is twelve hours
// out, lets the house have raw water while it draws.
func TestASetUpIsJudgedByTheHouse(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	for _, row := range []struct {
		situation string
		demand    bool
		change    func(u *marking.Setup)
		lost      string // the item
		check     func(t *testing.T, m marking.SetupMarks)
	}{
		{"the clock is twelve hours out", false, func(u *marking.Setup) { u.ClockS = 0 }, "clock", func(t *testing.T, m marking.SetupMarks) {
			require.Greater(t, m.Answer.HardM3, 3*m.Worked.HardM3+0.1)
		}},
		{"every tenth day", false, func(u *marking.Setup) { u.EveryDays = 10 }, "every_days", func(t *testing.T, m marking.SetupMarks) {
			require.Greater(t, len(m.Answer.HardDays), 30)
		}},
		{"every night", false, func(u *marking.Setup) { u.EveryDays = 1 }, "every_days", func(t *testing.T, m marking.SetupMarks) {
			require.Greater(t, m.Answer.SaltKg, 1.8*m.Worked.SaltKg)
			require.Empty(t, m.Answer.HardDays)
		}},
		{"no night at all", false, func(u *marking.Setup) { u.EveryDays = 0 }, "every_days", func(t *testing.T, m marking.SetupMarks) {
			require.Zero(t, m.Answer.Regenerations)
			require.Greater(t, len(m.Answer.HardDays), 70)
		}},
		{"a hardness of 5 gpg", true, func(u *marking.Setup) { u.HardnessGPG = 5 }, "set_hardness", func(t *testing.T, m marking.SetupMarks) {
			require.Greater(t, len(m.Answer.HardDays), 30)
		}},
		{"no refill", true, func(u *marking.Setup) { u.RefillS = 0 }, "refill_time", func(t *testing.T, m marking.SetupMarks) {
			require.Greater(t, len(m.Answer.HardDays), 60)
		}},
	} {
		u := setUp(j, row.demand)
		row.change(&u)
		m := markSetup(t, j, u)
		require.Zero(t, itemPoints(m, row.lost), row.situation)
		require.Less(t, m.Score, 95.0, row.situation)
		t.Run(row.situation, func(t *testing.T) { row.check(t, m) })
	}
}

func TestWeekdaysCountByTheirLongestGap(t *testing.T) {
	j := named(t, "four-at-20-gpg") // every third day
	u := setUp(j, false)
	u.EveryDays, u.Weekdays = 0, [7]bool{0: true, 3: true, 5: true}
	require.Positive(t, itemPoints(markSetup(t, j, u), "every_days"), "gaps of 3, 2 and 2 days")
	u.Weekdays = [7]bool{2: true}
	require.Zero(t, itemPoints(markSetup(t, j, u), "every_days"), "once a week")
}

func TestABadSetUpIsRefused(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	for want, change := range map[string]func(u *marking.Setup){
		"clock_s":       func(u *marking.Setup) { u.ClockS = 86400 },
		"now_s":         func(u *marking.Setup) { u.NowS = -1 },
		"start_s":       func(u *marking.Setup) { u.StartS = 1e9 },
		"refill_s":      func(u *marking.Setup) { u.RefillS = 1e6 },
		"hardness_gpg":  func(u *marking.Setup) { u.HardnessGPG = 0 },
		"capacity_kgr":  func(u *marking.Setup) { u.CapacityKgr = 100 },
		"override_days": func(u *marking.Setup) { u.OverrideDays = 31 },
	} {
		u := setUp(j, true)
		change(&u)
		_, _, err := marking.MarkSetup(j, &u, nil)
		require.ErrorContains(t, err, want)
	}
}
