package sizing

import (
	"math"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// doses that a solution takes, lb/ft³, the one that uses salt best first.
var doses = []float64{6, 8, 10, 15}

// choose puts the tank into the sheet, and the dose if it has none: the smallest tank
// that fits and lasts for three days and more beside the reserve, at the dose that
// uses salt best; where none does, at a greater dose; where none does still, one that
// lasts for less. Who wishes to save salt rather gets a larger tank than a greater
// dose. Where nothing fits it is what has the fewest faults.
func (j *Job) choose(s *Sheet) {
	var best Sheet
	least, all, most := 1000, j.candidates(s), math.Inf(1)
	for _, days := range []float64{leastDays, 2, 1, 0, -reserveDays} {
		for i := range all {
			c := &all[i]
			if lasts := j.lasts(c); lasts < days || lasts >= most {
				continue // or looked at before
			}
			full := j.Completed(c)
			if n := len(j.Faults(&full)); n < least {
				best, least = *c, n
			}
			if least == 0 {
				*s = best
				return
			}
		}
		most = days
	}
	*s = best
}

// lasts is for how many days a candidate does beside the reserve, by the job itself.
func (j *Job) lasts(c *Sheet) float64 {
	load := c.Value[DailyLoad]
	capacity := capacityMol(float64(c.outfit().ResinFt3*unit.CubicFoot), c.Value[SaltDose], j.Temperature.SI)
	return (capacity - reserveMol(load, capacity)) / load
}

// candidates are sheets with tank and dose, in the order in which they are preferred.
func (j *Job) candidates(s *Sheet) (list []Sheet) {
	add := func(set outfit.Set, dose float64) {
		c := *s
		c.Tank = set.ID
		if !c.Given[SaltDose] {
			c.set(SaltDose, float64(float64(dose*set.ResinFt3)*unit.Pound))
		}
		list = append(list, c)
	}
	usual, last := j.doses()
	for _, doses := range [][]float64{usual, last} {
		if j.SaltSaving {
			for _, dose := range doses {
				for _, set := range outfit.All() {
					add(set, dose)
				}
			}
			continue
		}
		for _, set := range outfit.All() {
			for _, dose := range doses {
				add(set, dose)
			}
		}
	}
	return list
}

// doses are those that are taken on the job, and those only where no tank does with
// them. More brine takes more iron off the beads: common practice, no source.
func (j *Job) doses() (usual, last []float64) {
	const ironFrom, dear = 2, 3
	if j.metals() >= ironPresent {
		return doses[ironFrom:dear], doses[dear:]
	}
	return doses[:dear], doses[dear:]
}
