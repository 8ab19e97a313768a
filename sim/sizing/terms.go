package sizing

import (
	"math"
	"strings"

	"brinebench/sim/household"
	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// terms writes the numbers of a formula in a system of units.
type terms struct {
	j   *Job
	s   *Sheet
	sys System
}

// of is a figure with its unit.
func (n terms) of(f Figure) string { return f.Kind().Text(n.s.Value[f], n.sys) }

// unitsSum writes out the fixtures with their units.
func (j *Job) unitsSum() string {
	var list []string
	for kind, f := range household.Standard(1, 1).Fixtures {
		if n := j.Fixtures[kind]; n > 0 {
			list = append(list, number(float64(n))+" "+f.ID+" × "+number(f.Units))
		}
	}
	return strings.Join(list, " + ")
}

// busySum writes out the fixtures that run together.
func (j *Job) busySum(sys System) string {
	var list []string
	for _, t := range j.busy() {
		list = append(list, number(float64(t.n))+" "+t.kind.ID()+" × "+Flow.Text(fixtureM3S(t.kind), sys))
	}
	return strings.Join(list, " + ")
}

// demandM3S is the flow of the code's table at so many units, m³/s.
func demandM3S(units float64) float64 {
	return household.DesignM3S(&household.Spec{Fixtures: []household.Fixture{{Units: units}}})
}

// strengthText is the capacity of bed at a dose, lb/ft³.
func strengthText(lbPerFt3 float64, sys System) string {
	return Strength.Text(float64(CapacityKgr(lbPerFt3)*unit.KilograinPerFt3), sys)
}

// addedText is what is added to the water for each unit of hardness.
func (n terms) addedText() string {
	u := Hardness.units(n.sys)[0]
	mgL := n.j.addedPerGPG() * 1e3 / unit.GPG * u.InSI
	return rounded(mgL, 3) + " mg/L for a " + symbols.Replace(u.Name)
}

// upflowText is a flow for its area, m/s.
func upflowText(ms float64, sys System) string {
	if sys == SI {
		return rounded(float64(ms*unit.Hour), 3) + " m/h"
	}
	return rounded(ms/unit.GPMPerSquareFoot, 2) + " gpm/ft²"
}

// brineText is the salt that refill water takes up.
func brineText(sys System) string {
	if sys == SI {
		return number(saltPerGallon/(unit.USGallon/unit.Litre)) + " kg/L"
	}
	return "3 lb/gal"
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
	return "draws " + Flow.Text(float64(d.BrineGPM*unit.GPM), n.sys) + " of " + Flow.Text(float64(d.TotalGPM*unit.GPM), n.sys) +
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

// injectorM3 is the water that the injector takes from the supply in a brine stop, m³.
func (j *Job) injectorM3(s *Sheet) float64 {
	d := j.drawn(s)
	draw := j.drawS(s, d)
	motive := math.Max(0, d.TotalGPM-math.Max(0, d.BrineGPM))
	return float64(motive*draw*unit.GPM) + float64(math.Max(0, d.RinseGPM)*(s.stopS("brine")-draw)*unit.GPM)
}

// regenerationM3 is the water that a regeneration takes from the supply, m³.
func (j *Job) regenerationM3(s *Sheet) float64 {
	wash := float64(s.Value[DrainControl] * (s.stopS("backwash") + s.stopS("fast-rinse")))
	return wash + j.injectorM3(s) + float64(s.Value[RefillControl]*s.Value[RefillTime])
}

func (n terms) waterText() string {
	return n.of(DrainControl) + " × " + Minutes.Text(n.s.stopS("backwash")+n.s.stopS("fast-rinse"), n.sys) + " + " +
		Volume.Text(n.j.injectorM3(n.s), n.sys) + " + " + Volume.Text(float64(n.s.Value[RefillControl]*n.s.Value[RefillTime]), n.sys)
}
