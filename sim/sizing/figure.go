package sizing

import "brinebench/sim/unit"

// Figure is one figure of a sizing, in the order in which they are worked out: each
// follows from the job and those before it.
type Figure int

// The figures.
const (
	RawHardness Figure = iota
	CompensatedHardness
	DailyWater
	DailyLoad
	FixtureUnits
	PeakFlow
	ServiceFlow
	ResinNeeded
	Resin // of the tank that is chosen
	ServiceLoss
	PeakLoss
	SaltDose
	Capacity
	Reserve
	Interval
	DrainControl
	Nozzle
	Throat
	RefillControl
	RefillTime
	RegenerationWater
	RegenerationsPerYear
	SaltPerYear
	SaltAdded // sodium to the water
	EveryDays
	SetHardness
	SetCapacity
	SetReserve
	OverrideDays
	NumFigures
)

// figures has for each figure its id, by which files and texts name it, its name, and
// what it counts.
var figures = [NumFigures]struct {
	id, name string
	kind     Kind
}{
	RawHardness:          {"hardness", "Hardness, converted", Hardness},
	CompensatedHardness:  {"compensated_hardness", "Compensated hardness", Hardness},
	DailyWater:           {"daily_water", "Water in a day", Volume},
	DailyLoad:            {"daily_load", "Hardness in a day", Load},
	FixtureUnits:         {"fixture_units", "Supply fixture units", Count},
	PeakFlow:             {"peak_flow", "Peak flow by the code", Flow},
	ServiceFlow:          {"service_flow", "Service flow", Flow},
	ResinNeeded:          {"resin_needed", "Resin needed at the least dose", Bed},
	Resin:                {"resin", "Resin of the tank chosen", Bed},
	ServiceLoss:          {"service_loss", "Pressure loss at the service flow", Pressure},
	PeakLoss:             {"pressure_loss", "Pressure loss at the peak by the code", Pressure},
	SaltDose:             {"salt_dose", "Salt for a regeneration", Mass},
	Capacity:             {"capacity", "Capacity at the dose", Load},
	Reserve:              {"reserve", "Reserve", Load},
	Interval:             {"interval", "Days that capacity less reserve lasts, not rounded", Days},
	DrainControl:         {"drain_control", "Drain flow control", Flow},
	Nozzle:               {"nozzle", "Injector nozzle", Bore},
	Throat:               {"throat", "Injector throat", Bore},
	RefillControl:        {"refill_control", "Refill flow control", Flow},
	RefillTime:           {"refill_time", "Refill time", Minutes},
	RegenerationWater:    {"regeneration_water", "Water for a regeneration", Volume},
	RegenerationsPerYear: {"regenerations_per_year", "Regenerations in a year", Count},
	SaltPerYear:          {"salt_per_year", "Salt in a year", Mass},
	SaltAdded:            {"sodium_added", "Sodium added to the water", Concentration},
	EveryDays:            {"every_days", "Clock: regenerate every so many whole days", Days},
	SetHardness:          {"set_hardness", "Demand: hardness, up to a whole gpg", Hardness},
	SetCapacity:          {"set_capacity", "Demand: capacity, down to a whole kilograin", Load},
	SetReserve:           {"set_reserve", "Demand: reserve, of the capacity set", Percent},
	OverrideDays:         {"override_days", "Demand: at the latest after so many whole days", Days},
}

// ID is the stable name of the figure.
func (f Figure) ID() string { return figures[f].id }

// Name is what people call it.
func (f Figure) Name() string { return figures[f].name }

// Kind is what it counts.
func (f Figure) Kind() Kind { return figures[f].kind }

// Points is what it is worth of the 50 for figures.
func (f Figure) Points() float64 { return rules[f].points }

// Choice tells whether others may be as good: it is judged by what fits.
func (f Figure) Choice() bool { return rules[f].choice }

// Right reports whether a figure is near enough to what it should be on the job.
func (j *Job) Right(f Figure, got, want float64) bool {
	below, above := j.Near(f, want)
	const slack = 1e-9
	return got >= below-float64(slack*want) && got <= above+float64(slack*want)
}

// Near is between what a figure may be where a value is worked out, SI.
func (j *Job) Near(f Figure, want float64) (below, above float64) {
	r := &rules[f]
	lo, hi := want, want
	switch f {
	case CompensatedHardness: // with any usual factor for iron
		lo -= float64((ironGPG - leastIronGPG) * unit.GPG * (j.metals() * 1e3))
		hi += float64((mostIronGPG - ironGPG) * unit.GPG * (j.metals() * 1e3))
	case FixtureUnits: // with bathroom groups or, on the safe side, without
		hi = max(hi, j.plainUnits())
	case PeakFlow: // the same
		if least := demandM3S(j.fixtureUnits()); want >= least-float64(hair*least) {
			hi = max(hi, demandM3S(j.plainUnits()))
		}
	}
	return lo - max(float64(r.below*lo), r.least), hi + max(float64(r.above*hi), r.least)
}
