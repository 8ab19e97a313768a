package water

import "math"

// Density returns the density of water at 0.1 MPa in kg/m³, for tempC from 0 to
// 60 °C, within 0.004 kg/m³ of IAPWS SR6-08.
//
// Source: Kell, J. Chem. Eng. Data 20 (1975) 97, the equation that the brine
// density of Laliberté and Cooper stands on.
func Density(tempC float64) float64 {
	t := tempC
	n := 105.56302e-9 - float64(280.54253e-12*t)
	n = -46.170461e-6 + float64(n*t)
	n = -7.9870401e-3 + float64(n*t)
	n = 16.945176 + float64(n*t)
	n = 999.83952 + float64(n*t)
	return n / (1 + float64(16.879850e-3*t))
}

// Viscosity returns the dynamic viscosity of water at 0.1 MPa in Pa·s, for
// tempC from 0 to 60 °C, within 0.004 % of IAPWS R12-08.
//
// Source: our own cubic fit of the fluidity, 1/viscosity, to the 61 values of
// R12-08 in water_density_viscosity_0_60C.csv.
func Viscosity(tempC float64) float64 {
	x := tempC / 100
	f := 1.331554 - float64(0.27467216*x)
	f = 1.9461845 + float64(f*x)
	f = 0.55809399 + float64(f*x)
	return 1e-3 / f
}

// VapourPressure returns the saturation pressure of water, absolute, in Pa, for
// tempC from 0 to 100 °C.
//
// Source: IAPWS-IF97, region 4, equation 30, which is a quadratic in the fourth
// root of the pressure.
func VapourPressure(tempC float64) float64 {
	const (
		n1, n2, n3, n4, n5  = 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7
		n6, n7, n8, n9, n10 = 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3
	)
	k := tempC + 273.15
	th := k + n9/(k-n10)
	a := float64((th+n1)*th) + n2
	b := float64((float64(n3*th)+n4)*th) + n5
	c := float64((float64(n6*th)+n7)*th) + n8
	r := 2 * c / (math.Sqrt(float64(b*b)-float64(4*a*c)) - b)
	r *= r
	return float64(1e6 * float64(r*r))
}
