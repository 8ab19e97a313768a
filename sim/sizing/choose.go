package sizing

import (
	"cmp"
	"math"
	"slices"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// doses that a solution takes, lb/ft³, the one that uses salt best first.
var doses = []float64{4, 5, 6, 8, 10, 15}

// Which of the doses are taken: the first of them, of those where there is iron, and
// the first of those that are taken only where no tank does with less. Those before
// plainFrom are for who wishes to save salt.
const (
	plainFrom = 2
	ironFrom  = 4
	dearFrom  = 5
)

// choice is what the choice of a sheet's tank and dose went by.
type choice struct {
	days    float64 // for how many it was to last
	stopped []trial // what was not taken, in the order in which it was tried
}

// trial is a candidate with what came of it.
type trial struct {
	*Sheet         // with tank and dose alone
	days   float64 // for how many it was to last beside the reserve
	lasts  float64 // and for how many it does
	faults []Fault // what does not fit, where it lasts
	salt   float64 // that it takes in a year, kg, where it lasts
}

func (t *trial) short() bool { return t.lasts < t.days-hair }

func (t *trial) fits() bool { return !t.short() && len(t.faults) == 0 }

// try works a candidate out, unless it does not last for so many days.
func (j *Job) try(c *Sheet, days float64) trial {
	t := trial{Sheet: c, days: days, lasts: j.lasts(c)}
	if !t.short() {
		full := j.Completed(c)
		t.faults, t.salt = j.Faults(&full), full.Value[SaltPerYear]
	}
	return t
}

// choose puts the tank into the sheet, and the dose if it has none: the smallest tank
// that fits and lasts for three days and more beside the reserve, at the dose that
// uses salt best; where none does, at a greater dose. Who wishes to save salt gets what
// takes the least in a year. Where no tank lasts for three days it is the largest that
// fits, at the least dose that lasts for two or for one, and where none lasts for a
// day, at the greatest. Where nothing fits it is what has the fewest faults. What
// stopped the others is kept with the sheet.
func (j *Job) choose(s *Sheet) {
	usual := j.candidates(s)
	upwards, downwards := largestFirst(usual)
	var made choice
	best, least, most := Sheet{}, 1000, math.Inf(1)
	for _, tier := range []struct {
		days float64
		list []Sheet
	}{{leastDays, usual}, {2, upwards}, {tightestDays, upwards}, {-reserveDays, downwards}} {
		for i := range tier.list {
			if j.lasts(&tier.list[i]) >= most {
				continue // looked at before
			}
			t := j.try(&tier.list[i], tier.days)
			if !t.short() && len(t.faults) < least {
				best, least, made.days = *t.Sheet, len(t.faults), tier.days
			}
			if !t.fits() {
				made.stopped = append(made.stopped, t)
				continue
			}
			if tier.days == leastDays && j.SaltSaving {
				best = *made.thriftiest(j, t, tier.list[i+1:])
			}
			*s, s.chosen = best, made
			return
		}
		most = tier.days - hair
	}
	*s, s.chosen = best, made
}

// thriftiest is the first that fits, or a later one that does, lasts for three days and
// takes less salt in a year: by a twentieth at least for each size that its tank is
// larger, for a larger tank costs more. Common practice, no source.
func (c *choice) thriftiest(j *Job, best trial, later []Sheet) *Sheet {
	for i := range later {
		t := j.try(&later[i], leastDays)
		if t.fits() && t.weighed() < float64((1-hair)*best.weighed()) {
			t, best = best, t
		}
		c.stopped = append(c.stopped, t)
	}
	return best.Sheet
}

// weighed is the salt of a year against that of the smallest tank.
func (t *trial) weighed() float64 { return float64(t.salt * dearness(t.Tank)) }

// atDose is what stopped a tank at a dose, lb/ft³.
func (c *choice) atDose(tank string, lbPerFt3 float64) (t trial, tried bool) {
	for _, x := range c.stopped {
		if x.Tank == tank && math.Abs(x.dose()-lbPerFt3) < hair {
			t, tried = x, true // the last time counts
		}
	}
	return t, tried
}

// nearest is the trial of a tank that came nearest to being taken: of those that fit the
// one that takes the least salt, and otherwise the one that lasts longest.
func (c *choice) nearest(tank string) (t trial, tried bool) {
	for _, x := range c.stopped {
		if x.Tank == tank && (!tried || x.nearer(&t)) {
			t, tried = x, true
		}
	}
	return t, tried
}

func (t *trial) nearer(than *trial) bool {
	switch {
	case t.fits() != than.fits():
		return t.fits()
	case t.fits():
		return t.salt < than.salt
	}
	return t.lasts > than.lasts
}

// worthIt is what a tank of the next size may take of the salt of one. Common practice, no
// source.
const worthIt = 0.95

// dearness weighs the salt of a tank against that of the smallest: each size has to
// save a twentieth of it.
func dearness(tank string) float64 {
	weight := 1.0
	for _, set := range outfit.All() {
		if set.ID == tank {
			break
		}
		weight /= worthIt
	}
	return weight
}

// largestFirst sorts candidates by their tanks, the largest first, those of a tank by
// their doses: upwards and downwards.
func largestFirst(list []Sheet) (upwards, downwards []Sheet) {
	by := func(sign float64) []Sheet {
		sorted := slices.Clone(list)
		slices.SortStableFunc(sorted, func(a, b Sheet) int {
			return cmp.Or(cmp.Compare(b.outfit().ResinFt3, a.outfit().ResinFt3), cmp.Compare(float64(sign*a.Value[SaltDose]), float64(sign*b.Value[SaltDose])))
		})
		return sorted
	}
	return by(1), by(-1)
}

// lasts is for how many days a candidate does beside the reserve, by the job itself.
func (j *Job) lasts(c *Sheet) float64 {
	return daysBeside(c.Value[DailyLoad], capacityMol(float64(c.outfit().ResinFt3*unit.CubicFoot), c.Value[SaltDose], j.Temperature.SI))
}

// daysBeside is for how many days of a load a capacity lasts beside its reserve.
func daysBeside(load, capacity float64) float64 {
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
		for _, set := range outfit.All() {
			for _, dose := range doses {
				add(set, dose)
			}
		}
	}
	return list
}

// doses are those that are taken on the job, and those only where no tank does with
// them. More brine takes more iron off the beads: common practice, no source. Less than
// 6 lb/ft³ lets some hardness through: it is for who wishes to save salt, where the
// water is neither too hard nor too salty for it.
func (j *Job) doses() (usual, last []float64) {
	from := plainFrom
	switch {
	case j.metals() >= ironPresent:
		from = ironFrom
	case j.SaltSaving && j.cations() <= mostForLean:
		from = 0
	}
	return doses[from:dearFrom], doses[dearFrom:]
}

// leastDose is the least of a solution's usual doses, lb/ft³.
func (j *Job) leastDose() float64 {
	usual, _ := j.doses()
	return usual[0]
}
