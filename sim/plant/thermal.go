package plant

import (
	"math"

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
	vapour  float64 // vapour pressure, Pa gauge
	air     float64 // density of air at the atmosphere, kg/m³
	packing hydraulic.Packing
	fixed   [numLinks]hydraulic.Law // the laws that never change, and the frame of the others
}

func newThermal(c *Config, tempC float64) *thermal {
	t := &thermal{
		rho: water.Density(tempC), mu: water.Viscosity(tempC),
		vapour: water.VapourPressure(tempC) - unit.Atmosphere,
		air:    hydraulic.AirKgM3(0, tempC),
	}
	t.packing = hydraulic.Packing{
		BeadM: c.Bed.BeadM, Void: c.Bed.Void, BeadKgM3: wetBeadKgM3, RhoKgM3: t.rho, MuPaS: t.mu,
	}
	t.fixLaws(c)
	return t
}

// thermal returns that of the present feed.
func (m *Model) thermal(s *State) *thermal {
	return m.thermals[int(s.FeedC)-coldestC]
}

// feedC is the feed's temperature today, °C, in whole degrees.
func (m *Model) feedC(s *State) float64 {
	t := m.cfg.FeedTempC - s.Cond.FeedColderC
	return math.Floor(math.Max(coldestC, math.Min(warmestC, t)) + 0.5)
}

// feed is the composition of the raw water, mol/m³.
func (m *Model) feed(s *State) water.Ions {
	f := m.cfg.Feed
	if s.Cond.FeedHarder != 1 {
		f[water.Ca] *= s.Cond.FeedHarder
		f[water.Mg] *= s.Cond.FeedHarder
	}
	return f
}

// feedIron is the iron in the raw water, mol/m³.
func (m *Model) feedIron(s *State) float64 { return m.cfg.FeedIron + s.Cond.FeedIron }
