// Package unit converts between SI, which the engine computes in, and the
// trade's units, which belong to its edges. The constants are the units in SI:
// multiply by one to come in, divide by it to go out. They are exact by
// definition unless a comment says otherwise.
package unit

// Units of length, area, volume and mass in m, m², m³ and kg.
const (
	Inch       = 0.0254
	Foot       = 12 * Inch
	Millimetre = 1e-3

	SquareFoot = Foot * Foot

	CubicFoot      = Foot * Foot * Foot
	USGallon       = 231 * Inch * Inch * Inch
	ImperialGallon = 4.54609e-3
	FluidOunce     = USGallon / 128
	Litre          = 1e-3

	Pound    = 0.45359237
	Grain    = Pound / 7000
	Kilogram = 1.0
	Gram     = 1e-3
)

// Units of time in s.
const (
	Minute = 60.0
	Hour   = 3600.0
	Day    = 86400.0
)

// Units of pressure in Pa, and the acceleration of gravity in m/s².
const (
	Gravity    = 9.80665 // standard
	PSI        = Pound * Gravity / (Inch * Inch)
	Bar        = 1e5
	Kilopascal = 1e3
	Atmosphere = 101325.0 // standard
)

// Units of flow in m³/s, and of flow per area in m/s.
const (
	GPM              = USGallon / Minute // US gallons per minute
	LitrePerMinute   = Litre / Minute
	LitrePerSecond   = Litre
	CubicMetrePerHr  = 1 / Hour
	GPMPerSquareFoot = GPM / SquareFoot
)

// Length in m.
type Length float64

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l) / Inch }

// Feet returns l in feet.
func (l Length) Feet() float64 { return float64(l) / Foot }

// Millimetres returns l in mm.
func (l Length) Millimetres() float64 { return float64(l) / Millimetre }

// Volume in m³.
type Volume float64

// USGallons returns v in US gallons.
func (v Volume) USGallons() float64 { return float64(v) / USGallon }

// CubicFeet returns v in cubic feet.
func (v Volume) CubicFeet() float64 { return float64(v) / CubicFoot }

// Litres returns v in litres.
func (v Volume) Litres() float64 { return float64(v) / Litre }

// Mass in kg.
type Mass float64

// Pounds returns m in pounds.
func (m Mass) Pounds() float64 { return float64(m) / Pound }

// Grains returns m in grains.
func (m Mass) Grains() float64 { return float64(m) / Grain }

// Pressure in Pa.
type Pressure float64

// PSI returns p in pounds-force per square inch.
func (p Pressure) PSI() float64 { return float64(p) / PSI }

// Bar returns p in bar.
func (p Pressure) Bar() float64 { return float64(p) / Bar }

// Kilopascals returns p in kPa.
func (p Pressure) Kilopascals() float64 { return float64(p) / Kilopascal }

// Flow in m³/s.
type Flow float64

// GPM returns q in US gallons per minute.
func (q Flow) GPM() float64 { return float64(q) / GPM }

// LitresPerMinute returns q in L/min.
func (q Flow) LitresPerMinute() float64 { return float64(q) / LitrePerMinute }

// Temperature in °C, the scale of every property in package water.
type Temperature float64

// AbsoluteZero is 0 K in °C.
const AbsoluteZero = -273.15

// Fahrenheit returns t in °F.
func (t Temperature) Fahrenheit() float64 { return float64(t*9/5) + 32 }

// Kelvin returns t in K.
func (t Temperature) Kelvin() float64 { return float64(t) - AbsoluteZero }

// FromFahrenheit returns a temperature in °F as a Temperature.
func FromFahrenheit(f float64) Temperature { return Temperature((f - 32) * 5 / 9) }

// FromKelvin returns a temperature in K as a Temperature.
func FromKelvin(k float64) Temperature { return Temperature(k + AbsoluteZero) }
