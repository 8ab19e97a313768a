package water

import (
	"math"

	"brinebench/sim/repro"
)

// ComposeFeed returns the ions of a feed water in mol/m³: hardness as calcium
// plus magnesium, of which calcium is the share caShare from 0 to 1; sodium and
// potassium in mol/m³. The anion, whatever it is in the ground, counts as
// chloride.
func ComposeFeed(hardness, caShare, sodium, potassium float64) Ions {
	ca := float64(hardness * caShare)
	return Ions{Na: sodium, K: potassium, Ca: ca, Mg: hardness - ca}
}

// limiting holds the limiting ionic conductivities at 25 °C in S·cm²/eq.
// Source: CRC Handbook, Ionic conductivity and diffusion at infinite dilution.
var limiting = [NumIons]float64{Na: 50.08, K: 73.48, Ca: 59.47, Mg: 53.0}

const limitingCl = 76.31

// Conductivity estimates the specific conductance of a water in S/m; c in
// mol/m³ up to some 1,000 eq/m³, tempC from 0 to 60 °C. The estimate is within
// 5 % of tabulated chloride solutions up to 100 eq/m³; natural waters, part of
// whose anion is the slower bicarbonate, conduct some 10 to 20 % less.
//
// Method: the solution counts as a mixture of the cations' chlorides, each with
// the limiting slope of Onsager (Robinson and Stokes, Electrolyte Solutions,
// 1959, ch. 7) in the ionic strength I of the whole. The denominator 1+1.3√I,
// I in mol/L, carries it on above the limiting law; 1.3 is our fit to NaCl. With
// temperature the conductivity follows the fluidity of water to the power 0.88,
// our fit to the limiting conductivities of NaCl and KCl from 0 to 25 °C, from
// memory.
func Conductivity(tempC float64, c Ions) float64 {
	strength := c.Anion()
	for i, z := range Charge {
		strength += float64(z * z * c[i])
	}
	root := math.Sqrt(math.Max(strength, 0) / 2000) // √(mol/L)
	damp := root / (1 + float64(1.3*root))
	sum := 0.0
	for i, z := range Charge {
		full := limiting[i] + limitingCl
		sum += float64(float64(z*c[i]) * (full - float64(onsagerSlope(z, limiting[i])*damp)))
	}
	warm := repro.Pow(Viscosity(25)/Viscosity(tempC), 0.88)
	return float64(1e-4 * sum * warm) // S·cm² to S·m²
}

// onsagerSlope returns the limiting slope of the equivalent conductivity of the
// chloride of a cation of charge z, against √I, at 25 °C in water.
func onsagerSlope(z, cation float64) float64 {
	sum := cation + limitingCl
	q := z / (1 + z) * sum / (cation + float64(z*limitingCl))
	relaxation := float64(0.7817 * z * q / (1 + math.Sqrt(q)) * sum)
	electrophoretic := float64(30.16 * (1 + z))
	return relaxation + electrophoretic
}
