package brine

import "brinebench/sim/water"

const naclKg = water.MolarMassNaCl

// chlorideKg is the mass of the chloride that each cation counts as, kg per mol of cation.
var chlorideKg = water.Ions{
	water.Na: naclKg,
	water.K:  water.MolarMass[water.K] + water.MolarMassCl,
	water.Ca: water.MolarMass[water.Ca] + 2*water.MolarMassCl,
	water.Mg: water.MolarMass[water.Mg] + 2*water.MolarMassCl,
}

// saltsKg returns the mass of the chlorides of c, kg per unit of c's amount.
func saltsKg(c water.Ions) float64 {
	m := 0.0
	for i, n := range c {
		m += float64(n * chlorideKg[i])
	}
	return m
}

// WaterPerM3 returns the water in one m³ of a solution of composition c (mol/m³), kg:
// total mass is the fixed point of m = ρ(salts/m), which contracts by about 0.2 a round.
func WaterPerM3(tempC float64, c water.Ions) float64 {
	salts := saltsKg(c)
	mass := water.BrineDensity(tempC, 0)
	if salts == 0 {
		return mass
	}
	for range 24 {
		mass = water.BrineDensity(tempC, salts/mass)
	}
	return mass - salts
}

// MassFraction returns the salt in the liquid by mass, 0..0.27; 0 in a dry tank.
func MassFraction(s *State) float64 {
	salts := saltsKg(s.Dissolved)
	if salts == 0 {
		return 0
	}
	return salts / (salts + s.WaterKg)
}

// Density returns the density of the liquid, kg/m³.
func Density(sp *Spec, s *State) float64 { return water.BrineDensity(sp.TempC, MassFraction(s)) }

// VolumeM3 returns the volume of the liquid, m³.
func VolumeM3(sp *Spec, s *State) float64 {
	return (s.WaterKg + saltsKg(s.Dissolved)) / Density(sp, s)
}

// Composition returns the liquid's composition, mol/m³; nothing in a dry tank.
func Composition(sp *Spec, s *State) water.Ions {
	v := VolumeM3(sp, s)
	if v <= dregsM3 {
		return water.Ions{}
	}
	return s.Dissolved.Scale(1 / v)
}

// saturatedMol returns the chloride of the tank's water when saturated, mol.
func saturatedMol(sp *Spec, s *State) float64 {
	w := water.Solubility(sp.TempC)
	return float64(s.WaterKg*w) / float64((1-w)*naclKg)
}

// Saturation returns the chloride in the liquid as a part of saturation, 0..1.
func Saturation(sp *Spec, s *State) float64 {
	sat := saturatedMol(sp, s)
	if sat <= 0 {
		return 0
	}
	return min(1, s.Dissolved.Anion()/sat)
}
