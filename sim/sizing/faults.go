package sizing

import (
	"fmt"
	"math"
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
	mostDose     = 15 // lb/ft³: more gains little for the salt
	betweenIn    = 4  // free between tank and brine tank and at their sides, in all
	valveHighIn  = 9  // valve and its pipes above the tank
	tightestDays = 1  // between regenerations, beside the reserve
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
	if flow := j.busyM3S(); flow > float64(set.ServiceGPM*unit.GPM)+1e-12 {
		add("service-flow", practice, "The house draws %s together, and the tank is for %s.", Flow.both(flow), Flow.both(float64(set.ServiceGPM*unit.GPM)))
	}
	if loss := j.UnitLossPa(s, j.busyM3S()); loss > mostLossPSI*unit.PSI {
		add("pressure-loss", nsf, "The unit takes %s at the service flow, more than %s.", Pressure.both(loss), Pressure.both(mostLossPSI*unit.PSI))
	}
	if wide := float64((set.TankDiameterIn + set.BrineTankIn + betweenIn) * unit.Inch); wide > j.FloorWidth.SI+1e-9 {
		add("floor-width", practice, "Tank and brine tank need a floor %s wide, and there are %s.", Length.both(wide), Length.both(j.FloorWidth.SI))
	}
	if high := float64((set.TankHeightIn + valveHighIn) * unit.Inch); high > j.Height.SI+1e-9 {
		add("height", practice, "The tank with its valve is %s high, and there are %s.", Length.both(high), Length.both(j.Height.SI))
	}
	return list
}

// useFaults is what speaks against dose, intervals and the flow to the drain.
func (j *Job) useFaults(s *Sheet) (list []Fault) {
	add := func(id, source string, f Figure, format string, args ...any) {
		list = append(list, Fault{ID: id, Figures: []Figure{f}, What: fmt.Sprintf(format, args...), Source: source})
	}
	perM3 := s.Value[SaltDose] / s.Value[Resin]
	dose := perM3 / (unit.Pound / unit.CubicFoot)
	switch {
	case dose < leastDose-1e-9:
		add("dose-small", practice, SaltDose, "%s of salt is less than %s: the water leaves hard.", Dose.both(perM3), Dose.both(leastDose*unit.Pound/unit.CubicFoot))
	case dose > mostDose+1e-9:
		add("dose-large", practice, SaltDose, "%s of salt is more than %s: it gains little for the salt.", Dose.both(perM3), Dose.both(mostDose*unit.Pound/unit.CubicFoot))
	}
	list = append(list, j.capacityFaults(s)...)
	drain := s.Value[DrainControl]
	if drain > j.DrainMost.SI+1e-12 {
		add("drain-most", "the job sheet", DrainControl, "The drain takes %s, and backwash brings %s.", Flow.both(j.DrainMost.SI), Flow.both(drain))
	}
	if drain > j.ResidualAt.SI+1e-12 {
		add("supply-most", "the job sheet", DrainControl, "The supply gives %s, and backwash takes %s.", Flow.both(j.ResidualAt.SI), Flow.both(drain))
	}
	return list
}

// capacityFaults is what speaks against a bed that does not last for a day of the house.
func (j *Job) capacityFaults(s *Sheet) []Fault {
	lasts := func(resinM3, saltKg float64) float64 {
		return daysBeside(j.load(), capacityMol(resinM3, saltKg, j.Temperature.SI))
	}
	days := lasts(s.Value[Resin], s.Value[SaltDose])
	if days >= tightestDays-hair {
		return nil
	}
	f := Fault{
		ID: "capacity-small", Tank: true, Figures: []Figure{Resin, SaltDose}, Source: practice,
		What: "Beside the reserve the bed lasts for " + rounded(math.Max(0, days), 2) + " days of the house, less than one: it takes a larger unit, or two side by side.",
	}
	all := outfit.All()
	ft3 := all[len(all)-1].ResinFt3
	if most := lasts(float64(ft3*unit.CubicFoot), float64(mostDose*ft3)*unit.Pound); most < tightestDays-hair {
		f.What = "No unit of the bench is large enough: beside the reserve the largest, at its greatest dose, lasts for " + rounded(math.Max(0, most), 2) + " days of the house, less than one. It takes two units side by side, or a larger one."
	}
	return []Fault{f}
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
