package site

import (
	"math"

	"brinebench/sim/repro"
)

const (
	dayS     = 86400
	yearDays = 365
)

// Season is a temperature that goes round with the year as a cosine.
type Season struct {
	MeanC      float64 // mean of the year, °C
	AmplitudeC float64 // from there to the warmest, and down to the coldest, K, 0 or more
	ColdestDay float64 // day of the year at which it is coldest, 1..365
}

func (s *Season) validate(e *faults, field string, low, high float64) {
	if !(s.AmplitudeC >= 0) {
		e.add("%s.amplitude_C: %v is negative or no number", field, s.AmplitudeC)
	}
	if !(s.MeanC-s.AmplitudeC >= low && s.MeanC+s.AmplitudeC <= high) {
		e.add("%s.mean_C: %v with an amplitude of %v goes outside %v to %v", field, s.MeanC, s.AmplitudeC, low, high)
	}
	e.within(field+".coldest_day", s.ColdestDay, 1, yearDays)
}

// aboveC returns by how much it is above its mean at a day of the year, K.
func (s *Season) aboveC(dayOfYear float64) float64 {
	return float64(-s.AmplitudeC * repro.CosTurns((dayOfYear-s.ColdestDay)/yearDays))
}

// FeedC returns the temperature of the feed on a day, °C. It goes in steps of 1 K
// from the mean, so that a year has few temperatures and what is reckoned from one
// can be kept.
func (sp *Spec) FeedC(day int) float64 {
	return sp.Feed.MeanC + math.Floor(sp.Feed.aboveC(float64(sp.DayOfYear+day))+0.5)
}

// When the air is warmest, and when the sun is highest, of the day. Common
// practice, no source: the warmest hour is about three after noon.
const (
	warmestPart = 15.0 / 24
	noonPart    = 12.0 / 24
)

// AirC returns the temperature of the air around the unit, in the shade, °C; timeS
// the time of day, s since midnight, 0 to 86,400.
func (sp *Spec) AirC(day int, timeS float64) float64 {
	if !sp.Outdoors {
		return sp.Air.MeanC
	}
	part := timeS / dayS
	year := sp.Air.aboveC(float64(sp.DayOfYear+day) + part)
	return sp.Air.MeanC + year + float64(sp.SwingC*repro.CosTurns(part-warmestPart))
}

// AroundC returns the temperature that a thing in the sun feels, °C: that of the
// air indoors and at night, more by day. It is the sol-air temperature (ASHRAE
// Handbook, Fundamentals) of a clear day from six to six, the sun's height taken
// as that of an equinox; SunC is then what a surface absorbs at noon divided by
// its heat transfer coefficient.
func (sp *Spec) AroundC(day int, timeS float64) float64 {
	air := sp.AirC(day, timeS)
	if !sp.Outdoors {
		return air
	}
	return air + float64(sp.SunC*math.Max(0, repro.CosTurns(timeS/dayS-noonPart)))
}

// Follow returns the temperature after dtS seconds of what stood at tempC and
// follows, with a time constant of lagS, surroundings that stay at aroundC. It is
// exact, whatever the step.
func Follow(tempC, aroundC, lagS, dtS float64) float64 {
	return aroundC + float64((tempC-aroundC)*repro.Exp(-dtS/lagS))
}
