//go:build !js && !arm64

package sizing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/outfit"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/strict"
	"brinebench/sim/valve"
)

// extreme draws figures from all over their bounds, every third at one of them.
type extreme struct{ r repro.Stream }

func (e *extreme) within(lo, hi float64) float64 {
	switch x := e.r.Float64(); {
	case x < 1.0/6:
		return lo
	case x < 2.0/6:
		return hi
	}
	return lo + e.r.Float64()*(hi-lo)
}

// job is any job that DecodeJob lets pass: each of its fields is drawn by the reader of
// the file, so that it knows the bounds.
func (e *extreme) job(t *testing.T) *Job {
	amount := func(k Kind, lo, hi float64, in string) Amount { return amountIn(k, e.within(lo, hi), in) }
	j := Drawn(uint64(e.r.Float64() * 1e6))
	j.People = int(e.within(1, mostPeople))
	for i := range j.Fixtures {
		j.Fixtures[i] = int(e.within(0, mostFixtures))
	}
	j.Fixtures[int(e.r.Float64()*float64(NumFixtures))] = 1
	j.Hardness = amount(Hardness, 1, 100, "gpg")
	for _, to := range []*Amount{&j.Iron, &j.Manganese, &j.TDS, &j.Sodium, &j.Chlorine} {
		*to = amount(Concentration, 0, 5, "mg/L")
	}
	j.PH, j.Temperature = e.within(3, 12), amount(Temperature, 1, 40, "C")
	j.Well, j.Demand, j.SaltSaving = e.r.Float64() < 0.4, e.r.Float64() < 0.5, e.r.Float64() < 0.5
	j.Static = amount(Pressure, 10, 150, "psi")
	j.Residual = amount(Pressure, 5, j.Static.Value, "psi")
	j.ResidualAt = amount(Flow, 1, 100, "gpm")
	j.DrainRise, j.DrainLength, j.DrainMost = amount(Distance, -6, 12, "ft"), amount(Distance, 1, 100, "ft"), amount(Flow, 0.5, 50, "gpm")
	j.FloorWidth, j.Height = amount(Length, 10, 240, "in"), amount(Length, 20, 240, "in")
	_, err := DecodeJob("extreme", j.JSON())
	require.NoError(t, err)
	return j
}

// sheet is any answer that DecodeAnswer lets pass.
func (e *extreme) sheet() Sheet {
	var s Sheet
	if e.r.Float64() < 0.7 {
		s.Tank = outfit.All()[int(e.r.Float64()*6)].ID
	}
	if e.r.Float64() < 0.7 {
		ids := valve.ProgramIDs()
		s.Program = ids[int(e.r.Float64()*float64(len(ids)))]
	}
	for f := range NumFigures {
		if e.r.Float64() < 0.5 {
			u, _ := f.Kind().unitNamed(bounds[f].in)
			s.set(f, u.SI(e.within(bounds[f].lo, bounds[f].hi)))
		}
	}
	s.joinTank()
	return s
}

// Whatever passes the readers is worked out to finite figures, and a plant can be made
// of it.
func TestExtremeJobsAndAnswersMakeAPlant(t *testing.T) {
	e := extreme{repro.NewStream(4, "extreme")}
	for round := range 30 {
		j := e.job(t)
		sol := Solve(j)
		finite(t, j, &sol.Sheet, round)
		for range 4 {
			s := e.sheet()
			full := j.Completed(&s)
			for _, f := range j.Faults(&full) {
				require.Regexp(t, `\.$`, f.What)
			}
			finite(t, j, &full, round)
		}
	}
}

func finite(t *testing.T, j *Job, s *Sheet, round int) {
	for f := range NumFigures {
		require.False(t, math.IsNaN(s.Value[f]) || math.IsInf(s.Value[f], 0), "round %d: %s is %v", round, f.ID(), s.Value[f])
	}
	_, err := plant.New(j.Config(s))
	require.NoError(t, err, "round %d: %s", round, j.JSON())
}

// The bounds of answers are told by the reader that holds them.
func TestBoundsOfAnswersAreInUnitsOfTheirFigures(t *testing.T) {
	for f := range NumFigures {
		b := &bounds[f]
		_, ok := f.Kind().unitNamed(b.in)
		require.True(t, ok, f.ID())
		require.Less(t, b.lo, b.hi, f.ID())
		var a Amount
		w := &strict.Walk{}
		amount(w, f.ID(), f.Kind(), &a, b.lo, b.hi, b.in).Read(f.ID(), []byte(`{"value": 1e300, "unit": "`+b.in+`"}`))
		require.ErrorContains(t, w.Err("a"), "is outside", f.ID())
	}
}
