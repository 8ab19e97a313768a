package sizing

import (
	"slices"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// programs that a worked solution takes, the usual one first.
var programs = []string{"standard", "long-slow-rinse", "double-refill"}

// fit puts the program and parts into the sheet that fit its tank and dose: those
// that come with the tank if they do, otherwise the first of other trade sizes that
// leave the fewest misfits. What the sheet gives already stays.
func (j *Job) fit(s *Sheet) {
	own := s.outfit().Parts
	best, least := s.with(own, own.ProgramID), 1000
	try := func(p outfit.Parts, program string) bool {
		c := s.with(p, program)
		if n := len(j.misfits(&c)); n < least {
			best, least = c, n
		}
		return least == 0
	}
	j.eachSize(s, own, try)
	*s = best
}

// eachSize offers parts until one is taken, those nearest to the tank's own first.
func (j *Job) eachSize(s *Sheet, own outfit.Parts, try func(p outfit.Parts, program string) bool) {
	order := append([]string{own.ProgramID}, programs...)
	for _, in := range nearest(injectors(), own.Injector, func(x outfit.Injector) float64 { return x.NozzleMM }) {
		for _, drain := range j.drainControls(own.DrainControlGPM) {
			for _, refill := range nearest(refillControls(), own.RefillControlGPM, func(x float64) float64 { return x }) {
				for _, program := range order {
					p := own
					p.Injector, p.DrainControlGPM, p.RefillControlGPM = in, drain, refill
					if try(p, program) {
						return
					}
				}
			}
		}
	}
}

// with returns the sheet with parts and a program where it has none of its own.
func (s *Sheet) with(p outfit.Parts, program string) Sheet {
	c := *s
	c.takeParts(p)
	for f := DrainControl; f <= RefillControl; f++ {
		if s.Given[f] {
			c.Value[f] = s.Value[f]
		}
	}
	if c.Program == "" {
		c.Program = program
	}
	return c
}

// injectors, drain and refill controls that are to be had: those of the sets.
func injectors() (list []outfit.Injector) {
	for _, s := range outfit.All() {
		list = append(list, s.Injector)
	}
	return list
}

func refillControls() (list []float64) {
	for _, s := range outfit.All() {
		list = append(list, s.UpflowRefillControlGPM, s.RefillControlGPM)
	}
	return list
}

// drainControls are those that the drain and the supply can take, those nearest to
// the tank's own first.
func (j *Job) drainControls(own float64) []float64 {
	list := []float64{1.2, 1.5, 2, 2.4, 3.2, 3.5, 6}
	for _, s := range outfit.All() {
		list = append(list, s.DrainControlGPM)
	}
	most := min(j.DrainMost.SI, j.ResidualAt.SI) / unit.GPM
	can := slices.DeleteFunc(list, func(gpm float64) bool { return gpm > most })
	return nearest(append(can, own), own, func(x float64) float64 { return x })[:min(4, len(can)+1)]
}

// nearest sorts sizes by how near they are to one's own, which comes first.
func nearest[T any](list []T, own T, size func(T) float64) []T {
	far := func(x T) float64 {
		d := size(x)/size(own) - 1
		return max(d, -d)
	}
	slices.SortStableFunc(list, func(a, b T) int {
		switch {
		case far(a) < far(b):
			return -1
		case far(a) > far(b):
			return 1
		}
		return 0
	})
	return list
}
