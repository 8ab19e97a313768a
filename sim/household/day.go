package household

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"brinebench/sim/repro"
)

// Draw is one run of one fixture.
type Draw struct {
	Fixture      int     // index into Spec.Fixtures
	StartS, EndS float64 // time of day, s since midnight, 0 ≤ start < end ≤ 86,400
	FlowM3S      float64 // nominal flow, m³/s at ReferencePa
}

// How much one day's use differs from another's, relative standard deviation,
// and where the tails of normal deviates are cut, in standard deviations.
const (
	daySpread = 0.15
	cutTail   = 2
)

// DayDraws returns the draws of a day by start. It depends on the spec and the
// day's number alone, and each fixture's draws on that fixture alone.
func DayDraws(sp *Spec, day int) []Draw {
	mood := repro.NewStream(sp.Seed, fmt.Sprintf("household/%d", day))
	busy := 1 + float64(daySpread*cut(&mood))
	var draws []Draw
	for i := range sp.Fixtures {
		f := &sp.Fixtures[i]
		r := repro.NewStream(sp.Seed, fmt.Sprintf("household/%d/%s", day, f.ID))
		draws = append(draws, f.day(i, uses(f, sp.People, busy, &r), &r)...)
	}
	slices.SortStableFunc(draws, func(a, b Draw) int { return cmp.Compare(a.StartS, b.StartS) })
	return draws
}

// uses returns the moments of a day at which somebody would use f, by time.
func uses(f *Fixture, people int, busy float64, r *repro.Stream) []float64 {
	var at []float64
	for range people {
		n := math.Floor(float64(f.PerDay*busy) + r.Float64())
		for range int(n) {
			at = append(at, f.moment(r))
		}
	}
	slices.Sort(at)
	return at
}

// moment returns a time of day by the fixture's hours.
func (f *Fixture) moment(r *repro.Stream) float64 {
	sum := 0.0
	for _, w := range f.Hours {
		sum += w
	}
	left, hour := float64(sum*r.Float64()), 23
	for h, w := range f.Hours {
		if left < w {
			hour = h
			break
		}
		left -= w
	}
	return float64(3600 * (float64(hour) + r.Float64()))
}

// day turns the wanted moments into draws of fixture i. Who finds it busy waits;
// the last of the day end by midnight.
func (f *Fixture) day(i int, wanted []float64, r *repro.Stream) []Draw {
	var draws []Draw
	free := 0.0
	for _, at := range wanted {
		long := float64(f.Seconds * (1 + float64(f.Spread*cut(r))))
		span := float64(float64(f.Runs)*long) + float64(float64(f.Runs-1)*f.GapS)
		at = math.Max(free, math.Min(at, dayS-span))
		if at+span > dayS {
			break
		}
		for k := range f.Runs {
			start := at + float64(float64(k)*(long+f.GapS))
			draws = append(draws, Draw{Fixture: i, StartS: start, EndS: math.Min(start+long, dayS), FlowM3S: f.FlowM3S})
		}
		free = at + span
	}
	return draws
}

// cut returns a normal deviate without its tails.
func cut(r *repro.Stream) float64 {
	return math.Max(-cutTail, math.Min(cutTail, r.Normal()))
}
