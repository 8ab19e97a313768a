package resin

import "math"

// rates returns the exchange rates of film and particle, 1/s, at a flow of
// perS volumes of water per volume of bed cell and second.
func (m *Model) rates(cellsPerS, tempC float64) (film, particle float64) {
	f := m.mobility(tempC)
	d := m.spec.LiquidDiffusivityM2S * f
	u := cellsPerS * m.cellDepth
	sh := 1.09 / m.spec.Void * math.Cbrt(u*m.spec.BeadM/d)
	film = m.filmGeo * max(sh, 2) * d / m.spec.BeadM
	particle = 60 * m.spec.ParticleDiffusivityM2S * f / (m.spec.BeadM * m.spec.BeadM)
	return film, particle
}

const tempPoints = 51

// mobility interpolates the diffusivity relative to 25 °C.
func (m *Model) mobility(tempC float64) float64 {
	t := min(max(tempC, 0), tempPoints-1)
	i := min(int(t), tempPoints-2)
	return m.mobile[i] + float64((t-float64(i))*(m.mobile[i+1]-m.mobile[i]))
}

// mobilities returns the diffusivity at 0, 1, 2 … 50 °C relative to 25 °C.
func mobilities() (r [tempPoints]float64) {
	for t := range r {
		mu := math.Pow(10, 247.8/(float64(t)+133.15)) / math.Pow(10, 247.8/158.15)
		r[t] = (float64(t) + 273.15) / 298.15 / mu
	}
	return r
}
