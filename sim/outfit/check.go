package outfit

import (
	"fmt"
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Misfit is one thing that does not fit.
type Misfit struct {
	ID     string     // such as "drain-control-small"; the same for the same kind of misfit
	Part   plant.Part // the part to change
	What   string     // what is wrong, with figures
	Why    string     // what comes of it
	Source string     // of the limit
}

// Limits of what fits.
const (
	leastFreeboard   = 0.4
	leastBedIn       = 24
	leastExpansion   = 0.3
	mostExpansion    = 0.75
	leastRinsePerFt3 = 0.2 // gpm/ft³
	mostRinsePerFt3  = 0.5
	leastBrine       = 0.08 // mass fraction of salt behind the injector
	mostBrine        = 0.14
	mostLift         = 0.1 // of the bed's depth in upflow brining
	shortestRefillS  = 120
	mostSupplyPSI    = 150
)

const (
	practice = "common practice, no source"
	computed = "computed by Richardson & Zaki (1954); limits are common practice, no source"
	modelled = "computed by the bench's own network; limits are common practice, no source"
)

// Check returns what does not fit of parts on a tank at a site, nil when all does.
// All sizes and the site's figures are above 0, the program is one of package valve.
func Check(t Tank, p Parts, site Site) []Misfit {
	program, ok := valve.ProgramNamed(p.ProgramID)
	if !ok {
		panic("outfit: no program is named " + p.ProgramID)
	}
	list := checkBed(&t)
	list = append(list, checkDrainControl(&t, &p, site)...)
	list = append(list, checkInjector(&t, &p, site, &program)...)
	list = append(list, checkRefill(&t, &p, site, &program)...)
	if level := BrineLevelIn(&p, site.SaltLb); level > p.FloatIn {
		list = append(list, Misfit{
			"brine-tank-small", plant.PartBrineTank,
			fmt.Sprintf("The brine of %s of salt would stand at %s, and the float shuts at %s.", mass(site.SaltLb), length(level), length(p.FloatIn)),
			"The float shuts before the dose is in, so that every regeneration gets too little salt.", practice,
		})
	}
	return list
}

func checkBed(t *Tank) (list []Misfit) {
	if free := t.Freeboard(); free < leastFreeboard {
		list = append(list, Misfit{
			"resin-much", plant.PartBed,
			fmt.Sprintf("The bed leaves %.0f %% of its depth free above it, less than %.0f.", percent(free), percent(leastFreeboard)),
			"Backwash has no room to lift the bed and carries resin to the drain.", practice,
		})
	}
	if in := t.BedDepthM() / unit.Inch; in < leastBedIn {
		list = append(list, Misfit{
			"resin-little", plant.PartBed,
			fmt.Sprintf("The bed is %s deep, less than %s.", length(in), length(leastBedIn)),
			"In so shallow a bed the water leaves before it is soft.", practice,
		})
	}
	return list
}

func checkDrainControl(t *Tank, p *Parts, site Site) []Misfit {
	up := Expansion(t, p.DrainControlGPM, site.WaterC, 0)
	is := fmt.Sprintf("%s lifts the bed by %.0f %% in water of %s", flow(p.DrainControlGPM), percent(up), warmth(site.WaterC))
	switch {
	case up > t.Freeboard():
		return []Misfit{{
			"drain-control-carries", plant.PartDrainCtl, is + fmt.Sprintf(", and there is room for %.0f.", percent(t.Freeboard())),
			"The bed rises to the top of the tank, and resin goes to the drain.", computed,
		}}
	case up > mostExpansion:
		return []Misfit{{
			"drain-control-large", plant.PartDrainCtl, is + fmt.Sprintf(", more than %.0f.", percent(mostExpansion)),
			"Small beads are carried away, and water is wasted.", computed,
		}}
	case up < leastExpansion:
		return []Misfit{{
			"drain-control-small", plant.PartDrainCtl, is + fmt.Sprintf(", less than %.0f.", percent(leastExpansion)),
			"A bed that hardly lifts keeps its dirt, its broken beads and its channels.", computed,
		}}
	}
	return nil
}

func checkInjector(t *Tank, p *Parts, site Site, program *valve.Program) []Misfit {
	d := Drawn(t, p, site)
	if !(p.ThroatMM > p.NozzleMM) || !d.Solved || !(d.BrineGPM > 0) {
		return []Misfit{{
			"injector-no-draw", plant.PartInjector,
			fmt.Sprintf("Nozzle %.3g mm and throat %.3g mm draw nothing at %s behind a drain control of %s.", p.NozzleMM, p.ThroatMM, pressure(site.SupplyPSI), flow(p.DrainControlGPM)),
			"No brine gets to the bed.", modelled,
		}}
	}
	list := checkRinse(t, p, d, program.InjectorDischargesBelow)
	if program.InjectorDischargesBelow {
		list = append(list, checkLift(t, p, d, site)...)
	}
	brineS := 0.0
	for _, st := range program.Stops {
		if st.ID == "brine" {
			brineS += st.Seconds
		}
	}
	if need := BrineStopS(t, d, site.SaltLb); need > brineS {
		list = append(list, Misfit{
			"program-short", plant.PartController,
			fmt.Sprintf("%s of salt need %.0f min of brine draw and slow rinse at %s, and the program gives %.0f.", mass(site.SaltLb), math.Ceil(need/60), pressure(site.SupplyPSI), brineS/60),
			"The brine is not drawn to its end, or not rinsed out of the bed before the house is let on to it.", modelled,
		})
	}
	return list
}

func checkRinse(t *Tank, p *Parts, d Draw, upflow bool) (list []Misfit) {
	rinse := d.RinseGPM / t.ResinFt3
	is := fmt.Sprintf("Nozzle %.3g mm and throat %.3g mm rinse with %s", p.NozzleMM, p.ThroatMM, perResin(rinse))
	switch {
	case rinse > mostRinsePerFt3:
		list = append(list, Misfit{
			"injector-large", plant.PartInjector, is + fmt.Sprintf(", more than %s.", perResin(mostRinsePerFt3)),
			"The brine hurries through the bed before the beads have taken their share.", modelled,
		})
	case rinse < leastRinsePerFt3 && !upflow: // upflow is slow on purpose: only the time limits it
		list = append(list, Misfit{
			"injector-small", plant.PartInjector, is + fmt.Sprintf(", less than %s.", perResin(leastRinsePerFt3)),
			"Brine and rinse creep, seek the easiest way through the bed and do not come to their end in time.", modelled,
		})
	}
	is = fmt.Sprintf("Nozzle %.3g mm and throat %.3g mm send %.1f %% of salt to the bed", p.NozzleMM, p.ThroatMM, percent(d.Fraction))
	switch {
	case d.Fraction > mostBrine:
		list = append(list, Misfit{
			"brine-strong", plant.PartInjector, is + fmt.Sprintf(", more than %.0f.", percent(mostBrine)),
			"Strong brine passes too soon to be used up.", modelled,
		})
	case d.Fraction < leastBrine:
		list = append(list, Misfit{
			"brine-weak", plant.PartInjector, is + fmt.Sprintf(", less than %.0f.", percent(leastBrine)),
			"Weak brine drives less hardness off the beads for the same salt.", modelled,
		})
	}
	return list
}

func checkLift(t *Tank, p *Parts, d Draw, site Site) []Misfit {
	lift := Expansion(t, d.TotalGPM, site.WaterC, d.Fraction)
	if lift <= mostLift {
		return nil
	}
	return []Misfit{{
		"injector-lifts-bed", plant.PartInjector,
		fmt.Sprintf("Nozzle %.3g mm and throat %.3g mm send %s of brine up through the bed and lift it by %.0f %%, more than %.0f.",
			p.NozzleMM, p.ThroatMM, flow(d.TotalGPM), percent(lift), percent(mostLift)),
		"A lifted bed mixes, and its bottom is no cleaner than the rest.", computed,
	}}
}

func checkRefill(t *Tank, p *Parts, site Site, program *valve.Program) (list []Misfit) {
	flowS := RefillFlowS(p, site.SaltLb)
	is := fmt.Sprintf("%s takes %.1f min for the water of %s of salt", flow(p.RefillControlGPM), flowS/60, mass(site.SaltLb))
	switch most := program.LongestRefillS(); {
	case flowS > most:
		list = append(list, Misfit{
			"refill-control-small", plant.PartRefillCtl, is + fmt.Sprintf(", and the program gives %.1f.", most/60),
			"The dose comes out short at every regeneration.", practice,
		})
	case flowS < shortestRefillS:
		list = append(list, Misfit{
			"refill-control-large", plant.PartRefillCtl, is + ".",
			"So short a time is mostly travel of the drum: the dose comes out by chance.", practice,
		})
	}
	if need := RefillNeedsPSI(t, p, site.WaterC); need > site.SupplyPSI {
		is := fmt.Sprintf("%s comes back past a nozzle of %.3g mm in a throat of %.3g mm", flow(p.RefillControlGPM), p.NozzleMM, p.ThroatMM)
		what := is + fmt.Sprintf(" from %s on only, and there are %s.", pressure(need), pressure(site.SupplyPSI))
		if need > mostSupplyPSI {
			what = is + " at no pressure that a supply has."
		}
		list = append(list, Misfit{
			"refill-control-unmetered", plant.PartRefillCtl, what,
			"The throat and the pressure of the day set the refill, not the control, and the dose comes out short.", modelled,
		})
	}
	return list
}

func percent(part float64) float64 { return float64(100 * part) }
