package sequence

import (
	"slices"
	"strings"

	"brinebench/sim/plant"
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
	Drum  Kind = "drum"  // every position of a drum without names, and the seats of one
	Whole Kind = "whole" // a program, from nothing
)

// Kinds are all of them.
func Kinds() []Kind { return []Kind{Name, Seats, Path, Lobes, Drum, Whole} }

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
	return strings.TrimRight(strings.Join([]string{"cycle", string(e.Kind), e.Program, e.Stop, e.Way}, "-"), "-")
}

// All are the exercises of a kind on a program. Refills are one position, however many
// there are.
func All(kind Kind, program *valve.Program) (list []Exercise) {
	if kind == Whole {
		return []Exercise{{Kind: kind, Program: program.ID}}
	}
	seen := map[string]bool{}
	for _, st := range program.Stops {
		if seen[st.ID] {
			continue
		}
		seen[st.ID] = true
		e := Exercise{Kind: kind, Program: program.ID, Stop: st.ID, Deg: st.AngleDeg}
		if kind != Path {
			list = append(list, e)
			continue
		}
		for _, way := range asked(&st) {
			e.Way = way
			list = append(list, e)
		}
	}
	return list
}

// asked are the ways that water takes in a position, by the passages that stand open.
func asked(st *valve.Stop) []string {
	switch {
	case st.Open[valve.Motive] && st.Open[valve.Brine]:
		return []string{"house", "brine", "drain"}
	case st.Open[valve.Brine]:
		return []string{"house", "tank"}
	case st.Open[valve.Backwash] || st.Open[valve.Rinse]:
		return []string{"house", "drain"}
	}
	return []string{"house"}
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
