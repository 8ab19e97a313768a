package sizing

import (
	"fmt"
	"math"

	"brinebench/sim/repro"
	"brinebench/sim/unit"
)

// Houses and people of the drawn jobs, all made up.
var (
	places = []string{
		"the bell foundry", "the ferryman's cottage", "Larkfield", "the old granary", "the lime works", "Hazel Row",
		"the weaver's loft", "the toll bridge", "Sallow Farm", "the chandler's", "the lamp room", "Withy End",
	}
	families = []string{
		"Mrs Abney", "the Brandts", "Mr Castellane", "the Dunmores", "Ms Ekwall", "the Farriers",
		"Mr Gorham", "the Hallidays", "Ms Iverson", "the Jessops", "Mrs Kilvert", "the Lomaxes",
	}
)

// hard cases of drawn jobs.
const (
	plain = iota
	withIron
	coldWater
	lowPressure
	smallSpace
	alone
	crowd
	onWell
	numCases
)

var caseNames = [numCases]string{
	"a plain job", "iron in the water", "cold water", "low pressure", "a small space", "one person", "eight persons", "a well",
}

// draw draws the figures of one job.
type draw struct{ r repro.Stream }

// between is one of the steps from lo to hi.
func (d *draw) between(lo, hi, step float64) float64 {
	n := math.Floor((hi-lo)/step+0.5) + 1
	return lo + float64(step*math.Floor(d.r.Float64()*n))
}

func (d *draw) below(n int) int { return int(d.r.Float64() * float64(n)) }

func (d *draw) chance(p float64) bool { return d.r.Float64() < p }

// Drawn draws a job sheet: the same for the same seed, one that a unit of the bench
// can be found for, and in turn plain and hard in one way or another.
func Drawn(seed uint64) *Job {
	for try := 0; ; try++ {
		d := draw{repro.NewStream(seed, fmt.Sprintf("job/%d", try))}
		if j := d.job(seed); len(Solve(j).Faults) == 0 {
			return j
		}
	}
}

func (d *draw) job(seed uint64) *Job {
	special := int(seed % numCases)
	j := &Job{Seed: 1 + d.below(math.MaxInt32), People: 2 + d.below(4), PH: d.between(7, 8, 0.1), Demand: d.chance(0.6)}
	j.Title = "At " + places[d.below(len(places))] + ": " + caseNames[special]
	j.Customer = families[d.below(len(families))]
	switch special {
	case alone:
		j.People = 1
	case crowd:
		j.People = 8
	}
	d.water(j, special)
	d.fixtures(j)
	d.supply(j, special)
	d.place(j, special)
	j.SaltSaving, j.LowSodium = d.chance(0.3), d.chance(0.2)
	return j
}

func (d *draw) water(j *Job, special int) {
	mgL := func(v float64) Amount { return amountIn(Concentration, v, "mg/L") }
	names := Hardness.Units(US)
	h := AmountOf(Hardness, float64(d.between(7, 28, 1)*unit.GPG), names[d.below(len(names))])
	h.Value = math.Floor(float64(10*h.Value)+0.5) / 10
	j.Hardness = amountIn(Hardness, h.Value, h.Unit)
	j.Iron, j.Manganese, j.Chlorine = mgL(0), mgL(0), mgL(d.between(0, 0.8, 0.1))
	j.Sodium = mgL(d.between(5, 60, 5))
	celsius := d.between(10, 18, 1)
	switch special {
	case withIron:
		j.Iron, j.Manganese, j.Chlorine = mgL(d.between(0.4, 2.4, 0.2)), mgL(d.between(0, 0.2, 0.1)), mgL(0)
	case coldWater:
		celsius = d.between(4, 7, 1)
	case onWell:
		j.Iron, j.Chlorine = mgL(d.between(0, 0.3, 0.1)), mgL(0)
	}
	j.TDS = mgL(math.Floor((float64(130*j.Hardness.SI)+float64(2.5*1e3*j.Sodium.SI))/10) * 10)
	j.Temperature = amountIn(Temperature, celsius, "C")
}

func (d *draw) fixtures(j *Job) {
	baths := 1
	if j.People > 3 || d.chance(0.2) {
		baths = 2
	}
	j.Fixtures = [NumFixtures]int{Toilet: baths, Shower: baths, Basin: baths, KitchenTap: 1, Washer: 1}
	if d.chance(0.5) {
		j.Fixtures[Bath] = 1
	}
	if d.chance(0.5) {
		j.Fixtures[UtilitySink] = 1
	}
	if d.chance(0.7) {
		j.Fixtures[Dishwasher] = 1
	}
}

func (d *draw) supply(j *Job, special int) {
	static := d.between(50, 75, 1)
	loss, at := d.between(5, 12, 1), d.between(9, 14, 1)
	switch special {
	case lowPressure:
		static, loss = d.between(38, 44, 1), d.between(2, 5, 1)
	case onWell, withIron: // no public supply has so much iron
		j.Well = true
		static, loss = d.between(58, 66, 2), d.between(20, 24, 1)
	case plain:
		if d.chance(0.3) {
			static = d.between(85, 110, 5)
		}
	}
	psi := func(v float64) Amount { return amountIn(Pressure, v, "psi") }
	j.Static, j.Residual, j.ResidualAt = psi(static), psi(static-loss), amountIn(Flow, at, "gpm")
}

func (d *draw) place(j *Job, special int) {
	ft := func(v float64) Amount { return amountIn(Distance, v, "ft") }
	in := func(v float64) Amount { return amountIn(Length, v, "in") }
	j.DrainRise, j.DrainLength = ft(d.between(0, 6, 0.5)), ft(d.between(5, 30, 5))
	j.DrainMost = amountIn(Flow, d.between(5.5, 10, 0.5), "gpm")
	j.FloorWidth, j.Height = in(d.between(44, 70, 2)), in(d.between(76, 96, 2))
	if special == smallSpace {
		j.FloorWidth, j.Height = in(d.between(32, 34, 1)), in(d.between(60, 66, 1))
	}
}
