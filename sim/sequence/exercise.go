package sequence

import (
	"fmt"
	"slices"

	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/valve"
)

// Kind is what an exercise asks for.
type Kind string

// The kinds, from plain to hard.
const (
	Name  Kind = "name"  // the position, from the picture
	Seats Kind = "seats" // the eight seats of a position
	Path  Kind = "path"  // the water's way, passage by passage
	Lobes Kind = "lobes" // the position, from the drum's lobes and its angle
	Whole Kind = "whole" // a program, from nothing
)

// Kinds are all of them.
func Kinds() []Kind { return []Kind{Name, Seats, Path, Lobes, Whole} }

// Exercise is one question.
type Exercise struct {
	Kind    Kind
	Program string  // id of the valve's program
	Stop    string  // the position asked about; "" for a program to be built
	Way     string  // id of the way asked for, of a path
	Deg     float64 // angle of the drum, of lobes
}

// ID is what a record of practice keeps an exercise by: the same question has the same.
func (e *Exercise) ID() string {
	return fmt.Sprintf("%s/%s/%s/%s", e.Kind, e.Program, e.Stop, e.Way)
}

// Draw draws an exercise of a kind on a program. Of each kind every question comes up.
func Draw(kind Kind, program *valve.Program, seed uint64) Exercise {
	r := repro.NewStream(seed, "sequence/"+string(kind))
	e := Exercise{Kind: kind, Program: program.ID}
	if kind == Whole {
		return e
	}
	if kind == Path {
		all := asked(program)
		x := all[pick(&r, len(all))]
		e.Stop, e.Way = x[0], x[1]
		return e
	}
	i := pick(&r, len(program.Stops))
	e.Stop, e.Deg = program.Stops[i].ID, program.Stops[i].AngleDeg
	return e
}

// pick draws one of n.
func pick(r *repro.Stream, n int) int { return min(int(float64(r.Float64()*float64(n))), n-1) }

// asked are the positions of a program and the ways that water takes there, by the
// passages that stand open.
func asked(p *valve.Program) (list [][2]string) {
	for _, st := range p.Stops {
		list = append(list, [2]string{st.ID, "house"})
		switch {
		case st.Open[valve.Motive] && st.Open[valve.Brine]:
			list = append(list, [2]string{st.ID, "brine"}, [2]string{st.ID, "drain"})
		case st.Open[valve.Brine]:
			list = append(list, [2]string{st.ID, "tank"})
		case st.Open[valve.Backwash] || st.Open[valve.Rinse]:
			list = append(list, [2]string{st.ID, "drain"})
		}
	}
	return list
}

// WayNamed finds one of Ways.
func WayNamed(id string) (Way, bool) {
	i := slices.IndexFunc(Ways, func(w Way) bool { return w.ID == id })
	if i < 0 {
		return Way{}, false
	}
	return Ways[i], true
}

// Agrees tells how far an answered way is right: how many of its passages, from the
// start on, are those of the water's own.
func Agrees(answer, right []plant.Path) (n int) {
	for n < min(len(answer), len(right)) && answer[n] == right[n] {
		n++
	}
	return n
}
