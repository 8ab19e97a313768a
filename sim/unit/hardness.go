package unit

// Molar masses that define the units of hardness, kg/mol. IUPAC standard atomic
// weights, abridged.
const (
	MolarCaCO3 = 100.0869e-3
	MolarCaO   = 56.0774e-3
)

// Units of hardness in mol/m³ of calcium and magnesium together, which is the
// same number as mmol/L.
const (
	MgPerLitreCaCO3 = 1e-3 / MolarCaCO3                   // 1 mg/L as calcium carbonate
	GPG             = Grain / USGallon / MolarCaCO3       // grain per US gallon as calcium carbonate
	Clark           = Grain / ImperialGallon / MolarCaCO3 // English degree: grain per imperial gallon
	GermanDegree    = 10 * 1e-3 / MolarCaO                // °dH: 10 mg/L as calcium oxide
	FrenchDegree    = 10 * MgPerLitreCaCO3                // °fH
	MeqPerLitre     = 0.5                                 // two equivalents to the mole
	KilograinPerFt3 = Kilograin / CubicFoot               // exchange capacity, per volume of bed
)

// Kilograin is a capacity of 1000 grains as calcium carbonate, mol.
const Kilograin = 1000 * Grain / MolarCaCO3

// Hardness in mol/m³ of calcium and magnesium together.
type Hardness float64

// GPG returns h in grains per US gallon as CaCO3.
func (h Hardness) GPG() float64 { return float64(h) / GPG }

// MgPerLitreCaCO3 returns h in mg/L as CaCO3.
func (h Hardness) MgPerLitreCaCO3() float64 { return float64(h) / MgPerLitreCaCO3 }

// GermanDegrees returns h in °dH.
func (h Hardness) GermanDegrees() float64 { return float64(h) / GermanDegree }

// FrenchDegrees returns h in °fH.
func (h Hardness) FrenchDegrees() float64 { return float64(h) / FrenchDegree }

// Clark returns h in English degrees.
func (h Hardness) Clark() float64 { return float64(h) / Clark }
