package sizing

import (
	"fmt"

	"brinebench/sim/household"
	"brinebench/sim/unit"
)

// House returns the household of the job: its people share its fixtures evenly.
// What they would use of a fixture that the house does not have, they do not use.
func (j *Job) House() household.Spec {
	standard := household.Standard(j.People, uint64(j.Seed))
	house := household.Spec{People: j.People, Seed: uint64(j.Seed)}
	for kind, f := range standard.Fixtures {
		n := j.Fixtures[kind]
		for i := range n {
			one := f
			one.PerDay = f.PerDay / float64(n)
			one.ID = fmt.Sprintf("%s-%d", f.ID, i+1)
			house.Fixtures = append(house.Fixtures, one)
		}
	}
	return house
}

// groupUnits is what a bathroom group counts, supply fixture units, in place of its
// toilet, basin and bath or shower: International Plumbing Code, table E103.3(2),
// bathroom group, private, flush tank, all water; from memory.
const groupUnits = 3.6

// counted are fixtures that count so many supply fixture units each.
type counted struct {
	name  string
	n     int
	units float64
}

// grouped are the bathroom groups of the house, and what stands in none.
func (j *Job) grouped() (list []counted) {
	left := j.Fixtures
	groups := min(left[Toilet], left[Basin], left[Bath]+left[Shower])
	baths := min(groups, left[Bath])
	left[Toilet] -= groups
	left[Basin] -= groups
	left[Bath] -= baths
	left[Shower] -= groups - baths
	return append([]counted{{"bathroom group", groups, groupUnits}}, singly(left)...)
}

// singly are fixtures, each kind by itself.
func singly(fixtures [NumFixtures]int) (list []counted) {
	for kind, f := range household.Standard(1, 1).Fixtures {
		list = append(list, counted{f.ID, fixtures[kind], f.Units})
	}
	return list
}

// fixtureUnits is the sum of the supply fixture units of the house, its bathroom groups
// as such.
func (j *Job) fixtureUnits() float64 { return sum(j.grouped()) }

// plainUnits is the same with every fixture by itself: more, and so on the safe side.
func (j *Job) plainUnits() float64 { return sum(singly(j.Fixtures)) }

func sum(list []counted) (units float64) {
	for _, c := range list {
		units += float64(float64(c.n) * c.units)
	}
	return units
}

// fixtureM3S is the nominal flow of a kind of fixture, m³/s.
func fixtureM3S(kind Fixture) float64 { return household.Standard(1, 1).Fixtures[kind].FlowM3S }

// together tells which fixtures run together when the house is busy, and their flow.
type together struct {
	kind Fixture
	n    int
}

// busy returns the fixtures that are likely to run together for minutes: the
// showers, up to three, and one fixture more. Common practice, no source.
func (j *Job) busy() (list []together) {
	const mostShowers = 3
	if n := min(j.Fixtures[Shower], mostShowers); n > 0 {
		list = append(list, together{Shower, n})
	} else if j.Fixtures[Bath] > 0 {
		list = append(list, together{Bath, 1})
	}
	for _, kind := range []Fixture{Washer, Toilet, KitchenTap, Dishwasher, UtilitySink, Basin} {
		if j.Fixtures[kind] > 0 {
			return append(list, together{kind, 1})
		}
	}
	return list
}

// busyM3S is the flow of the fixtures that run together, m³/s.
func (j *Job) busyM3S() (flow float64) {
	for _, t := range j.busy() {
		flow += float64(float64(t.n) * fixtureM3S(t.kind))
	}
	return flow
}

// SupplyPa is the pressure of the supply at the unit while a flow, m³/s, is drawn:
// behind a reducer where the supply needs one, and on a well at the lowest of its pump.
func (j *Job) SupplyPa(m3s float64) float64 {
	part := m3s / j.ResidualAt.SI
	rest := j.staticPa()
	if j.Well {
		rest = j.cutInPa()
	}
	return rest - float64((rest-min(j.Residual.SI, rest))*float64(part*part))
}

// Pressures of a supply: the most that a code lets into a house, what a reducer is
// set to, and by how much a well's pump starts below the pressure at which it stops.
const (
	mostPSI    = 80 // International Plumbing Code 604.8, from memory
	reducedPSI = 60 // common practice, no source
	wellBand   = 20 // psi; common practice, no source
)

// reduced tells whether the supply needs a reducer.
func (j *Job) reduced() bool { return j.Static.SI > mostPSI*unit.PSI }

func (j *Job) staticPa() float64 {
	if j.reduced() {
		return reducedPSI * unit.PSI
	}
	return j.Static.SI
}

func (j *Job) residualPa() float64 {
	return min(j.Residual.SI, j.staticPa())
}

func (j *Job) cutInPa() float64 {
	return max(j.staticPa()-wellBand*unit.PSI, 5*unit.PSI)
}
