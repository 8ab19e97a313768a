package sim

import "errors"

// Judge replays a recording and its counterfactuals and returns the debrief.
func Judge(recording []byte, progress func(done float64)) (Report, error) {
	return Report{}, errors.New("not built yet")
}
