package sizing

import (
	"strings"

	"brinebench/sim/household"
	"brinebench/sim/outfit"
	"brinebench/sim/unit"
)

// Table is what a job is worked out with by hand, as text.
type Table struct {
	ID, Title string
	Head      []string
	Rows      [][]string
	Source    string
}

// Tables returns the tables for a job sheet, in a system of units.
func Tables(j *Job, sys System) []Table {
	return []Table{ruleTable(sys), reckoningTable(sys), hardnessTable(sys), unitTable(sys), j.demandTable(sys), saltTable(j, sys), tankTable(sys), j.lossTable(sys), j.injectorTable(sys)}
}

func unitTable(sys System) Table {
	t := Table{ID: "units", Title: "Supply fixture units and flows", Head: []string{"fixture", "units", "flow, " + Flow.symbol(sys)}, Source: byFixture}
	t.Rows = append(t.Rows, []string{"Bathroom group, flush tank: toilet, basin and a bath or shower", number(groupUnits), "each its own"})
	for _, f := range household.Standard(1, 1).Fixtures {
		t.Rows = append(t.Rows, []string{f.Name, number(f.Units), Flow.Number(f.FlowM3S, sys)})
	}
	return t
}

func saltTable(j *Job, sys System) Table {
	t := Table{ID: "salt", Title: "Capacity by dose, times k = " + number(Cold(j.Temperature.SI)) + " for the temperature of this water", Head: []string{"salt, " + Dose.symbol(sys)}, Rows: [][]string{{"capacity, " + Strength.symbol(sys)}, {[]string{"for the salt, grain/lb", "for the salt, eq/kg"}[sys]}}, Source: inUnits(salt6, sys)}
	for _, s := range salt[1:] {
		dose, strength := float64(s.lb*(unit.Pound/unit.CubicFoot)), float64(s.value*unit.KilograinPerFt3)
		t.Head = append(t.Head, Dose.Number(dose, sys))
		t.Rows[0] = append(t.Rows[0], Strength.Number(strength, sys))
		t.Rows[1] = append(t.Rows[1], rounded(1000*Strength.units(sys)[0].In(strength)/Dose.units(sys)[0].In(dose), 3))
	}
	return t
}

func tankTable(sys System) Table {
	t := Table{
		ID: "tanks", Title: "Tanks with what comes with them",
		Head: []string{"tank", "resin", "height", "brine tank", "service flow", "drain control", "nozzle, throat", "refill control", "program"}, Source: practice,
	}
	for _, s := range outfit.All() {
		t.Rows = append(t.Rows, []string{
			tankName(&s, sys), Bed.Text(float64(s.ResinFt3*unit.CubicFoot), sys), Length.Text(float64(s.TankHeightIn*unit.Inch), sys), Length.Text(float64(s.BrineTankIn*unit.Inch), sys),
			Flow.Text(float64(s.ServiceGPM*unit.GPM), sys), Flow.Text(float64(s.DrainControlGPM*unit.GPM), sys),
			number(s.NozzleMM) + ", " + number(s.ThroatMM) + " mm", Flow.Text(float64(s.RefillControlGPM*unit.GPM), sys), strings.ReplaceAll(s.ProgramID, "-", " "),
		})
	}
	return t
}

// lossTable gives what each tank takes in this water.
func (j *Job) lossTable(sys System) Table {
	t := Table{ID: "loss", Title: "Pressure loss, " + Pressure.symbol(sys), Head: []string{"tank"}, Source: network}
	flows := []float64{4, 6, 8, 10, 12, 14, 16, 18, 20}
	for _, gpm := range flows {
		t.Head = append(t.Head, Flow.Text(float64(gpm*unit.GPM), sys))
	}
	for _, set := range outfit.All() {
		s := NewSheet(set.ID, set.ProgramID, nil, nil)
		row := []string{tankName(&set, sys)}
		for _, gpm := range flows {
			row = append(row, Pressure.Number(j.UnitLossPa(&s, float64(gpm*unit.GPM)), sys))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// injectorTable gives what each tank's own injector does on this supply.
func (j *Job) injectorTable(sys System) Table {
	t := Table{
		ID: "injectors", Title: "Injectors on their tanks in this house, expansion by the drain control",
		Head: []string{"tank", "brine drawn", "flow to the bed", "slow rinse", "salt, %", "expansion, %"}, Source: inUnits(jet, sys) + "; " + inUnits(byRZ, sys),
	}
	for _, set := range outfit.All() {
		site := outfit.Site{WaterC: j.Temperature.SI, SupplyPSI: j.SupplyPa(float64(set.DrainControlGPM*unit.GPM)) / unit.PSI, SaltLb: set.SaltLb[0]}
		if !(site.SupplyPSI > 0) {
			t.Rows = append(t.Rows, []string{tankName(&set, sys), "-", "-", "-", "-", "-"})
			continue
		}
		d := outfit.Drawn(&set.Tank, &set.Parts, site)
		t.Rows = append(t.Rows, []string{
			tankName(&set, sys), Flow.Text(float64(d.BrineGPM*unit.GPM), sys), Flow.Text(float64(d.TotalGPM*unit.GPM), sys), Flow.Text(float64(d.RinseGPM*unit.GPM), sys),
			Percent.Number(100*d.Fraction, sys), Percent.Number(100*outfit.Expansion(&set.Tank, set.DrainControlGPM, j.Temperature.SI, 0), sys),
		})
	}
	return t
}
