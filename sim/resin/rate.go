package resin

import (
	"brinebench/sim/repro"
	"brinebench/sim/water"
)

// rates returns the exchange rates of film and particle, 1/s, while perS
// volumes of a cell's bed pass per second.
//
// Film: Wilson and Geankoplis, Ind. Eng. Chem. Fundam. 5 (1966) 9, for 0.0016 <
// Re < 55, Sh = 1.09/ε·(Re·Sc)^⅓, and never below a lone sphere in still water,
// Sh = 2. Particle: Glueckauf's linear driving force, 60·D/d². Both
// diffusivities follow the viscosity of water as in Stokes and Einstein's law.
func (m *Model) rates(perS, tempC float64) (film, particle float64) {
	t := min(max(tempC, 0), 50)
	warm := (t + 273.15) / 298.15 * m.viscosity25 / water.Viscosity(t)
	bead := m.spec.BeadM
	d := m.spec.LiquidDiffusivityM2S * warm
	velocity := perS * m.cellDepth
	sh := 1.09 / m.spec.Void * cubeRoot(velocity*bead/d)
	film = m.beadArea * max(sh, 2) * d / bead
	particle = 60 * m.spec.ParticleDiffusivityM2S * warm / (bead * bead)
	return film, particle
}

// cubeRoot of x ≥ 0. The library's cube root fuses products on some processors.
func cubeRoot(x float64) float64 {
	if x == 0 {
		return 0
	}
	return repro.Exp(repro.Log(x) / 3)
}
