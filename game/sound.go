package game

import (
	"math"

	"brinebench/sim"
)

// Sounds is how loud each sound of the unit is, 0 silent to 1. Nothing needs to be
// heard: all of it is seen and said too.
type Sounds struct {
	Motor float64 // the drive turns
	Drain float64 // water falls into the air gap
	Draw  float64 // brine runs up its line, or air with it
}

// Flows at which a sound is at its loudest; our choice.
const (
	loudDrainM3S = 4 * m3sPerGPM
	loudDrawM3S  = 0.5 * m3sPerGPM
)

// SoundsOf tells what a unit sounds like. Loudness goes with the root of the flow, as
// the pressure of sound goes with the root of its power (our choice).
func SoundsOf(v *sim.View) (s Sounds) {
	if v.Controller.Moving && v.Face.Powered {
		s.Motor = 1
	}
	s.Drain = loudness(v.DrainStream, loudDrainM3S)
	s.Draw = loudness(v.Paths[sim.PathBrineLine].FlowM3S, loudDrawM3S)
	return s
}

func loudness(flow, loudest float64) float64 {
	return math.Sqrt(min(max(flow, 0)/loudest, 1))
}
