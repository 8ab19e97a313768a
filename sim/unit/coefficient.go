package unit

import "math"

// A valve's flow coefficient C in SI is the flow in m³/s that 1 Pa drives
// through it, Q = C·√(Δp/SG), with SG relative to water of 1000 kg/m³ as the
// trade rounds it. Cv counts US gpm and psi, Kv counts m³/h and bar
// (IEC 60534-1).

// FromCv returns the coefficient in m³/s per √Pa of a Cv.
func FromCv(cv float64) float64 { return float64(cv * GPM / math.Sqrt(PSI)) }

// FromKv returns the coefficient in m³/s per √Pa of a Kv.
func FromKv(kv float64) float64 { return float64(kv * CubicMetrePerHr / math.Sqrt(Bar)) }

// Cv returns the Cv of a coefficient in m³/s per √Pa.
func Cv(c float64) float64 { return float64(c / GPM * math.Sqrt(PSI)) }

// Kv returns the Kv of a coefficient in m³/s per √Pa.
func Kv(c float64) float64 { return float64(c / CubicMetrePerHr * math.Sqrt(Bar)) }

// LossFromCv returns the resistance b of a Cv in Δp = b·Q|Q|, in Pa/(m³/s)², for
// a liquid of density rho in kg/m³.
func LossFromCv(cv, rho float64) float64 {
	c := FromCv(cv)
	return float64(rho / 1000 / float64(c*c))
}
