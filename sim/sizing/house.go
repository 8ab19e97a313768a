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

// fixtureUnits is the sum of the supply fixture units of the house.
func (j *Job) fixtureUnits() (sum float64) {
	for _, f := range j.House().Fixtures {
		sum += f.Units
	}
	return sum
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
