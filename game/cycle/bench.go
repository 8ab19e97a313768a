package cycle

import (
	"cmp"
	"io/fs"
	"slices"

	"brinebench/sim"
)

// Bench is a unit to practise on, and to have cards of.
type Bench struct {
	ID, Title string
	JSON      []byte // the scenario
}

// Benches reads the units in bench/*.json, from plain to hard. The error names the file.
func Benches(files fs.FS) (list []Bench, err error) {
	names, err := fs.Glob(files, "bench/*.json")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		card, err := sim.Card(name, data)
		if err != nil {
			return nil, err
		}
		list = append(list, Bench{ID: card.ID[len("bench-"):], Title: card.Title, JSON: data})
	}
	order := sim.CyclePrograms()
	slices.SortStableFunc(list, func(a, b Bench) int {
		return cmp.Compare(slices.Index(order, a.ID), slices.Index(order, b.ID))
	})
	return list, nil
}

// Open opens the unit.
func (b *Bench) Open() (*sim.Cycle, error) { return sim.OpenCycle(b.ID+".json", b.JSON) }
