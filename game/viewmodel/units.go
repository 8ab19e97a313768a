package viewmodel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinebench/sim"
)

// Units writes quantities as the page does, so that picture and page agree.
type Units interface {
	Scale(unit sim.Unit) (factor float64, name string) // factor from SI
	Quantity(value float64, unit sim.Unit) string      // value in SI
	Clock(s float64) string                            // s since midnight
	Volume(m3 float64) string
}

// PressureText writes a gauge pressure in Pa, as exactly as a dial is read.
func PressureText(pa float64, units Units) string {
	factor, name := units.Scale(sim.UnitPressure)
	if text := fmt.Sprintf("%.0f", pa*factor); text != "-0" {
		return text + " " + name
	}
	return "0 " + name
}

// hardnessScale returns the feed water's hardness, the hard end of the colour
// scale, as a number and a unit.
func (b *builder) hardnessScale() (end, unit string) {
	end, unit, _ = strings.Cut(b.opt.Units.Quantity(b.set.FeedHardnessMolM3, sim.UnitHardness), " ")
	return strings.TrimSuffix(end, ".0"), unit
}

// printedFlow is the size printed on a flow control.
func printedFlow(gpm float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.2f", gpm), "0") + " gpm"
}

// SpanText writes a time span in s as minutes and seconds, or hours and minutes.
func SpanText(s float64) string {
	n := int(math.Ceil(math.Max(s, 0)))
	if n >= 3600 {
		return fmt.Sprintf("%d h %02d min", n/3600, n/60%60)
	}
	return fmt.Sprintf("%d:%02d min", n/60, n%60)
}

// Text returns what a readout shows now; tall pictures are brief.
func (r *Readout) Text(v *sim.View, set *sim.Setup, units Units, tall bool) string {
	c := &v.Controller
	switch r.Kind {
	case ReadStation:
		return stationText(c, set)
	case ReadRemaining:
		if tall {
			return remainingTall(c, units)
		}
		return remainingText(c, units)
	case ReadClock:
		return clockText(c, units)
	case ReadNext:
		return nextText(c, r.Short)
	case ReadBypass:
		return map[string]string{"service": "not bypassed", "bypass": "bypassed", "shut": "bypass shut"}[v.Bypass]
	case ReadGauge:
		return PressureText(v.PressurePa[r.Node], units)
	}
	return ""
}

// stationText names the station; while Moving, Station is the one ahead.
func stationText(c *sim.ControllerView, set *sim.Setup) string {
	switch {
	case c.Alarm && c.Powered:
		return "Alarm"
	case c.Station < 0 || c.Station >= len(set.Stations):
		return ""
	case c.Moving && !c.Powered:
		return "Between positions"
	case c.Moving:
		return "→ " + set.Stations[c.Station].Name
	}
	return set.Stations[c.Station].Name
}

// remainingText tells what the motor and the timer do; both stand unplugged. In
// service a demand controller tells for how much water the bed is good.
func remainingText(c *sim.ControllerView, units Units) string {
	switch {
	case c.Alarm && c.Powered:
		return "position lost"
	case c.Moving && c.Powered:
		return "motor running"
	case c.Moving:
		return "motor stands"
	case c.RemainingS > 0 && c.Powered:
		return SpanText(c.RemainingS) + " left"
	case c.RemainingS > 0:
		return "timer stands"
	case c.Demand && c.Powered && !c.Regenerating:
		return units.Volume(c.RemainingM3) + " left"
	}
	return ""
}

// clockText is the time by the controller; one that has lost it says so.
func clockText(c *sim.ControllerView, units Units) string {
	switch {
	case !c.Powered:
		return "unplugged"
	case c.ClockUnset:
		return "unset " + units.Clock(c.ClockS)
	}
	return "clock " + units.Clock(c.ClockS)
}

func remainingTall(c *sim.ControllerView, units Units) string {
	if !c.Powered {
		return "unplugged"
	}
	clock := units.Clock(c.ClockS)
	if c.ClockUnset {
		clock = clockText(c, units)
	}
	if text := remainingText(c, units); text != "" {
		return text + " · " + clock
	}
	return clock
}

// nextText tells what the clock will do; an unplugged one does nothing.
func nextText(c *sim.ControllerView, short bool) string {
	verb := "regenerates"
	if short {
		verb = "next"
	}
	switch {
	case !c.Powered, c.Alarm:
		return ""
	case c.Regenerating:
		return "regenerating"
	case c.DaysToRegen == 1:
		return verb + " in 1 day"
	case c.DaysToRegen > 1:
		return fmt.Sprintf("%s in %d days", verb, c.DaysToRegen)
	}
	return ""
}

// isOpen tells whether a part is dismantled.
func isOpen(v *sim.View, p sim.Part) bool { return v != nil && slices.Contains(v.Opened, p) }
