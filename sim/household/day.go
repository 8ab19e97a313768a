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
// day's number alone, and each fixture's draws on that fixture alone. The family's
// draws are the same whoever visits, and those of the first guests whoever comes
// besides: guests take a fixture when it is free. Who is away leaves theirs out.
func DayDraws(sp *Spec, day int) []Draw {
	mood := repro.NewStream(sp.Seed, fmt.Sprintf("household/%d", day))
	busy := 1 + float64(daySpread*cut(&mood))
	people := sp.PeopleOn(day)
	var draws []Draw
	for i := range sp.Fixtures {
		stream := fmt.Sprintf("household/%d/%s", day, sp.Fixtures[i].ID)
		t := timetable{f: &sp.Fixtures[i], fixture: i, draws: draws}
		r := repro.NewStream(sp.Seed, stream)
		t.family(uses(t.f, sp.People, busy, &r), people, &r)
		for guest := range people - sp.People {
			r := repro.NewStream(sp.Seed, fmt.Sprintf("%s/guest/%d", stream, guest))
			t.guest(uses(t.f, 1, busy, &r), &r)
		}
		draws = t.draws
	}
	slices.SortStableFunc(draws, func(a, b Draw) int { return cmp.Compare(a.StartS, b.StartS) })
	if sp.BlockS > 0 {
		return inBlocks(draws, sp.BlockS)
	}
	return draws
}

// inBlocks takes the draws that start in the same stretch of blockS together in
// one: the same volume at the mean of their flows, each weighted by its volume, so
// that pipes and bed meet the flow that they are used to. It starts with the first
// of them and ends by the start of the next at the latest, at more flow if need be.
func inBlocks(draws []Draw, blockS float64) []Draw {
	var merged []Draw
	for len(draws) > 0 {
		block := math.Floor(draws[0].StartS / blockS)
		n := 0
		for n < len(draws) && math.Floor(draws[n].StartS/blockS) == block {
			n++
		}
		room := float64(dayS)
		if n < len(draws) {
			room = draws[n].StartS
		}
		merged = append(merged, together(draws[:n], room))
		draws = draws[n:]
	}
	return merged
}

// together is one draw for all of them, that ends by lastS.
func together(draws []Draw, lastS float64) Draw {
	m3, weighted := 0.0, 0.0
	for _, d := range draws {
		v := float64(d.FlowM3S * (d.EndS - d.StartS))
		m3 += v
		weighted += float64(v * d.FlowM3S)
	}
	start := draws[0].StartS
	seconds := math.Min(float64(m3*m3)/weighted, lastS-start)
	return Draw{Fixture: draws[0].Fixture, StartS: start, EndS: start + seconds, FlowM3S: m3 / seconds}
}

// want is a moment at which somebody would use a fixture.
type want struct {
	at     float64 // time of day, s
	person int     // number, from 0
}

// uses returns the moments of a day at which so many people would use f, by time.
func uses(f *Fixture, people int, busy float64, r *repro.Stream) []want {
	var wanted []want
	for person := range people {
		n := math.Floor(float64(f.PerDay*busy) + r.Float64())
		for range int(n) {
			wanted = append(wanted, want{f.moment(r), person})
		}
	}
	slices.SortStableFunc(wanted, func(a, b want) int { return cmp.Compare(a.at, b.at) })
	return wanted
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

// timetable is the day of one fixture while it fills.
type timetable struct {
	f       *Fixture
	fixture int    // its index
	draws   []Draw // of the day so far, those of other fixtures first
	taken   []span // the uses so far, by start; none overlaps another
}

// span is a stretch of the day, s since midnight.
type span struct{ from, to float64 }

// length returns how long each run of a use is and the whole use, s.
func (t *timetable) length(r *repro.Stream) (run, whole float64) {
	run = float64(t.f.Seconds * (1 + float64(t.f.Spread*cut(r))))
	return run, float64(float64(t.f.Runs)*run) + float64(float64(t.f.Runs-1)*t.f.GapS)
}

// family enters what the family wants, by time, and draws for those of the first
// so many people who are at home. Who finds the fixture busy waits; the last of
// the day end by midnight.
func (t *timetable) family(wanted []want, home int, r *repro.Stream) {
	free := 0.0
	t.taken = make([]span, 0, len(wanted))
	for _, w := range wanted {
		run, whole := t.length(r)
		at := math.Max(free, math.Min(w.at, dayS-whole))
		if at+whole > dayS {
			break
		}
		if w.person < home {
			t.draw(at, run)
		}
		free = at + whole
		t.taken = append(t.taken, span{at, free})
	}
}

// guest enters what a guest wants: each use waits until the fixture is free for
// the whole of it, and is given up if that is not before midnight.
func (t *timetable) guest(wanted []want, r *repro.Stream) {
	for _, w := range wanted {
		run, whole := t.length(r)
		at, i := math.Max(0, math.Min(w.at, dayS-whole)), 0
		for ; i < len(t.taken) && t.taken[i].from < at+whole; i++ {
			at = math.Max(at, t.taken[i].to)
		}
		if at+whole <= dayS {
			t.draw(at, run)
			t.taken = slices.Insert(t.taken, i, span{at, at + whole})
		}
	}
}

// draw adds the runs of a use that starts at a moment.
func (t *timetable) draw(at, run float64) {
	for k := range t.f.Runs {
		start := at + float64(float64(k)*(run+t.f.GapS))
		t.draws = append(t.draws, Draw{Fixture: t.fixture, StartS: start, EndS: math.Min(start+run, dayS), FlowM3S: t.f.FlowM3S})
	}
}

// cut returns a normal deviate without its tails.
func cut(r *repro.Stream) float64 {
	return math.Max(-cutTail, math.Min(cutTail, r.Normal()))
}
