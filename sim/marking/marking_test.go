//go:build !js && !arm64

package marking_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/internal/refdata"
	"brinebench/sim/marking"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/unit"
)

func named(tb testing.TB, job string) *sizing.Job {
	data, err := os.ReadFile(refdata.Path("../../scenarios/sizing/" + job + ".json"))
	require.NoError(tb, err)
	j, err := sizing.DecodeJob(job, data)
	require.NoError(tb, err)
	return j
}

// desk marks answers to one job; the worked unit lives once.
type desk struct {
	job    *sizing.Job
	sheet  sizing.Sheet
	worked outcome.Outcome
}

func open(tb testing.TB, job *sizing.Job) *desk {
	d := &desk{job: job, sheet: sizing.Solve(job).Sheet}
	d.worked = d.live(tb, &d.sheet)
	return d
}

func (d *desk) live(tb testing.TB, s *sizing.Sheet) outcome.Outcome {
	full := d.job.Completed(s)
	o, ok, err := outcome.Run(d.job, &full, nil)
	require.NoError(tb, err)
	require.True(tb, ok)
	return o
}

// mark lets the answered unit live and marks it; paper takes the worked outcome for it.
func (d *desk) mark(tb testing.TB, s *sizing.Sheet) marking.Marks {
	return marking.Mark(d.job, s, d.live(tb, s), d.worked)
}

func (d *desk) paper(s *sizing.Sheet) marking.Marks {
	return marking.Mark(d.job, s, d.worked, d.worked)
}

func verdicts(m marking.Marks) map[sizing.Figure]marking.Verdict {
	v := map[sizing.Figure]marking.Verdict{}
	for _, f := range m.Figures {
		v[f.Figure] = f.Verdict
	}
	return v
}

func TestTheWorkedAnswerEarnsAllAndABlankOneNothing(t *testing.T) {
	for seed := range uint64(8) {
		j := sizing.Drawn(seed)
		d := &desk{job: j, sheet: sizing.Solve(j).Sheet, worked: outcome.Outcome{SaltKg: 50, DrainM3: 5, HouseM3: 80}}
		m := d.paper(&d.sheet)
		require.InDelta(t, 100, m.Score, 1e-9, "seed %d", seed)
		require.InDelta(t, 50, m.Right, 1e-9)
		require.Zero(t, m.Consistency)
		blank := d.paper(&sizing.Sheet{})
		require.Zero(t, blank.Score, "seed %d", seed)
		require.Zero(t, blank.Answered)
	}
}

// A wider tank at the same dose for each ft³, with what then follows.
func TestAnotherGoodDesignEarnsFullMarks(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	d := open(t, j)
	require.Equal(t, "tank-10-in", d.sheet.Tank)
	for _, c := range []struct {
		tank   string
		dose   float64 // lb
		nozzle float64 // mm, 0 that of the tank
		throat float64
	}{
		{"tank-12-in", 12, 0, 0},
		{"tank-12-in", 10, 0, 0}, // a lower dose in a bigger tank
		{"tank-10-in", 9, 1.2, 2.3},
	} {
		s := sizing.NewSheet(c.tank, "", []sizing.Figure{sizing.SaltDose}, []float64{c.dose * unit.Pound})
		if c.nozzle > 0 {
			s = sizing.NewSheet(c.tank, "", []sizing.Figure{sizing.SaltDose, sizing.Nozzle, sizing.Throat}, []float64{c.dose * unit.Pound, c.nozzle / 1e3, c.throat / 1e3})
		}
		full := j.Completed(&s)
		m := d.mark(t, &full)
		require.InDelta(t, 100, m.Score, 1e-9, "%+v: %+v", c, m.Outcome)
	}
}

// An early slip is charged once: all that follows rightly from it counts.
func TestWhatFollowsFromAWrongFigureCounts(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	d := open(t, j)
	s := sizing.NewSheet("", "", []sizing.Figure{sizing.CompensatedHardness}, []float64{26 * unit.GPG})
	full := j.Completed(&s)
	m := d.mark(t, &full)
	v := verdicts(m)
	require.Equal(t, marking.Right, v[sizing.RawHardness])
	require.Equal(t, marking.Wrong, v[sizing.CompensatedHardness])
	require.Equal(t, marking.Follows, v[sizing.DailyLoad])
	require.Equal(t, marking.Follows, v[sizing.ResinNeeded])
	require.InDelta(t, 50-sizing.CompensatedHardness.Points(), m.Right+m.Consistency, 1e-9)
	require.Positive(t, m.Consistency)
	// The same load, but reckoned wrongly from the right hardness, does not follow.
	s = d.sheet
	s.Value[sizing.DailyLoad] *= 1.3
	v = verdicts(d.paper(&s))
	require.Equal(t, marking.Wrong, v[sizing.DailyLoad])
}

// Any usual factor for iron is right, and all that follows from it counts.
func TestAnotherUsualFactorForIronEarnsFullMarks(t *testing.T) {
	j := named(t, "three-with-iron")
	d := open(t, j)
	for _, gpg := range []float64{21, 25} { // 15 gpg, and 3 or 5 gpg for each of 2 mg/L
		s := sizing.NewSheet(d.sheet.Tank, d.sheet.Program, []sizing.Figure{sizing.CompensatedHardness}, []float64{gpg * unit.GPG})
		full := j.Completed(&s)
		m := d.paper(&full)
		require.Equal(t, marking.Right, verdicts(m)[sizing.CompensatedHardness], "%v gpg", gpg)
		require.InDelta(t, 50, m.Right+m.Consistency, 1e-9, "%v gpg", gpg)
	}
}

// A tank that is too small is no answer because its resin is its own; it counts where the
// trainee's own figures lead to it.
func TestATankThatIsTooSmallIsWrong(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	d := open(t, j)
	s := d.sheet
	small := sizing.NewSheet("tank-8-in", "", nil, nil)
	s.Tank, s.Value[sizing.Resin] = small.Tank, small.Value[sizing.Resin]
	m := d.paper(&s)
	require.Equal(t, marking.Wrong, verdicts(m)[sizing.Resin])
	require.Equal(t, "service-flow", m.Figures[sizing.Resin].Against[0].ID)
}

func TestEachPartThatDoesNotFitIsWrong(t *testing.T) {
	j := named(t, "four-at-20-gpg")
	d := open(t, j)
	for _, c := range []struct {
		figure sizing.Figure
		si     float64
		fault  string
	}{
		{sizing.DrainControl, 5.3 * unit.GPM, "drain-control-large"},
		{sizing.DrainControl, 1.2 * unit.GPM, "drain-control-small"},
		{sizing.Nozzle, 1.6e-3, "injector-large"},
		{sizing.SaltDose, 30 * unit.Pound, "dose-large"},
		{sizing.SaltDose, 2 * unit.Pound, "dose-small"},
		{sizing.RefillControl, 0.13 * unit.GPM, "refill-control-small"},
	} {
		s := d.sheet
		s.Value[c.figure] = c.si
		m := d.paper(&s)
		require.Equal(t, marking.Wrong, verdicts(m)[c.figure], c.fault)
		ids := []string{}
		for _, f := range m.Faults {
			ids = append(ids, f.ID)
		}
		if c.fault != "drain-control-large" { // it may carry the bed off besides
			require.Contains(t, ids, c.fault)
		}
		require.Less(t, m.Score, 100.0)
	}
}

// What is better never scores less: figures put right from the last to the first, blanks
// filled with the right figure, less hard water, salt, water and loss.
func TestABetterAnswerNeverScoresLess(t *testing.T) {
	for seed := range uint64(6) {
		j := sizing.Drawn(40 + seed)
		d := &desk{job: j, sheet: sizing.Solve(j).Sheet, worked: outcome.Outcome{SaltKg: 50, DrainM3: 5, HouseM3: 80}}
		wrong := d.sheet
		for f := range sizing.NumFigures {
			if !f.Choice() {
				wrong.Value[f] *= 1.9
			}
		}
		blank := sizing.Sheet{}
		last, lastBlank := d.paper(&wrong).Score, 0.0
		for f := sizing.NumFigures - 1; f >= 0; f-- {
			wrong.Value[f] = d.sheet.Value[f]
			score := d.paper(&wrong).Score
			require.GreaterOrEqual(t, score, last-1e-9, "seed %d: %s put right", 40+seed, f.ID())
			last = score
		}
		require.InDelta(t, 100, last, 1e-9)
		for f := range sizing.NumFigures {
			blank.Value[f], blank.Given[f] = d.sheet.Value[f], true
			if f == sizing.Resin {
				blank.Tank = d.sheet.Tank
			}
			score := d.paper(&blank).Score
			require.GreaterOrEqual(t, score, lastBlank-1e-9, "seed %d: %s filled in", 40+seed, f.ID())
			lastBlank = score
		}
	}
	j := sizing.Drawn(0)
	sheet, worked := sizing.Solve(j).Sheet, outcome.Outcome{SaltKg: 50, DrainM3: 5, HouseM3: 80, PeakLossPa: 10 * unit.PSI}
	for _, worse := range []func(o *outcome.Outcome, by float64){
		func(o *outcome.Outcome, by float64) { o.HardM3 = 20 * by },
		func(o *outcome.Outcome, by float64) { o.SaltKg *= 1 + 3*by },
		func(o *outcome.Outcome, by float64) { o.DrainM3 *= 1 + 3*by },
		func(o *outcome.Outcome, by float64) { o.PeakLossPa *= 1 + 3*by },
	} {
		last, first := 101.0, 0.0
		for step := range 11 {
			o := worked
			worse(&o, float64(step)/10)
			score := marking.Mark(j, &sheet, o, worked).Score
			require.LessOrEqual(t, score, last+1e-9)
			if step == 0 {
				first = score
			}
			last = score
		}
		require.Less(t, last, first)
	}
}

func TestComparingTellsHowFarItIsAndStops(t *testing.T) {
	j := sizing.Drawn(0)
	last, calls := 0.0, 0
	_, ok, err := marking.Compare(j, &sizing.Sheet{}, func(done float64) bool {
		require.GreaterOrEqual(t, done, last)
		last = done
		calls++
		return calls < 100
	})
	require.NoError(t, err)
	require.False(t, ok)
	require.InDelta(t, (1+10.0/90)/3, last, 1e-9)
}
