// Package water gives the properties of water and brine, the ions the bench
// tracks, and hardness.
package water

// Ion names one of the cations the bench tracks. The anion is taken as
// chloride and follows from electroneutrality.
type Ion int

// The tracked cations, in the order of every [NumIons] array.
const (
	Na Ion = iota
	K
	Ca
	Mg
	NumIons
)

// Charge is the charge number of each ion.
var Charge = [NumIons]float64{1, 1, 2, 2}

// Ions holds one value per cation: a concentration in mol/m³ (the same number
// as mmol/L) or, where a name says so, an amount in mol.
type Ions [NumIons]float64

// Hardness returns the calcium plus magnesium of c, in c's own unit.
func (c Ions) Hardness() float64 { return c[Ca] + c[Mg] }

// Anion returns the charge-balancing chloride of c, in equivalents of c's unit.
func (c Ions) Anion() float64 {
	return float64(c[Na]+c[K]) + float64(2*(c[Ca]+c[Mg]))
}

// Plus returns c + f·d.
func (c Ions) Plus(f float64, d Ions) Ions {
	for i := range c {
		c[i] += float64(f * d[i])
	}
	return c
}

// Scale returns f·c.
func (c Ions) Scale(f float64) Ions {
	for i := range c {
		c[i] = float64(c[i] * f)
	}
	return c
}
