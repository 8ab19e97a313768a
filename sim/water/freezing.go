package water

// What a eutectic brine of NaCl has: the strength at which the whole freezes at
// one temperature, the lowest at which any of it is liquid.
//
// Source: CRC Handbook, from memory.
const (
	EutecticMassFraction = 0.233
	EutecticC            = -21.1
)

// Heats of water at 0 °C, J/kg and J/(kg·K), and the heat conductivity of it and
// of ice there, W/(m·K).
//
// Source: CRC Handbook (ice, heat of fusion), IAPWS (water), from memory.
const (
	FusionJKg       = 333.55e3
	HeatJKgK        = 4218.0
	ConductivityWMK = 0.561
	IceWMK          = 2.14
)

// FreezingPoint returns the temperature in °C at which ice begins to form in a
// solution of NaCl; w its mass fraction from 0 to 0.28. Above the eutectic strength
// no ice forms before the whole freezes, at EutecticC; that such brine lets go of
// salt as hydrohalite below 0 °C is left out.
//
// Source: our own quartic, through 0 °C at w = 0, to the CRC Handbook's freezing
// points in nacl_freezing_point.csv, within 0.011 K.
func FreezingPoint(w float64) float64 {
	if w <= 0 {
		return 0
	}
	if w >= EutecticMassFraction {
		return EutecticC
	}
	t := -245.267 - float64(707.712*w)
	t = -43.7818 + float64(w*t)
	t = -58.1013 + float64(w*t)
	return float64(w * t)
}
