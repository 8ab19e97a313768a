package outfit

import (
	"fmt"

	"brinebench/sim/unit"
)

// Figures in a sentence: in US units and, in brackets, in SI.

func flow(gpm float64) string {
	return fmt.Sprintf("%.3g gpm (%.3g L/min)", gpm, gpm*unit.GPM/unit.LitrePerMinute)
}

func mass(lb float64) string { return fmt.Sprintf("%.3g lb (%.3g kg)", lb, lb*unit.Pound) }

func pressure(psi float64) string {
	return fmt.Sprintf("%.0f psi (%.0f kPa)", psi, psi*unit.PSI/1e3)
}

func length(in float64) string { return fmt.Sprintf("%.3g in (%.3g cm)", in, in*unit.Inch*100) }

func warmth(c float64) string { return fmt.Sprintf("%.0f °F (%.0f °C)", float64(1.8*c)+32, c) }

// perResin is a flow for each volume of resin.
func perResin(gpmPerFt3 float64) string {
	return fmt.Sprintf("%.2g gpm/ft³ (%.2g L/min for each L)", gpmPerFt3, gpmPerFt3*unit.GPM/unit.CubicFoot*unit.Minute)
}
