package sizing

import (
	"math"
	"strings"

	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// terms writes the numbers of a formula in a system of units.
type terms struct {
	j     *Job
	s     *Sheet
	sys   System
	rough *bool // set where a number is written that has more digits; nil: in words, to the usual digits
}

// of is a figure with its unit.
func (n terms) of(f Figure) string { return n.text(f.Kind(), n.s.Value[f]) }

// text is an SI value of a kind with its unit.
func (n terms) text(k Kind, si float64) string {
	if n.rough == nil {
		return k.Text(si, n.sys)
	}
	text, all := k.factor(si, n.sys)
	*n.rough = *n.rough || !all
	return text
}

// number is a plain number.
func (n terms) number(v float64) string {
	if n.rough == nil {
		return number(v)
	}
	text, all := exactly(v)
	*n.rough = *n.rough || !all
	return text
}

// loadText is the load of a day; mmol of hardness are told as equivalents.
func (n terms) loadText() string {
	text := n.of(DailyWater) + " × " + n.of(CompensatedHardness)
	if n.sys == SI {
		return text + " × 0.002 eq/mmol"
	}
	return text
}

// set is a figure before it is made whole, in the unit of the controller.
func (n terms) set(f, from Figure, controllers string) string {
	text := n.of(from)
	if n.sys == US && f.Kind().units(US)[0].Name == controllers {
		return text
	}
	u, _ := f.Kind().unitNamed(controllers)
	return text + " = " + spaced(n.number(u.In(n.s.Value[from])), u.Name)
}

// tankText is the tank, and why it does with less resin than the least dose asks for.
func (n terms) tankText() string {
	set := n.s.outfit()
	name, needed := tankName(&set, n.sys), n.s.Value[ResinNeeded]
	switch {
	case n.s.Value[Resin] >= needed-hair:
		return name
	case n.s.Value[Interval] < float64((leastDays-hair)*unit.Day):
		return name + ": less than " + n.of(ResinNeeded) + ", but the largest that fits"
	}
	least := float64(n.j.leastDose() * (unit.Pound / unit.CubicFoot))
	return name + ": less than " + n.of(ResinNeeded) + ", but with " + Dose.Text(n.s.Value[SaltDose]/n.s.Value[Resin], n.sys) + " of salt in place of " + Dose.Text(least, n.sys) + " it lasts for three days and more"
}

// unitsSum writes out the bathroom groups and fixtures with their units.
func (j *Job) unitsSum() string {
	var list []string
	for _, c := range j.grouped() {
		if c.n > 0 {
			list = append(list, number(float64(c.n))+" "+c.name+" × "+number(c.units))
		}
	}
	return strings.Join(list, " + ")
}

// busySum writes out the fixtures that run together.
func (n terms) busySum() string {
	var list []string
	for _, t := range n.j.busy() {
		list = append(list, number(float64(t.n))+" "+t.kind.ID()+" × "+n.text(Flow, fixtureM3S(t.kind)))
	}
	return strings.Join(list, " + ")
}

// strength is the capacity of bed at a dose, lb/ft³.
func (n terms) strength(lbPerFt3 float64) string {
	return n.text(Strength, float64(CapacityKgr(lbPerFt3)*unit.KilograinPerFt3))
}

// addedText is the sodium that is added to the water for each unit of hardness.
func (n terms) addedText() string {
	u := Hardness.units(n.sys)[0]
	return n.number(float64(sodiumPerGPG*1e3)/unit.GPG*u.InSI) + " mg/L for a " + symbols.Replace(u.Name)
}

// upflowText is a flow for its area, m/s.
func upflowText(ms float64, sys System) string {
	if sys == SI {
		return rounded(float64(ms*unit.Hour), 3) + " m/h"
	}
	return rounded(ms/unit.GPMPerSquareFoot, 2) + " gpm/ft²"
}

// brine is the salt that refill water takes up.
func (n terms) brine() string {
	const perLitre = unit.Litre
	if n.sys == SI {
		return n.number(float64(saltPerGallon/unit.USGallon*perLitre)) + " kg/L"
	}
	return n.number(saltPerGallon/unit.Pound) + " lb/gal"
}

// stopS is how long a program stands at stops of a name, s.
func (s *Sheet) stopS(id string) (seconds float64) {
	p := s.program()
	for _, st := range p.Stops {
		if st.ID == id {
			seconds += st.Seconds
		}
	}
	return seconds
}

// drawn is what the sheet's injector does on the job.
func (j *Job) drawn(s *Sheet) outfit.Draw {
	t, p := s.tank(), s.parts()
	return outfit.Drawn(&t, &p, j.site(s))
}

func (n terms) drawText() string {
	d := n.j.drawn(n.s)
	return "draws " + Flow.Text(float64(d.BrineGPM*unit.GPM), n.sys) + " of brine, sends " + Flow.Text(float64(d.TotalGPM*unit.GPM), n.sys) + " to the bed" +
		", rinses " + Flow.Text(float64(d.RinseGPM*unit.GPM), n.sys) + ", " + Percent.Text(100*d.Fraction, n.sys) + " of salt"
}

// drawS is for how long brine is drawn, s: the brine is 1.13 times its water.
func (j *Job) drawS(s *Sheet, d outfit.Draw) float64 {
	const swell = 1.13
	brineM3 := float64(swell * s.Value[SaltDose] / saltPerGallon * unit.USGallon)
	stop := s.stopS("brine")
	if !(d.BrineGPM > 0) {
		return stop
	}
	return math.Min(stop, brineM3/float64(d.BrineGPM*unit.GPM))
}

// jet is what the injector takes from the supply in a brine stop: motive water while it
// draws, and what it rinses with from then on, m³/s and s.
func (j *Job) jet(s *Sheet) (motiveM3S, drawS, rinseM3S, rinseS float64) {
	d := j.drawn(s)
	drawS = j.drawS(s, d)
	motive := math.Max(0, d.TotalGPM-math.Max(0, d.BrineGPM))
	return float64(motive * unit.GPM), drawS, float64(math.Max(0, d.RinseGPM) * unit.GPM), s.stopS("brine") - drawS
}

// injectorM3 is the water of it, m³.
func (j *Job) injectorM3(s *Sheet) float64 {
	motive, drawS, rinse, rinseS := j.jet(s)
	return float64(motive*drawS) + float64(rinse*rinseS)
}

// regenerationM3 is the water that a regeneration takes from the supply, m³.
func (j *Job) regenerationM3(s *Sheet) float64 {
	wash := float64(s.Value[DrainControl] * (s.stopS("backwash") + s.stopS("fast-rinse")))
	return wash + j.injectorM3(s) + float64(s.Value[RefillControl]*s.Value[RefillTime])
}

func (n terms) waterText() string {
	motive, drawS, rinse, rinseS := n.j.jet(n.s)
	return n.of(DrainControl) + " × " + n.text(Minutes, n.s.stopS("backwash")+n.s.stopS("fast-rinse")) + " + " +
		n.text(Flow, motive) + " × " + n.text(Minutes, drawS) + " + " + n.text(Flow, rinse) + " × " + n.text(Minutes, rinseS) + " + " + n.text(Volume, float64(n.s.Value[RefillControl]*n.s.Value[RefillTime]))
}
