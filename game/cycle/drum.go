package cycle

import (
	"math"
	"slices"

	"brinebench/sim"
)

// Mark is a position of a drum without names.
type Mark struct {
	Letter string  // "A" for the leftmost, and so on
	Deg    float64 // where it stands, 0..360 from the chart's left edge
	Stop   string  // the position that it is
	Asked  bool    // its seats are asked for
}

// Drum is a drum without names: its lobes unrolled from anywhere, and in one half of
// the exercises against the way it turns.
type Drum struct {
	Lobe  [sim.NumSeats][samples]float64 // as sim.Setup has them
	Marks []Mark                         // from left to right
}

// samples are those of a lobe, one for each 2°.
const samples = 180

// Drum is the unit's drum as the present exercise shows it.
func (d *Drill) Drum() (drum Drum) {
	own := d.unit.Setup()
	asked := slices.IndexFunc(own.Stations, func(s sim.Station) bool { return s.ID == d.exercise.Stop })
	if asked < 0 {
		return drum
	}
	edge := cut(own.Stations, d.exercise.Stop)
	back := asked%2 == 1
	at := func(sample int) int {
		if back {
			return (edge - sample + 2*samples) % samples
		}
		return (edge + sample) % samples
	}
	for seat := range drum.Lobe {
		for i := range drum.Lobe[seat] {
			drum.Lobe[seat][i] = own.Lobe[seat][at(i)]
		}
	}
	for i, s := range own.Stations {
		deg := math.Mod(s.AngleDeg-float64(2*edge)+720, 360)
		if back {
			deg = 360 - deg
		}
		drum.Marks = append(drum.Marks, Mark{Deg: deg, Stop: s.ID, Asked: i == asked})
	}
	slices.SortFunc(drum.Marks, func(a, b Mark) int { return int(math.Copysign(1, a.Deg-b.Deg)) })
	for i := range drum.Marks {
		drum.Marks[i].Letter = string(rune('A' + i))
	}
	return drum
}

// cut is the sample at which a drum is cut open for a position to lie halfway round it:
// between two others.
func cut(list []sim.Station, stop string) int {
	at := slices.IndexFunc(list, func(s sim.Station) bool { return s.ID == stop })
	return between(list, (at+len(list)/2)%len(list))
}

// between is the sample halfway from a station to the next.
func between(list []sim.Station, i int) int {
	next := 360.0
	if i+1 < len(list) {
		next = list[i+1].AngleDeg
	}
	return int((list[i].AngleDeg+next)/4) % samples
}

// Held are the seats that a drum's lobes hold open at an angle of its chart.
func (u *Drum) Held(deg float64) (set sim.Seats) {
	for seat := range u.Lobe {
		set[seat] = u.Lobe[seat][int(math.Round(deg/2))%samples] > 0.5
	}
	return set
}

// Lifted are the stretches of a lane in which its lobe lifts, from and to, by samples.
func Lifted(lane []float64) (list [][2]int) {
	for i := range lane {
		switch up := lane[i] > 0.5; {
		case up && len(list) > 0 && list[len(list)-1][1] == i:
			list[len(list)-1][1] = i + 1
		case up:
			list = append(list, [2]int{i, i + 1})
		}
	}
	return list
}
