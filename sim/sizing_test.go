package sim_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// answerTo writes the worked solution of a job as an answer, but for some figures.
func answerTo(t *testing.T, job sim.SizingJob, without ...string) []byte {
	sol, err := sim.SolveSizing("job", job.JSON)
	require.NoError(t, err)
	figures := map[string]any{}
	for i, st := range sol.Steps {
		number, unit, _ := strings.Cut(st.Result[0], " ")
		unit = strings.ReplaceAll(strings.TrimSuffix(unit, "s"), "³", "3") // days, grains
		figures[st.ID] = map[string]any{"value": json.Number(number), "unit": unit}
		require.Equal(t, job.Figures[i].ID, st.ID)
		require.True(t, slices.ContainsFunc(job.Figures[i].Units[0], func(u sim.SizingUnit) bool { return u.Name == unit }))
	}
	for _, id := range without {
		delete(figures, id)
	}
	text, err := json.Marshal(map[string]any{"format": "brinebench-answer-1", "tank": sol.TankID, "program": sol.Program, "figures": figures})
	require.NoError(t, err)
	require.NoError(t, sim.CheckSizingAnswer("answer", text))
	return text
}

// The rounded figures of the worked solution, written as a trainee would, pass.
func TestASizingIsOpenedSolvedAnsweredAndMarked(t *testing.T) {
	job := sim.DrawSizing(12)
	again, err := sim.OpenSizing("job", job.JSON)
	require.NoError(t, err)
	require.Equal(t, job, again)
	packed, err := sim.PackSizing(job.JSON, answerTo(t, job))
	require.NoError(t, err)
	last := 0.0
	m, err := sim.MarkPackedSizing(packed, func(done float64) bool {
		require.GreaterOrEqual(t, done, last)
		last = done
		return true
	})
	require.NoError(t, err)
	require.Equal(t, 1.0, last)
	require.InDelta(t, 100, m.Score, 1e-9)
	require.Len(t, m.Figures, len(job.Figures))
	require.Empty(t, m.Answer.HardDays)
	text, err := json.Marshal(m)
	require.NoError(t, err)
	var back sim.SizingMarks
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, m.Score, back.Score)

	m, err = sim.MarkSizing(job.JSON, answerTo(t, job, "salt_dose", "capacity"), nil)
	require.NoError(t, err)
	require.Less(t, m.Score, 100.0)
	require.Less(t, m.Answered, 1.0)
	require.Equal(t, []string{"Salt for a regeneration"}, m.Silent)
}

func TestASizingThatIsStoppedOrBadIsTold(t *testing.T) {
	job := sim.DrawSizing(12)
	_, err := sim.MarkSizing(job.JSON, answerTo(t, job), func(float64) bool { return false })
	require.ErrorIs(t, err, sim.ErrStopped)
	require.NoError(t, sim.CheckSizing(job.JSON, answerTo(t, job)))
	require.Error(t, sim.CheckSizing(job.JSON, []byte(`{}`)))
	copied := `{"format": "brinebench-answer-1", "figures": {"hardness": {"value": 9, "unit": "dH"}}}`
	require.Equal(t, "dH", job.Figures[0].From)
	require.ErrorContains(t, sim.CheckSizing(job.JSON, []byte(copied)), "answer: figures.hardness.unit: °dH is the job sheet's own")
	require.NoError(t, sim.CheckSizingAnswer("answer", []byte(copied)), "by itself nothing is wrong with it")
	_, err = sim.OpenSizing("sheet.json", []byte(`{}`))
	require.ErrorContains(t, err, "sheet.json: people is missing")
	_, err = sim.MarkPackedSizing([]byte("x"), nil)
	require.ErrorContains(t, err, "sizing: ")
	require.ErrorContains(t, sim.CheckSizingAnswer("a.json", []byte(`{"format": "brinebench-answer-1", "figures": {"nozzle": {"value": 0, "unit": "mm"}}}`)), "a.json: figures.nozzle.value")
}
