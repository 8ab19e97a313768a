package household

const (
	gpm    = 3.785411784e-3 / 60 // m³/s in a US gallon per minute
	minute = 60                  // s
)

// Hours of the day, relative: nobody draws between 00:00 and 05:00 but for a
// rare toilet, and mornings and evenings are busy.
var (
	nightHours = [24]float64{
		0.25, 0.06, 0.04, 0.04, 0.06, 0.8, 2.2, 2.8, 2.0, 1.3, 1.0, 1.0,
		1.1, 1.0, 1.0, 1.1, 1.3, 1.7, 2.0, 2.0, 1.9, 1.8, 1.5, 0.9,
	}
	tapHours = [24]float64{
		5: 0.6, 2.0, 2.8, 1.9, 1.2, 1.0, 1.2, 1.6, 1.0, 0.9, 1.0, 1.5, 2.3, 2.6, 2.0, 1.5, 1.2, 0.9, 0.4,
	}
	showerHours = [24]float64{
		5: 0.8, 3.0, 3.5, 2.0, 1.0, 0.5, 0.3, 0.2, 0.2, 0.2, 0.3, 0.4, 0.7, 1.0, 1.3, 1.6, 1.4, 0.8,
	}
	bathHours   = [24]float64{17: 1, 2, 2.5, 1.5, 0.5}
	washerHours = [24]float64{7: 1, 2, 2.5, 2, 1.5, 1.2, 1.2, 1, 1, 1, 1.2, 1.5, 1.3, 0.7}
	dishHours   = [24]float64{8: 0.5, 0.5, 12: 0.3, 0.7, 0.4, 18: 0.8, 2.5, 2.5, 1.2}
)

// Standard returns a household of so many people with common fixtures, indoors
// only. They use about 58.6 US gal per person and day (DeOreo et al.,
// Residential End Uses of Water, Version 2, Water Research Foundation 2016); its
// split among fixtures leans on the same study, from memory, leaving out leaks.
// Fixture units are those of private use in the International Plumbing Code,
// table E103.3(2), from memory.
func Standard(people int, seed uint64) Spec {
	return Spec{People: people, Seed: seed, Fixtures: []Fixture{
		{ID: "toilet", Name: "Toilet", FlowM3S: 2.5 * gpm, Seconds: 62, Spread: 0.1, Runs: 1, PerDay: 5.5, Hours: nightHours, Units: 2.2},
		{ID: "shower", Name: "Shower", FlowM3S: 2 * gpm, Seconds: 8 * minute, Spread: 0.3, Runs: 1, PerDay: 0.8, Hours: showerHours, Units: 1.4},
		{ID: "bath", Name: "Bath", FlowM3S: 4 * gpm, Seconds: 5 * minute, Spread: 0.2, Runs: 1, PerDay: 0.1, Hours: bathHours, Units: 1.4},
		{ID: "basin", Name: "Basin tap", FlowM3S: 1 * gpm, Seconds: 30, Spread: 0.4, Runs: 1, PerDay: 14, Hours: tapHours, Units: 0.7},
		{ID: "kitchen", Name: "Kitchen tap", FlowM3S: 1.5 * gpm, Seconds: 40, Spread: 0.4, Runs: 1, PerDay: 9, Hours: tapHours, Units: 1.4},
		{ID: "utility", Name: "Utility sink", FlowM3S: 3 * gpm, Seconds: 40, Spread: 0.4, Runs: 1, PerDay: 1, Hours: washerHours, Units: 1.4},
		{ID: "washer", Name: "Washing machine", FlowM3S: 3 * gpm, Seconds: 200, Spread: 0.1, Runs: 3, GapS: 12 * minute, PerDay: 0.35, Hours: washerHours, Units: 1.4},
		{ID: "dishwasher", Name: "Dishwasher", FlowM3S: 1.5 * gpm, Seconds: 80, Spread: 0.1, Runs: 3, GapS: 20 * minute, PerDay: 0.15, Hours: dishHours, Units: 1.4},
	}}
}
