package sizing

import (
	"fmt"
	"slices"

	"brinebench/sim/outfit"
	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// Fault is one thing in a design that does not fit the job.
type Fault struct {
	ID      string   // the same for the same kind of fault
	Figures []Figure // those that it speaks against
	Tank    bool     // it speaks against the choice of the tank
	Program bool     // it speaks against the program
	What    string
	Source  string // of the limit
}

// Limits of what fits, beside those of package outfit.
const (
	mostLossPSI  = 15 // at the service flow
	leastDose    = 3  // lb/ft³
	mostDose     = 15 // lb/ft³: more gains nothing
	betweenIn    = 4  // free between tank and brine tank and at their sides, in all
	valveHighIn  = 9  // valve and its pipes above the tank
	tightestDays = 1  // between regenerations, counted without the reserve
)

const (
	nsf      = "NSF/ANSI 44: not over 15 psi at the rated service flow (published, secondary source)"
	practice = "common practice, no source"
)

// Faults returns what does not fit of a sheet on the job, nil when all does. Every
// figure of the sheet must be there.
func (j *Job) Faults(s *Sheet) []Fault {
	return append(j.tankFaults(s), append(j.useFaults(s), j.misfits(s)...)...)
}

// tankFaults is what speaks against the size of the tank.
func (j *Job) tankFaults(s *Sheet) (list []Fault) {
	set := s.outfit()
	add := func(id, source, format string, args ...any) {
		list = append(list, Fault{ID: id, Tank: true, Figures: []Figure{Resin}, What: fmt.Sprintf(format, args...), Source: source})
	}
	if flow := j.busyM3S() / unit.GPM; flow > set.ServiceGPM+1e-9 {
		add("service-flow", practice, "The house draws %.3g gpm together, and the tank is for %.3g.", flow, set.ServiceGPM)
	}
	if loss := j.UnitLossPa(s, j.busyM3S()) / unit.PSI; loss > mostLossPSI {
		add("pressure-loss", nsf, "The unit takes %.3g psi at the service flow, more than %v.", loss, mostLossPSI)
	}
	if wide := set.TankDiameterIn + set.BrineTankIn + betweenIn; wide > j.FloorWidth.SI/unit.Inch+1e-9 {
		add("floor-width", practice, "Tank and brine tank need %.3g in of floor, and there are %.3g.", wide, j.FloorWidth.SI/unit.Inch)
	}
	if high := set.TankHeightIn + valveHighIn; high > j.Height.SI/unit.Inch+1e-9 {
		add("height", practice, "The tank with its valve is %.3g in high, and there are %.3g.", high, j.Height.SI/unit.Inch)
	}
	return list
}

// useFaults is what speaks against dose, intervals and the flow to the drain.
func (j *Job) useFaults(s *Sheet) (list []Fault) {
	add := func(id, source string, f Figure, format string, args ...any) {
		list = append(list, Fault{ID: id, Figures: []Figure{f}, What: fmt.Sprintf(format, args...), Source: source})
	}
	dose := s.Value[SaltDose] / unit.Pound / (s.Value[Resin] / unit.CubicFoot)
	switch {
	case dose < leastDose-1e-9:
		add("dose-small", practice, SaltDose, "%.3g lb of salt for a ft³ of resin is less than %v: the water leaves hard.", dose, leastDose)
	case dose > mostDose+1e-9:
		add("dose-large", practice, SaltDose, "%.3g lb of salt for a ft³ of resin is more than %v: it gains nothing.", dose, mostDose)
	}
	load := j.load()
	if days := capacityMol(s.Value[Resin], s.Value[SaltDose], j.Temperature.SI) / load; days < tightestDays {
		list = append(list, Fault{
			ID: "capacity-small", Tank: true, Figures: []Figure{Resin, SaltDose},
			What: fmt.Sprintf("The bed lasts for %.2g days of the house.", days), Source: practice,
		})
	}
	drain := s.Value[DrainControl]
	if drain > j.DrainMost.SI+1e-12 {
		add("drain-most", "the job sheet", DrainControl, "The drain takes %.3g gpm, and backwash brings %.3g.", j.DrainMost.SI/unit.GPM, drain/unit.GPM)
	}
	if drain > j.ResidualAt.SI+1e-12 {
		add("supply-most", "the job sheet", DrainControl, "The supply gives %.3g gpm, and backwash takes %.3g.", j.ResidualAt.SI/unit.GPM, drain/unit.GPM)
	}
	return list
}

// load is the true design load of a day, mol.
func (j *Job) load() float64 {
	return float64(float64(float64(j.People)*waterPerPerson) * j.compensated())
}

func (j *Job) compensated() float64 {
	return j.Hardness.SI + float64(ironGPG*unit.GPG*(j.metals()*1e3))
}

// misfits is what package outfit finds.
func (j *Job) misfits(s *Sheet) (list []Fault) {
	for _, m := range outfit.Check(s.tank(), s.parts(), j.site(s)) {
		f := Fault{ID: m.ID, What: m.What + " " + m.Why, Source: m.Source}
		f.Figures, f.Tank, f.Program = blamed(m.Part)
		list = append(list, f)
	}
	return list
}

// blamed returns which figures a misfit of a part speaks against.
func blamed(p plant.Part) (figures []Figure, tank, program bool) {
	switch p {
	case plant.PartDrainCtl:
		return []Figure{DrainControl}, false, false
	case plant.PartInjector:
		return []Figure{Nozzle, Throat}, false, false
	case plant.PartRefillCtl:
		return []Figure{RefillControl}, false, false
	case plant.PartController:
		return nil, false, true
	case plant.PartBrineTank:
		return []Figure{SaltDose}, false, false
	}
	return []Figure{Resin}, true, false
}

// Against returns those of the faults that speak against a figure.
func Against(list []Fault, f Figure) (against []Fault) {
	for _, x := range list {
		if slices.Contains(x.Figures, f) {
			against = append(against, x)
		}
	}
	return against
}
