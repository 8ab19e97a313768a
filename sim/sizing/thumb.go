package sizing

import (
	"brinebench/sim/control"
	"brinebench/sim/unit"
)

// Thumb is the answer by the usual rule of thumb: a size by the number of people, all
// the salt there is room for, a regeneration every third day, nothing asked of the
// water. Common practice, no source; ours to compare with.
func (j *Job) Thumb() Sheet {
	const dose, kgrPerFt3, days, reservePct = 15, 30, 3, 25
	tank, ft3 := "tank-12-in", 2.0
	switch {
	case j.People <= 2:
		tank, ft3 = "tank-9-in", 1
	case j.People <= 4:
		tank, ft3 = "tank-10-in", 1.5
	}
	s := NewSheet(tank, "", []Figure{SaltDose, Capacity, EveryDays, SetHardness, SetCapacity, SetReserve, OverrideDays}, []float64{
		float64(dose*ft3) * unit.Pound, float64(kgrPerFt3*ft3) * unit.Kilograin, days * unit.Day,
		float64(whole(j.Hardness.SI/unit.GPG, 1, control.MaxHardnessGPG)) * unit.GPG, float64(kgrPerFt3*ft3) * unit.Kilograin, reservePct, days * unit.Day,
	})
	s.takeParts(s.outfit().Parts)
	s.Program = s.outfit().ProgramID
	return j.Completed(&s)
}

// Careless is an answer as one sees it: the smallest tank at the least dose, trusted
// with the capacity of the greatest, the household reckoned by 50 gal a person, iron
// and reserve forgotten. Ours to compare with.
func (j *Job) Careless() Sheet {
	const tank, ft3, dose, kgrPerFt3, galPerPerson = "tank-8-in", 0.75, 6, 30, 50
	load := float64(float64(float64(j.People)*galPerPerson*unit.USGallon) * j.Hardness.SI)
	capacity := kgrPerFt3 * ft3 * unit.Kilograin
	days := float64(whole(capacity/load-0.5, 1, 30))
	s := NewSheet(tank, "", []Figure{CompensatedHardness, DailyLoad, SaltDose, Capacity, Reserve, EveryDays, SetHardness, SetCapacity, SetReserve, OverrideDays}, []float64{
		j.Hardness.SI, load, dose * ft3 * unit.Pound, capacity, 0, float64(days * unit.Day),
		float64(whole(j.Hardness.SI/unit.GPG, 1, control.MaxHardnessGPG)) * unit.GPG, float64(whole(kgrPerFt3*ft3, 1, control.MaxCapacityKgr)) * unit.Kilograin, 0, 30 * unit.Day,
	})
	s.takeParts(s.outfit().Parts)
	s.Program = s.outfit().ProgramID
	return j.Completed(&s)
}
