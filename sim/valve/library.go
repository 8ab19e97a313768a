package valve

import (
	"embed"
	"slices"
)

// The programs that come with the bench. Their times are common practice, no
// source; the time of a refill, which the salt dose sets, is a middling figure.
//
//go:embed programs/*.json
var files embed.FS

// programIDs name the files, the usual program first.
var programIDs = []string{"standard", "long-slow-rinse", "double-refill", "water-saving", "counter-current", "brine-first", "refill-before-rinse"}

var library = decodeLibrary()

func decodeLibrary() (list []Program) {
	for _, id := range programIDs {
		name := "programs/" + id + ".json"
		data, err := files.ReadFile(name)
		if err != nil {
			panic("valve: " + err.Error())
		}
		p, err := DecodeProgram(name, data)
		if err != nil {
			panic("valve: " + err.Error())
		}
		list = append(list, p)
	}
	return list
}

// ProgramIDs returns the ids of the programs that come with the bench, in a fixed
// order, the usual one first.
func ProgramIDs() []string { return slices.Clone(programIDs) }

// ProgramNamed returns the program of that id, a copy of the caller's own.
func ProgramNamed(id string) (Program, bool) {
	i := slices.Index(programIDs, id)
	if i < 0 {
		return Program{}, false
	}
	p := library[i]
	p.Stops = slices.Clone(p.Stops)
	return p, true
}

// Standard returns the program of a unit regenerated downwards, the usual one.
func Standard() Program {
	p, _ := ProgramNamed("standard")
	return p
}
