package viewmodel

import (
	"fmt"
	"math"
	"strings"

	"brinebench/sim"
)

const (
	paPerPSI     = 6894.757293
	gpgPerMolM3  = 100.0869 / 17.1181 // CaCO3: g/mol over mg/L per grain per US gallon
	lpmPerGPM    = 3.785411784
	secondsADay  = 86400
	secondsAHour = 3600
)

// PressureText writes a gauge pressure in Pa.
func PressureText(pa float64, si bool) string {
	if si {
		return fmt.Sprintf("%.1f bar", zero(pa/1e5, 0.05))
	}
	return fmt.Sprintf("%.0f psi", zero(pa/paPerPSI, 0.5))
}

// HardnessText writes Ca+Mg in mol/m³.
func HardnessText(molM3 float64, si bool) string {
	if si {
		return fmt.Sprintf("%.1f mmol/L", zero(molM3, 0.05))
	}
	return fmt.Sprintf("%.0f gpg", zero(molM3*gpgPerMolM3, 0.5))
}

// flowText writes the size printed on a flow control.
func flowText(gpm float64, si bool) string {
	if si {
		return fmt.Sprintf("%.1f L/min", gpm*lpmPerGPM)
	}
	return strings.TrimSuffix(fmt.Sprintf("%.2f", gpm), "0") + " gpm"
}

// zero rounds what would print as -0 to 0.
func zero(x, half float64) float64 {
	if math.Abs(x) < half {
		return 0
	}
	return x
}

// ClockText writes seconds since midnight as hours and minutes.
func ClockText(s float64) string {
	s = math.Mod(math.Max(s, 0), secondsADay)
	return fmt.Sprintf("%02d:%02d", int(s/secondsAHour), int(math.Mod(s, secondsAHour)/60))
}

// SpanText writes a time span as minutes and seconds.
func SpanText(s float64) string {
	n := int(math.Max(s, 0) + 0.5)
	if n >= secondsAHour {
		return fmt.Sprintf("%d h %02d min", n/secondsAHour, n%secondsAHour/60)
	}
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

func stationName(v *sim.View, set *sim.Setup) string {
	i := v.Controller.Station
	if i < 0 || i >= len(set.Stations) {
		return ""
	}
	return set.Stations[i].Name
}

// Text returns what a readout shows now; tall pictures are brief.
func (r *Readout) Text(v *sim.View, set *sim.Setup, si, tall bool) string {
	c := &v.Controller
	switch r.Kind {
	case ReadStation:
		if c.Moving {
			return "→ " + stationName(v, set)
		}
		return stationName(v, set)
	case ReadRemaining:
		return remainingText(c, tall)
	case ReadClock:
		if !c.Powered {
			return "unplugged"
		}
		return "clock " + ClockText(c.ClockS)
	case ReadNext:
		return nextText(c)
	case ReadBypass:
		return map[string]string{"service": "bypass: service", "bypass": "bypassed", "shut": "bypass: shut"}[v.Bypass]
	case ReadGauge:
		return PressureText(v.PressurePa[r.Node], si)
	}
	return ""
}

func remainingText(c *sim.ControllerView, tall bool) string {
	text := ""
	switch {
	case c.Moving:
		text = "motor running"
	case c.RemainingS > 0:
		text = SpanText(c.RemainingS) + " left"
	}
	if !tall {
		return text
	}
	if !c.Powered {
		return "unplugged"
	}
	if text != "" {
		text += " · "
	}
	return text + ClockText(c.ClockS)
}

func nextText(c *sim.ControllerView) string {
	switch {
	case c.Regenerating:
		return "regenerating"
	case c.DaysToRegen == 1:
		return "next in 1 day"
	case c.DaysToRegen > 1:
		return fmt.Sprintf("next in %d days", c.DaysToRegen)
	}
	return ""
}
