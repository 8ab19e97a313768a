package plant

import (
	"brinebench/sim/hydraulic"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// The feed's temperature is taken in whole degrees within these, °C.
const (
	coldestC = 1
	warmestC = 40
)

// thermal is what depends on the temperature of the water: one for each degree.
type thermal struct {
	rho     float64 // density, kg/m³
	mu      float64 // viscosity, Pa·s
	suction float64 // least pressure in the injector's throat, Pa gauge
	air     float64 // density of air at the atmosphere, kg/m³
	packing hydraulic.Packing
	fixed   [numLinks]hydraulic.Law // the laws that never change, and the frame of the others
}

func newThermal(c *Config, tempC float64) *thermal {
	t := &thermal{
		rho: water.Density(tempC), mu: water.Viscosity(tempC),
		suction: hydraulic.LeastSuction(water.VapourPressure(tempC) - unit.Atmosphere),
		air:     hydraulic.AirKgM3(0, tempC),
	}
	t.packing = hydraulic.Packing{
		BeadM: c.Bed.BeadM, Void: c.Bed.Void, BeadKgM3: wetBeadKgM3, RhoKgM3: t.rho, MuPaS: t.mu,
	}
	t.fixLaws(c)
	return t
}

// thermal returns that of the present feed.
func (m *Model) thermal(s *State) *thermal {
	return m.thermals[int(s.Around.FeedC)-coldestC]
}
